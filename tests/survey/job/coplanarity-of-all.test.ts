import { expect, test } from 'vitest';
import { inspectJob } from '../../../src/solution/intake/load-job.js';
import { makeJob } from '../../support/folders.js';

const stations = { first: 0, spacing: 500, count: 5 };
const folder = (rails: number, tolerance: object) => {
  const ids = ['A', 'B', 'C', 'D'].slice(0, rails);
  const rows = ids.flatMap((id) => [1, 2, 3, 4, 5].map((k) => `S1,${id},${k},${(k * 7) % 5}.${k}`));
  return makeJob(
    {
      rails: ids.map((id, i) => ({ id, across: 900 * i, ...(i === 0 && { datum: true }), stations })),
      instruments: [{ id: 'L1', reading: { u: 1.5, unit: 'um' }, level: { u: 1, unit: 'arcsec' } }],
      setups: [{ id: 'S1', instrument: 'L1', along: -600, across: 300, levelled: true }],
      readings: [{ file: 'r.csv', phase: 'as-left' }],
      tolerances: [{ what: 'coplanarity', limit: 60, unit: 'um', ...tolerance }],
    },
    { 'r.csv': `setup,rail,station,vertical\n${rows.join('\n')}\n` },
  );
};

test('one coplanarity tolerance over four rails is refused, not judged pair by pair', async () => {
  const { loaded, diagnostics } = await inspectJob(await folder(4, {}));
  expect(loaded).toBeNull();
  expect(diagnostics).toMatchObject([
    { code: 'TOLERANCE_NOT_APPLICABLE', severity: 'error', data: { reason: 'whole' } },
  ]);
});

test('of two rails the pair is the whole, and of a named rail the pair is what was asked', async () => {
  for (const found of [
    await inspectJob(await folder(2, {})),
    await inspectJob(await folder(4, { rail: 'D' })),
  ])
    expect(found.diagnostics.filter(({ severity }) => severity !== 'warning')).toEqual([]);
});
