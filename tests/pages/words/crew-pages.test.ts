/** Pages for a crew in a language that nobody speaks: no plain word but those of the job. */
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { answer } from '../../../src/cli/new/answer.js';
import { fieldSheet } from '../../../src/cli/new/field-sheet.js';
import { renderFieldSheet } from '../../../src/cli/new/render-field-sheet.js';
import { look } from '../../../src/cli/follow-look.js';
import { followPage } from '../../../src/pages/report/follow-page.js';
import { planPage, planWords } from '../../../src/pages/report/plan-words.js';
import { trace } from '../../../src/results/trace.js';
import { solve } from '../../../src/pipeline.js';
import { tracePage } from '../../../src/pages/report/trace-page.js';
import { planSurvey } from '../../../src/results/planned/planned-survey.js';
import { loadJob } from '../../../src/solution/intake/load-job.js';
import { changeRows, copyOf, sample } from '../../support/folders.js';
import { pseudo } from './messages.js';
import { plainWords, textOfPage } from './plain-words.js';

async function loaded(id: string) {
  const found = await loadJob(sample(id));
  if (!found.ok) throw new Error('refused');
  return { ...found, own: await readFile(join(sample(id), 'job.json'), 'utf8') };
}

const rowsOf = {
  'as read': (_: string[], rows: string[][]) => rows,
  'a blunder': (header: string[], rows: string[][]) =>
    rows.map((cells, i) =>
      i === 11 ? cells.map((c, k) => (header[k] === 'vertical' ? String(Number(c) + 90) : c)) : cells,
    ),
  'rows left blank': (header: string[], rows: string[][]) =>
    rows.map((cells, i) =>
      i < rows.length - 10
        ? cells
        : cells.map((c, k) => (/^(vertical|horizontal|along)$/.test(header[k]!) ? '' : c)),
    ),
  'stations missing': (header: string[], rows: string[][]) =>
    rows.filter((cells) => !(Number(cells[header.indexOf('station')]) >= 8)),
};

test.each(Object.entries(rowsOf))('%s: what follow shows', async (_, change) => {
  const folder = await copyOf('TH-0412');
  await changeRows(folder, 'readings/as-left.csv', change);
  const own = await readFile(join(folder, 'job.json'), 'utf8');
  const page = followPage({ ...(await look(folder, '')), diagnostics: [], charts: [], words: pseudo });
  expect(plainWords(textOfPage(page), own)).toEqual([]);
});

test('what is next to be read with a level, or across', async () => {
  const folder = await copyOf('TH-3318');
  const own = await readFile(join(folder, 'job.json'), 'utf8');
  for (const [file, column] of [
    ['span.csv', 'span'],
    ['level.csv', 'slope'],
  ] as const) {
    await changeRows(folder, `readings/${file}`, (header, rows) =>
      rows.map((cells, i) => cells.map((c, k) => (header[k] === column && i > 1 ? '' : c))),
    );
    const page = followPage({ ...(await look(folder, '')), diagnostics: [], charts: [], words: pseudo });
    expect(plainWords(textOfPage(page), own)).toEqual([]);
  }
});

test.each(['TH-0412', 'TH-1175'])('%s: what a plan foresees', async (id) => {
  const { value, own } = await loaded(id);
  const readings = [...value.readings.phases.values()].at(-1)!;
  for (const isRead of [true, false]) {
    const words = planWords(value.job, planSurvey(value.job, readings, isRead), isRead, pseudo);
    expect(plainWords(textOfPage(planPage(words, value.job, pseudo)), own)).toEqual([]);
  }
});

test.each([
  [{}],
  [{ setups: 'two', rails: '3', passes: '2', phases: 'both' }],
  [{ units: 'in', rails: '1', customer: 'Acme', machine: 'Acme' }],
] as Record<string, string>[][])('%j: the field sheet', async (given) => {
  const answered = await answer({ given: given!, folderName: 'GM-1', ask: null });
  if (!answered.ok) throw new Error(answered.wrong.join());
  const page = renderFieldSheet(fieldSheet(answered.plan, 'waysheet', pseudo));
  expect(plainWords(textOfPage(page), `Acme check left in`)).toEqual([]);
});

test('the way of a figure', async () => {
  const { value, diagnostics, own } = await loaded('TH-2031');
  const results = await solve(value, diagnostics);
  for (const c of results.phases['as-left']!.characteristics.filter(({ value }) => value !== null)) {
    const traced = trace(value.job, value.readings.phases.get('as-left')!, 'as-left', c)!;
    expect(
      plainWords(textOfPage(tracePage(traced, results, pseudo)), `${own} vertical horizontal along`),
    ).toEqual([]);
  }
});
