/** A text that a spreadsheet would take for a formula never begins a cell of a CSV that we write. */
import { parse } from 'csv-parse/sync';
import { expect, test } from 'vitest';
import { offsetCsv, spanCsv } from '../../src/cli/new/blank-csv.js';
import { answer } from '../../src/cli/new/answer.js';
import { offsetRows, spanRows } from '../../src/cli/new/planned-rows.js';
import { makeDeliverables } from '../../src/pipeline.js';
import { loadJob } from '../../src/solution/intake/load-job.js';
import { stationsCsv } from '../../src/pages/report/stations-csv.js';
import { fillTexts, hostileJob } from './hostile-job.js';
import { changeJob } from '../support/folders.js';

const formulas = [
  '=1+1',
  '+cmd|"/c calc"!A0',
  '-2+3',
  '@SUM(A1)',
  '\t=1+1',
  '\r=1+1',
  '＝1+1',
  '=HYPERLINK("http://127.0.0.1","x")',
];
let next = 0;
const formula = (): string => formulas[next++ % formulas.length]!;

/** A number with its sign is no formula; whatever else begins so is. */
const isFormula = (cell: string): boolean =>
  /^[\s]*[=+\-@\uff1d\uff0b\uff0d\uff20]/.test(cell) && !/^-\d+(\.\d+)?$/.test(cell);
const cellsOf = (csv: string): string[] => (parse(csv) as string[][]).flat();

test('every CSV that a report writes, from a job full of formulas', async () => {
  const folder = await hostileJob(formula);
  const loaded = await loadJob(folder);
  if (!loaded.ok) throw new Error(JSON.stringify(loaded.diagnostics, null, 1));
  const { files, results } = await makeDeliverables(folder, loaded.value, loaded.diagnostics, null);
  const written = [...files].filter(([path]) => path.endsWith('.csv'));
  expect(written.map(([path]) => path)).toEqual(['stations.csv']);
  for (const [, bytes] of written) {
    const cells = cellsOf(new TextDecoder().decode(bytes));
    expect(cells.length).toBeGreaterThan(100);
    expect(cells.filter(isFormula)).toEqual([]);
    expect(cells.some((cell) => /^-\d/.test(cell))).toBe(true);
  }
  // Reasons quote ids and texts; ids cannot begin so today, and results may come from elsewhere.
  for (const text of formulas) {
    const changed = structuredClone(results);
    const station = changed.phases['as-left']!.stations[0]!;
    station.rail = text;
    station.height = { value: null, why: text };
    expect(cellsOf(stationsCsv(changed)).filter(isFormula)).toEqual([]);
  }
});

test('the empty readings files of a new job', async () => {
  for (const text of formulas) {
    const given = { title: text, customer: text, machine: text, setups: 'two', phases: 'both' };
    const answered = await answer({ given, folderName: text, ask: null });
    if (!answered.ok) throw new Error(answered.wrong.join('\n'));
    const csvs = [offsetCsv(offsetRows(answered.plan)), spanCsv(spanRows(answered.plan))];
    expect(csvs.flatMap(cellsOf).filter((cell) => !/^[A-Za-z0-9_ ]*$/.test(cell))).toEqual([]);
  }
});

test.each(['=A', '+A', '-A', '@A', '\tA'])('an id cannot begin with %j', async (id) => {
  const folder = await hostileJob(() => 'x');
  await changeJob(folder, (job: { rails: { id: string }[] }) => {
    fillTexts(job, () => 'x');
    job.rails[1]!.id = id;
  });
  const loaded = await loadJob(folder);
  expect(loaded.ok).toBe(false);
  expect(loaded.diagnostics.some((d) => d.code === 'VALUE_WRONG' && d.at?.column === 'rails[1].id')).toBe(
    true,
  );
});
