/**
 * What must be read from some steps away, as tall as it is drawn: letters of 1/300 of the distance or more can be read (common
 * practice, no source). A screen of 1280 px is 340 mm wide or more, a phone of 390 px 65 mm (common sizes, no source).
 */
import { afterAll, beforeAll, expect, test } from 'vitest';
import { launchBrowser, type RunningBrowser } from '../../../src/pages/report/browser/launch-browser.js';
import { followPage } from '../../../src/pages/report/follow-page.js';
import type { Adjusting } from '../../../src/results/adjusting.js';
import { leaveOf } from '../../../src/results/leave.js';
import { job, rail } from '../../support/jobs.js';

let running: RunningBrowser;
beforeAll(async () => {
  running = await launchBrowser();
});
afterAll(() => running?.close());

/** A move that has so much left, µm. */
const adjusting = (left: number): Adjusting => ({
  steps: [
    {
      ...{ adjuster: 'J2', rail: 'A', station: 2, axis: 'vertical', asked: left, did: null, left },
      ...{ band: 5, isDone: false, isTurned: false },
    },
  ],
  current: 0,
  response: null,
});

const pageOf = (left: number, language: 'en' | 'de' = 'en'): string =>
  followPage({
    ...{ job: 'GM-1', saved: '10:00:00', results: null, charts: [], diagnostics: [] },
    leave: leaveOf({ soFar: null, read: null, readings: null, diagnostics: [] }),
    style: job({ language, rails: [rail('A', 0, [0, 1000, 2000], { datum: true })] }),
    adjusting: adjusting(left),
  });

/** Height of the capitals of the font, as a share of its size. */
const CAPITALS = 0.727;

test.each([
  [1280, 800, 340, 3000],
  [390, 844, 65, 700],
] as const)('%i × %i px: what counts is legible, and no number is wider than the page', async (...screen) => {
  const [width, height, wideMm, awayMm] = screen;
  const page = await running.browser.newPage();
  await page.setViewport({ width, height });
  for (const left of [-0.4, 20.4, 1234.5, 98765.4]) {
    await page.setContent(pageOf(left));
    const sizes =
      (await page.evaluate(`['.leave .big', '.adjusting .step', '.adjusting .way', '.adjusting .number']
      .map((one) => parseFloat(getComputedStyle(document.querySelector(one)).fontSize))`)) as number[];
    const mm = sizes.map((px) => (px * CAPITALS * wideMm) / width);
    for (const tall of mm) expect(tall).toBeGreaterThan(awayMm / 300);
    // The number is as large as the page allows: most of its width or of its height is used.
    const [used, tall, scroll] = (await page.evaluate(`(() => {
      const number = document.querySelector('.adjusting .number');
      const range = document.createRange();
      range.selectNodeContents(number);
      const box = range.getBoundingClientRect();
      return [box.width / document.querySelector('main').clientWidth, box.height / innerHeight, document.documentElement.scrollWidth];
    })()`)) as [number, number, number];
    expect(scroll).toBeLessThanOrEqual(width);
    expect(Math.max(used, tall / 0.6)).toBeGreaterThan(0.6);
  }
  await page.close();
});

test.each([1280, 390])('at %i px a decimal comma does not reach the line below', async (width) => {
  const page = await running.browser.newPage();
  await page.setViewport({ width, height: 800 });
  await page.setContent(pageOf(56.1, 'de'));
  const [text, room] = (await page.evaluate(`(() => {
    const number = document.querySelector('.adjusting .number');
    const way = document.querySelector('.adjusting .way').getBoundingClientRect();
    const text = number.textContent;
    const drawing = document.createElement('canvas').getContext('2d');
    const { fontWeight, fontSize, fontFamily } = getComputedStyle(number);
    drawing.font = [fontWeight, fontSize, fontFamily].join(' ');
    const below = drawing.measureText(',').actualBoundingBoxDescent;
    const mark = document.createElement('span');
    mark.style.display = 'inline-block';
    number.append(mark);
    return [text, way.top - mark.getBoundingClientRect().bottom - below];
  })()`)) as [string, number];
  expect(text).toContain('56,1');
  expect(room).toBeGreaterThan(0);
  await page.close();
});
