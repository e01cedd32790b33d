/** Sums and signatures below the readings are named, and left out only where job.json says so. */
import { describe, expect, test } from 'vitest';
import { loadFiles as loadJob } from '../../support/load-files.js';
import { isBelowReadings, isNamed } from '../../../src/survey/readings/rows-below.js';
import { jobFolder } from '../job/made-up-job.js';

const ROWS = 'setup,rail,station,vertical\nS1,A,1,3.1\nS1,A,2,4.5\nS2,B,1,1.0\n';

const load = (csv: string, entry: Record<string, unknown> = {}) =>
  jobFolder(csv, (job) => Object.assign(job.readings[0]!, entry)).then((folder) => loadJob(folder));

test('rows that are sums or signatures are one error, with what to write', async () => {
  const outcome = await load(`${ROWS}Mean,,,3.8\nMax,,,4.5\nChecked by,J. M.,,\n`);
  expect(outcome.ok).toBe(false);
  expect(outcome.diagnostics.map(({ code, at, data }) => ({ code, row: at?.row, data }))).toEqual([
    {
      code: 'CSV_ROWS_BELOW',
      row: 5,
      data: { count: 3, first: 'Mean', key: '["Mean","Max","Checked by"]' },
    },
  ]);
});

test('with ignoreRows they are left out, which is said, and the readings are those of the file without them', async () => {
  const outcome = await load(`${ROWS}Mean:,,,3.8\nMAX,,,4.5\nRoom 7,,,\n`, {
    ignoreRows: ['Mean', 'Max', 'Room 7'],
  });
  const plain = await load(ROWS);
  expect(outcome.ok && plain.ok).toBe(true);
  expect(outcome.diagnostics.filter(({ code }) => code.startsWith('CSV'))).toMatchObject([
    { code: 'CSV_ROWS_IGNORED', severity: 'warning', data: { count: 3, labels: 'Mean:, MAX, Room 7' } },
  ]);
  if (outcome.ok && plain.ok) expect(outcome.value.readings.phases).toEqual(plain.value.readings.phases);
});

describe('what is no row of readings', () => {
  test.each([
    [['Mean', '', '3.8'], true],
    [['', 'Moyenne', '3,8', '4,1'], true],
    [['Checked by J. M.'], true],
    [['Geprüft', 'J. M.'], true],
    // Ids and words where they belong.
    [['Max', 'A', '1', '3.1'], false],
    [['S1', 'A', '1', '3.1'], false],
    [['Date', 'S1', 'A', '1', '3.1'], false],
    [['1', '3.1'], false],
  ])('%j: %j', (cells, is) => expect(isBelowReadings(cells)).toBe(is));

  test('a label is matched whole, in any case, without its colon', () => {
    expect(isNamed(['', 'mittelwert:'], ['Mittelwert'])).toBe(true);
    expect(isNamed(['Mean value'], ['Mean'])).toBe(false);
    expect(isNamed(['', ''], ['Mean'])).toBe(false);
  });
});
