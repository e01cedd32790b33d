/** The picture of a group: each pair of rails has a line of its own, and one point is named, that of the pair with the value. */
import { expect, test } from 'vitest';
import { chartsOf } from '../../../src/pages/charts/charts-of.js';
import { judgedOf, makeJob } from '../../support/folders.js';

test('span of three rails: three lines, from left to right', async () => {
  const wider = { B: [4, -6, 3], C: [-7, 5, 9] };
  const across = { A: 0, B: 900, C: 2600 };
  const rows = (['B', 'C'] as const).flatMap((rail) =>
    wider[rail].map((um, i) => `A,${rail},${i + 1},${across[rail] + um / 1000}`),
  );
  const folder = await makeJob(
    {
      rails: (['A', 'B', 'C'] as const).map((id) => ({
        id,
        across: across[id],
        stations: { at: [0, 500, 1000] },
        ...(id === 'A' && { datum: true }),
      })),
      instruments: [{ id: 'T1', reading: { u: 0.01, unit: 'um' } }],
      readings: [{ file: 's.csv', phase: 'as-left', kind: 'span', instrument: 'T1', unit: 'mm' }],
      tolerances: [{ what: 'span', rails: ['A', 'B', 'C'], limit: 10, unit: 'um' }],
    },
    { 's.csv': ['rail,other,station,span', ...rows, ''].join('\n') },
  );
  const results = await judgedOf(folder);
  const chart = chartsOf(results).find(({ title }) => title.startsWith('Span'))!;
  const { left, decides } = chart.data as Record<string, { rail: string; x: number; y: number }[]>;
  const names = [...new Set(left!.map(({ rail }) => rail))];
  expect(names).toEqual(['B – A', 'C – A', 'C – B']);
  const [, , last] = names.map((name) => left!.filter(({ rail }) => rail === name));
  expect(last!.map(({ x }) => x)).toEqual([0, 500, 1000]);
  // B to C: −7 − 4, 5 + 6, 9 − 3.
  last!.forEach(({ y }, i) => expect(y).toBeCloseTo([-11, 11, 6][i]!, 3));
  expect(decides!.map(({ y }) => Math.round(y))).toEqual([-11]);
});
