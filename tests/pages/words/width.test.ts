/** Longer words of other languages: no table is wider than the paper, no cell narrower than its words. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { gunzipSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { fontFaceCss } from '../../../src/pages/fonts/fonts.js';
import { launchBrowser, type RunningBrowser } from '../../../src/pages/report/browser/launch-browser.js';
import { renderPage } from '../../../src/pages/report/html.js';
import { wordsOf, wordsOfAll } from '../../../src/pages/words/languages.js';
import type { Results } from '../../../src/results/results-schema.js';
import { languages } from '../../../src/survey/job/languages.js';
import { fitOf } from './fits.js';
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
      const { tooLarge, onPhone } = await fitOf(running, join(place, `${id}-${language}.html`), html, 'A4');
      expect(tooLarge).toEqual([]);
      expect(onPhone).toBeLessThanOrEqual(390);
    },
    60_000,
  );
});
