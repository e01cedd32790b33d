/**
 * `npm run study -- words [language]`: every pinned job (all samples among them) in each language, with two languages side by side and in
 * the language that is two fifths longer, on A4 and on Letter: what is wider than its place, what is cut, a phone, and
 * the texts of all pictures. Prints what does not fit, and a line for each language.
 */
import { existsSync, mkdtempSync, readdirSync, readFileSync, symlinkSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { gunzipSync } from 'node:zlib';
import type { Results } from '../../src/results/results-schema.js';

// The compiled study finds the templates where the program has them: next to src.
const templates = fileURLToPath(new URL('../../templates', import.meta.url));
if (!existsSync(templates)) symlinkSync(resolve('templates'), templates);
const [{ drawCharts }, fonts, { launchBrowser }, { renderPage }, said, { pseudo }, fits] = await Promise.all([
  import('../../src/pipeline.js'),
  import('../../src/pages/fonts/fonts.js'),
  import('../../src/pages/report/browser/launch-browser.js'),
  import('../../src/pages/report/html.js'),
  import('../../src/pages/words/languages.js'),
  import('../pages/words/messages.js'),
  import('../pages/words/fits.js'),
]);
const { languages } = await import('../../src/survey/job/languages.js');

const pinned = readdirSync('tests/pinned').find((name) => name.endsWith('.json.gz'))!;
const jobs = JSON.parse(gunzipSync(readFileSync(join('tests/pinned', pinned))).toString('utf8')) as {
  readonly id: string;
  readonly results: Results;
}[];
const place = mkdtempSync(join(tmpdir(), 'waysheet-words-'));
const all = [
  ...languages.map((language) => [language, said.wordsOf(language)] as const),
  ['de and fr', said.wordsOfAll(['de', 'fr'])] as const,
  ['two fifths longer', pseudo] as const,
];

const running = await launchBrowser();
for (const [language, words] of all.filter(([name]) => name === (process.argv[2] ?? name))) {
  let [pages, pictures, texts] = [0, 0, 0];
  const tell = (id: string, paper: string, what: string) => {
    texts++;
    console.log(`${language}, ${id}, ${paper}: ${what}`);
  };
  for (const { id, results } of jobs) {
    const charts = await drawCharts(results, words);
    const svgs = charts.flatMap(({ svg, phone }) => (phone === undefined ? [svg] : [svg, phone]));
    pictures += svgs.length;
    for (const text of await fits.cutTexts(running, svgs)) tell(id, 'pictures', `cut: ${text}`);
    for (const paper of ['A4', 'Letter'] as const) {
      const on = { ...results, style: { ...results.style, paper } };
      const { html } = renderPage(on, charts, fonts.fontFaceCss(), words);
      const fit = await fits.fitOf(running, join(place, 'page.html'), html, paper);
      pages++;
      for (const what of fit.tooLarge) tell(id, paper, `too large: ${what}`);
      if (fit.onPhone > 390) tell(id, paper, `${fit.onPhone} px wide on a phone of 390`);
    }
  }
  console.log(`${language}: ${pages} pages, ${pictures} pictures; ${texts} do not fit`);
}
await running.close();
