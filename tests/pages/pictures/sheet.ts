/** All pages of a report next to each other in one picture in greys, small enough to be kept and large enough to be looked at. */
import { createHash } from 'node:crypto';
import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import pixelmatch from 'pixelmatch';
import { PNG } from 'pngjs';
import { drawPages } from '../../../src/pages/report/browser/draw-pages.js';

/** Dots of a picture per point of the page. */
const SCALE = 0.6;

/** What counts as a difference: distance of two colours (0 to 1), side of the square looked at, dots that differ within it. */
const DIFFERENCE = { threshold: 0.1, windowSize: 16 };
export const MOST_DOTS = 8;

const kept = fileURLToPath(new URL('./kept/', import.meta.url));
export const pathOf = (id: string): string => `${kept}${id}.png`;
export const digestsPath = `${kept}digests.json`;

/** SHA-256 of the PDF that each picture was drawn from: the same bytes need not be drawn again. */
export const digests = (): Record<string, string> =>
  existsSync(digestsPath) ? (JSON.parse(readFileSync(digestsPath, 'utf8')) as Record<string, string>) : {};

export const digestOf = (pdf: Uint8Array): string => createHash('sha256').update(pdf).digest('hex');

export async function sheetOf(pdf: Uint8Array): Promise<PNG> {
  const pages = (await drawPages(pdf, SCALE)).map((url) =>
    PNG.sync.read(Buffer.from(url.slice(url.indexOf(',') + 1), 'base64')),
  );
  const sheet = new PNG({
    width: pages.reduce((sum, { width }) => sum + width, 0),
    height: Math.max(...pages.map(({ height }) => height)),
  });
  let left = 0;
  for (const page of pages) {
    PNG.bitblt(page, sheet, 0, 0, page.width, page.height, left, 0);
    left += page.width;
  }
  return inGreys(sheet);
}

/** Levels of grey that are kept: enough to tell the colours of the charts apart, and a sheet takes a tenth of its size. */
const LEVELS = 8;

function inGreys(sheet: PNG): PNG {
  const { data } = sheet;
  for (let k = 0; k < data.length; k += 4) {
    const share = (data[k]! + data[k + 1]! + data[k + 2]!) / (3 * 255);
    data.fill(Math.round((Math.round(share * (LEVELS - 1)) * 255) / (LEVELS - 1)), k, k + 3);
  }
  return sheet;
}

export const written = (sheet: PNG): Buffer =>
  PNG.sync.write(sheet, { colorType: 0, inputHasAlpha: true, deflateLevel: 9, filterType: 0 });

/** The most dots that differ within one square, and where they differ; null: the sheets have other sizes. */
export function compared(before: PNG, now: PNG): { readonly dots: number; readonly where: PNG } | null {
  const { width, height } = before;
  if (width !== now.width || height !== now.height) return null;
  const where = new PNG({ width, height });
  const same = withRowsOf(before, now);
  pixelmatch(before.data, same, where.data, width, height, { threshold: DIFFERENCE.threshold });
  return { dots: pixelmatch(before.data, same, null, width, height, DIFFERENCE), where };
}

/**
 * The browser draws the same page, by the same commands, now and then with a line of text or a hairline one row of dots
 * higher or lower. A dot that each picture has in the row above or below of the other is no difference.
 */
function withRowsOf({ width, height, data: before }: PNG, { data: now }: PNG): Buffer {
  const same = Buffer.from(now);
  const row = 4 * width;
  const isNextRow = (one: Buffer, other: Buffer, at: number): boolean =>
    one[at] === other[at - row] || one[at] === other[at + row];
  for (let at = row; at < row * (height - 1); at += 4)
    if (before[at] !== now[at] && isNextRow(now, before, at) && isNextRow(before, now, at))
      before.copy(same, at, at, at + 4);
  return same;
}
