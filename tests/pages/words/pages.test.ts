/**
 * The pages of all pinned jobs in a language that nobody speaks: every letter of the catalogue has an accent there. A plain
 * word on a page is then a name of the job, or a word that did not come from the catalogue.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { gunzipSync } from 'node:zlib';
import { describe, expect, test } from 'vitest';
import { chartsOf } from '../../../src/pages/charts/charts-of.js';
import { correctionSheet } from '../../../src/pages/report/correction-sheet.js';
import { renderPage } from '../../../src/pages/report/html.js';
import type { ReportChart } from '../../../src/pages/report/sections/pictures.js';
import { en } from '../../../src/pages/words/en.js';
import { catalogueOf, problemsIn, wordsOf } from '../../../src/pages/words/languages.js';
import type { Words } from '../../../src/pages/words/words.js';
import type { Results } from '../../../src/results/results-schema.js';
import { languages, type Language } from '../../../src/survey/job/languages.js';
import { literals, pseudo } from './messages.js';
import { plainWords, textOfPage } from './plain-words.js';

const PINNED = new URL('../../pinned/', import.meta.url);
const file = readdirSync(PINNED).find((name) => name.endsWith('.json.gz'))!;
const jobs = JSON.parse(gunzipSync(readFileSync(new URL(file, PINNED))).toString('utf8')) as {
  readonly id: string;
  readonly results: Results;
}[];

/** Every text of a page and of its pictures. */
function textOf(results: Results, words: Words): string {
  const charts = chartsOf(results, words);
  const figures = charts.map((chart): ReportChart => ({
    ...chart,
    phone: '<svg/>',
    svg: '<svg/>',
    spec: {},
  }));
  const pages = [renderPage(results, figures, '', words).html, correctionSheet(results, words) ?? ''];
  const drawn: string[] = [];
  const collect = (value: unknown): void => {
    if (typeof value === 'string') drawn.push(value);
    else if (Array.isArray(value)) value.forEach(collect);
    else if (value !== null && typeof value === 'object') Object.values(value).forEach(collect);
  };
  // Of a view only its titles are words; of data and parameters all is.
  const titles = (part: unknown): void => {
    if (part === null || typeof part !== 'object') return;
    if (Array.isArray(part)) return part.forEach(titles);
    for (const [name, value] of Object.entries(part))
      if (name === 'title' && typeof value === 'string') drawn.push(value);
      else if (name === 'text' && typeof value === 'string') drawn.push(value);
      else titles(value);
  };
  for (const { view, data, params } of charts) {
    titles(view);
    for (const rows of Object.values(data))
      for (const row of rows) for (const name of ['says', 'text', 'panel', 'what']) collect(row[name]);
    for (const name of ['heading', 'xWords', 'planWords', 'heightWords', 'names', 'rows'])
      collect(params?.[name]);
  }
  return [...pages.map(textOfPage), ...drawn].join('\n');
}

/** Every word that messages print. */
const vocabulary = (messages: readonly string[]): Set<string> =>
  new Set(
    messages.flatMap(
      (message) =>
        literals(message)
          .toLowerCase()
          .match(/\p{L}+/gu) ?? [],
    ),
  );

/** Words of the English catalogue that the other one does not have. */
function onlyEnglish(language: Exclude<Language, 'en'>): Set<string> {
  const problems = problemsIn(language);
  const others = vocabulary([...Object.values(catalogueOf(language)), ...Object.values(problems)]);
  const ours = vocabulary([...Object.values(en), ...Object.keys(problems)]);
  return new Set([...ours].filter((word) => word.length > 2 && !others.has(word)));
}

/** What people wrote, without what a document chooses from a list. */
const CHOSEN = new Set(['direction', 'plus', 'measures', 'plane', 'axis', 'says', 'code', 'unit']);
const texts = (value: unknown): string[] =>
  typeof value === 'string'
    ? [value]
    : value === null || typeof value !== 'object'
      ? []
      : Object.entries(value).flatMap(([name, part]) => (CHOSEN.has(name) ? [] : texts(part)));

describe.each(jobs)('$id', ({ results }) => {
  const { subject, survey, toleranceSet, corrections, phases } = results;
  const own = texts([
    ...[subject, survey, toleranceSet, results.job, results.software, results.format, results.issue],
    ...[
      results.warnings.map(({ file, column }) => [file, column]),
      (results.confirmations ?? []).map(({ by, because, file }) => [by, because, file]),
      corrections.moves,
      corrections.places,
      corrections.done,
    ],
    ...[results.excluded.map(({ file, note }) => [file, note]), results.inputs.map(({ path }) => path)],
    ...[Object.keys(phases), Object.values(phases).map(({ facts }) => facts)],
    // A side that is assumed, as job.json would state it.
    '"along": "ahead"',
  ]).join(' ');

  test('no word on a page but those of the catalogue and of the job', () => {
    expect(plainWords(textOf(results, pseudo), own)).toEqual([]);
  });

  test.each(languages)('%s: no key and no hole on a page, and no word of English', (language) => {
    const text = textOf(results, wordsOf(language));
    if (language !== 'en') {
      const foreign = onlyEnglish(language);
      expect(plainWords(text, own).filter((word) => foreign.has(word.toLowerCase()))).toEqual([]);
    }
    expect(text).not.toMatch(/\{\w+\}|undefined|\[object/);
    const keys = Object.keys(en).filter(
      (key) =>
        key.includes('.') && new RegExp(`(?<![\\w.])${key.replace(/\./g, '\\.')}(?![\\w.])`).test(text),
    );
    expect(keys).toEqual([]);
  });
});
