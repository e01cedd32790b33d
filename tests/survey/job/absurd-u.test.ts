import { expect, test } from 'vitest';
import { parseJob } from '../../support/read-job.js';

const job = (u: number, unit: string) =>
  JSON.stringify({
    format: 'waysheet-job/1',
    id: 'J-1',
    units: { length: 'mm', reading: 'um' },
    rails: [{ id: 'A', datum: true, across: 0, stations: { first: 0, spacing: 500, count: 5 } }],
    instruments: [{ id: 'E1', reading: { u, unit } }],
    setups: [],
    readings: [{ file: 'readings/a.csv', phase: 'as-left', kind: 'slope', instrument: 'E1', unit: 'um/m' }],
  });

test('a standard uncertainty that no reading has is refused: beside others it would decide the rank by its size', () => {
  const refused = parseJob(job(3.4e-8, 'um/m'));
  expect(refused.diagnostics).toMatchObject([{ code: 'VALUE_WRONG', severity: 'error' }]);
  expect(refused.ok).toBe(false);
  expect(parseJob(job(0.01, 'um/m')).diagnostics).toEqual([]);
});
