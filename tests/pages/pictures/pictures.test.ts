/**
 * The pages look as they were last looked at: each kept report is made, its pages are drawn, and compared with the kept
 * picture by a perceptual distance. Where one differs on purpose: `npm run pictures`, look at it, commit it.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { PNG } from 'pngjs';
import { describe, expect, test } from 'vitest';
import { keptReports } from './jobs.js';
import { compared, digestOf, digests, MOST_DOTS, pathOf, sheetOf } from './sheet.js';

const kept = (id: string): PNG => PNG.sync.read(readFileSync(pathOf(id)));

describe('the comparison', () => {
  test('a digit more in one cell is a difference, and one dot is none', () => {
    const before = kept('TH-0412');
    const [dot, digit] = [kept('TH-0412'), kept('TH-0412')];
    const blacken = (picture: PNG, wide: number, high: number) => {
      for (let y = 200; y < 200 + high; y++)
        for (let x = 60; x < 60 + wide; x++) {
          const at = 4 * (y * picture.width + x);
          const ink = picture.data[at]! > 128 ? 0 : 255;
          picture.data.fill(ink, at, at + 3);
        }
    };
    blacken(dot, 1, 1);
    blacken(digit, 3, 5);
    expect(compared(before, dot)!.dots).toBeLessThanOrEqual(MOST_DOTS);
    expect(compared(before, digit)!.dots).toBeGreaterThan(MOST_DOTS);
  });
  test('a line in the next row of dots is none', () => {
    const [before, now] = [kept('TH-0412'), kept('TH-0412')];
    const row = 4 * before.width;
    for (let at = 200 * row; at < 201 * row; at += 4) {
      before.data.fill(145, at, at + 3).fill(255, at + row, at + row + 3);
      now.data.fill(255, at, at + 3).fill(145, at + row, at + row + 3);
    }
    expect(compared(before, now)!.dots).toBe(0);
  });
  test('another number of pages is a difference', () => {
    const before = kept('TH-0412');
    expect(compared(before, new PNG({ width: before.width - 1, height: before.height }))).toBeNull();
  });
});

/** Of each page the greatest part of its height without ink; margins do not count. */
function emptyParts({ width, height, data }: PNG): number[] {
  // A4 or Letter, in points.
  const wide = height > 0.6 * 800 ? 595 / 842 : 612 / 792;
  const pages = Math.round(width / height / wide);
  return Array.from({ length: pages }, (_, page) => {
    const [from, to] = [page, page + 1].map((n) => Math.round((n * width) / pages)) as [number, number];
    let [empty, most] = [0, 0];
    for (let y = Math.round(0.06 * height); y < 0.94 * height; y++) {
      let hasInk = false;
      for (let x = from; x < to; x++) hasInk ||= data[4 * (y * width + x)]! < 230;
      empty = hasInk ? 0 : empty + 1;
      most = Math.max(most, empty);
    }
    return most / height;
  });
}

test.each(keptReports)('$id: no page but the last is a third empty', ({ id }) => {
  const parts = emptyParts(kept(id));
  expect(Math.max(...parts.slice(0, -1))).toBeLessThan(1 / 3);
});

test.each(keptReports)('$id: its pages look as they are kept', async ({ id, make }) => {
  const pdf = await make();
  if (digestOf(pdf) === digests()[id]) return;
  const difference = compared(kept(id), await sheetOf(pdf));
  expect(difference, 'another number of pages, or another size of paper').not.toBeNull();
  const path = join(tmpdir(), `waysheet-${id}-differs.png`);
  if (difference!.dots > MOST_DOTS) writeFileSync(path, PNG.sync.write(difference!.where));
  expect(difference!.dots, `it looks otherwise: ${path}`).toBeLessThanOrEqual(MOST_DOTS);
});
