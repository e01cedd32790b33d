/** Rods whose difference is known tie two targets: by hand, and against the same survey with a target carried across. */
import { expect, test } from 'vitest';
import { loadJob } from '../../../src/solution/intake/load-job.js';
import { levelledShot, makeJob, judgedOf } from '../../support/folders.js';

/** Rail A read by T1, rail B by T2, whose rod is 25 mm longer; nothing else ties the two heights. */
async function survey(rods: unknown[], more: object = {}) {
  const at = [0, 500, 1000];
  const rows = at.flatMap((_, i) => [
    `S1,A,${i + 1},T1,${(3 * i).toFixed(1)}`,
    `S1,B,${i + 1},T2,${(25_000 + 40 - 2 * i).toFixed(1)}`,
  ]);
  const folder = await makeJob(
    {
      ...levelledShot('as-left', 1, 0.1),
      rails: ['A', 'B'].map((id, k) => ({
        id,
        across: 1500 * k,
        stations: { at },
        ...(k === 0 && { datum: true }),
      })),
      rods,
      tolerances: [{ what: 'height-difference', rail: 'B', limit: 100, unit: 'um' }],
      ...more,
    },
    { 'r.csv': ['setup,rail,station,target,vertical', ...rows, ''].join('\n') },
  );
  return folder;
}
const heightDifference = async (rods: unknown[]) =>
  (await judgedOf(await survey(rods))).phases['as-left']!.characteristics.find(
    ({ what }) => what === 'height-difference',
  )!;

test('without it the height difference is not determined', async () => {
  expect((await heightDifference([])).value).toBeNull();
});

test('with it the difference is taken off, and its uncertainty enters', async () => {
  const made = await heightDifference([{ targets: ['T2', 'T1'], difference: 25, u: 0.004, unit: 'mm' }]);
  // By hand: 40, 40 − 2 − 3, 40 − 4 − 6.
  expect(made.value).toBeCloseTo(40, 6);
  const without = Math.hypot(1, 1);
  // Two readings of 1 µm, the levelled plane over 1.5 m at 0.1 µm/m, and the rods' 4 µm.
  expect(made.u).toBeCloseTo(Math.hypot(without, 0.15, 4), 3);
  expect(made.budget['target-assemblies']).toBeGreaterThan(0.85);
});

test('the other way round it is the other sign', async () => {
  const made = await heightDifference([{ targets: ['T1', 'T2'], difference: -25, u: 0.004, unit: 'mm' }]);
  expect(made.value).toBeCloseTo(40, 6);
});

test('a target that is declared nowhere, and one against itself', async () => {
  const loaded = await loadJob(
    await survey(
      [
        { targets: ['T2', 'T9'], difference: 25, u: 0.004, unit: 'mm' },
        { targets: ['T1', 'T1'], difference: 1, u: 0.004, unit: 'mm' },
      ],
      { targets: [{ id: 'T1' }, { id: 'T2' }] },
    ),
  );
  expect(loaded.diagnostics.map(({ code }) => code).sort()).toEqual(['ID_UNKNOWN', 'VALUE_WRONG']);
});
