/** Whether the words of a page fit: on its paper, in its cells, on a phone, in its pictures. Page 1 is fitted by printing (shapes.ts). */
import { writeFile } from 'node:fs/promises';
import { pathToFileURL } from 'node:url';
import type { RunningBrowser } from '../../../src/pages/report/browser/launch-browser.js';

export type Paper = 'A4' | 'Letter';

/** px, at 96 to the inch: the paper less its margins. */
const WIDTH: Readonly<Record<Paper, number>> = {
  A4: Math.round((178 / 25.4) * 96),
  Letter: Math.round(((215.9 - 32) / 25.4) * 96),
};

/** Wider than its place, where the next one has words; or hidden in part, by a pixel or more. */
const TOO_LARGE = `[...document.querySelectorAll('table, th, td, .scroll, dd, h1, h2, h3, .caption, .page-one, .letterhead')]
  .filter((e) => e.getClientRects().length > 0 && e.clientWidth > 0 && e.nextElementSibling?.textContent.trim() !== ''
    && (getComputedStyle(e).overflowY === 'hidden'
      ? e.scrollHeight > e.clientHeight + 1
      : e.className !== 'page-one' && e.scrollWidth > e.clientWidth + 1))
  .map((e) => e.tagName + ' ' + e.className + ' ' + e.scrollWidth + '>' + e.clientWidth + ': ' + e.textContent.trim().replace(/\\s+/g, ' ').slice(0, 60))`;

export interface Fit {
  readonly tooLarge: readonly string[];
  /** px on a phone of 390. */
  readonly onPhone: number;
}

export async function fitOf(
  { browser }: RunningBrowser,
  path: string,
  html: string,
  paper: Paper,
): Promise<Fit> {
  await writeFile(path, html);
  const page = await browser.newPage();
  await page.goto(pathToFileURL(path).href);
  await page.emulateMediaType('print');
  await page.setViewport({ width: WIDTH[paper], height: 900 });
  const tooLarge = (await page.evaluate(TOO_LARGE)) as string[];
  await page.emulateMediaType('screen');
  await page.setViewport({ width: 390, height: 900 });
  const onPhone = (await page.evaluate('document.documentElement.scrollWidth')) as number;
  await page.close();
  return { tooLarge, onPhone };
}

/** Texts of pictures that reach out of them, by more than a pixel. */
export async function cutTexts({ browser }: RunningBrowser, svgs: readonly string[]): Promise<string[]> {
  const page = await browser.newPage();
  await page.setContent(svgs.map((svg) => `<div>${svg}</div>`).join(''));
  const cut = (await page.evaluate(`[...document.querySelectorAll('svg')].flatMap((svg) => {
    const all = svg.getBoundingClientRect();
    return [...svg.querySelectorAll('text')].filter((text) => {
      const { left, right, top, bottom, width } = text.getBoundingClientRect();
      return width > 0 && (left < all.left - 1 || right > all.right + 1 || top < all.top - 1 || bottom > all.bottom + 1);
    }).map((text) => text.textContent);
  })`)) as string[];
  await page.close();
  return cut;
}
