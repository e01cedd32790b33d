/** Longer words of other languages: no table is wider than the paper, no cell narrower than its words. */
import { readdirSync, readFileSync } from 'node:fs';
import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { gunzipSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { fontFaceCss } from '../../../src/pages/fonts/fonts.js';
import { launchBrowser, type RunningBrowser } from '../../../src/pages/report/browser/launch-browser.js';
import { renderPage } from '../../../src/pages/report/html.js';
import { wordsOf, wordsOfAll } from '../../../src/pages/words/languages.js';
import type { Results } from '../../../src/results/results-schema.js';
import { languages } from '../../../src/survey/job/languages.js';
import { pseudo } from './messages.js';
import { temporary } from '../../support/folders.js';

const PINNED = new URL('../../pinned/', import.meta.url);
const file = readdirSync(PINNED).find((name) => name.endsWith('.json.gz'))!;
const jobs = JSON.parse(gunzipSync(readFileSync(new URL(file, PINNED))).toString('utf8')) as {
  readonly id: string;
  readonly results: Results;
}[];

let running: RunningBrowser;
let place: string;
beforeAll(async () => {
  place = await temporary();
  running = await launchBrowser();
});
afterAll(() => running?.close());

/** A4 less its margins, at 96 px to the inch. */
const PAPER = Math.round((178 / 25.4) * 96);

describe.each([...languages, 'two fifths longer', 'two languages'] as const)('%s', (language) => {
  test.each(['TH-2031', 'TH-3318', 'TH-1175', 'TH-4520'])(
    '%s: what is on paper and on a phone fits',
    async (id) => {
      const { results } = jobs.find((job) => job.id === id)!;
      const { html } = renderPage(
        results,
        [],
        fontFaceCss(),
        language === 'two fifths longer'
          ? pseudo
          : language === 'two languages'
            ? wordsOfAll(['de', 'fr'])
            : wordsOf(language),
      );
      const path = join(place, `${id}-${language}.html`);
      await writeFile(path, html);
      const page = await running.browser.newPage();
      await page.goto(pathToFileURL(path).href);
      await page.emulateMediaType('print');
      await page.setViewport({ width: PAPER, height: 900 });
      const tooWide =
        await page.evaluate(`[...document.querySelectorAll('table, th, td, .scroll, dd, h1, h2, h3')]
      .filter((e) => e.getClientRects().length > 0 && e.scrollWidth > e.clientWidth + 1 && e.clientWidth > 0)
      .map((e) => e.tagName + ' ' + e.className + ' ' + e.scrollWidth + '>' + e.clientWidth + ': ' + e.textContent.trim().slice(0, 60))`);
      expect(tooWide).toEqual([]);
      await page.emulateMediaType('screen');
      await page.setViewport({ width: 390, height: 900 });
      expect(await page.evaluate('document.documentElement.scrollWidth')).toBeLessThanOrEqual(390);
      await page.close();
    },
    60_000,
  );
});
