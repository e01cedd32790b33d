/** Squareness of a cross rail, from readings of known lines to the signed angle. */
import { expect, test } from 'vitest';
import published from '../published/squareness.json' with { type: 'json' };
import { makeJob, judgedOf } from '../support/folders.js';

const { inputs, expected } = published[0]!;

/** A datum that leans dy/dx and a cross rail that leans dx/dy (µm/m), read from one square instrument turned by yaw. */
async function squarenessOf(dyDx: number, dxDy: number, yaw = 0) {
  const rows = ['setup,rail,station,horizontal,along'];
  for (let k = 1; k <= 4; k++) rows.push(`S1,A,${k},${(dyDx - yaw) * (k - 1)},`);
  // The square plane turns with the instrument: towards −along on the left.
  for (let k = 1; k <= 3; k++) rows.push(`S1,C,${k},,${(dxDy + yaw) * (k - 1)}`);
  const folder = await makeJob(
    {
      rails: [
        { id: 'A', datum: true, across: 0, stations: { first: 0, spacing: 1000, count: 4 } },
        {
          id: 'C',
          direction: 'across',
          along: 2000,
          stations: { first: 0, spacing: 1000, count: 3 },
        },
      ],
      instruments: [{ id: 'L1', reading: { u: 1, unit: 'um' }, square: { u: 1, unit: 'arcsec' } }],
      setups: [{ id: 'S1', instrument: 'L1', along: 0, across: 0 }],
      readings: [{ file: 'r.csv', phase: 'as-left' }],
    },
    { 'r.csv': rows.join('\n') },
  );
  const phase = (await judgedOf(folder)).phases['as-left']!;
  return {
    squareness: phase.characteristics.find((c) => c.what === 'squareness')!.value!,
    yaw: phase.setups[0]!.yaw.value!,
  };
}

/** Angle from +along of the datum's line to +across of the cross rail's, less a right angle, µrad: plain trigonometry. */
const openBy = (dyDx: number, dxDy: number) =>
  (Math.atan2(1, dxDy * 1e-6) - Math.atan2(dyDx * 1e-6, 1) - Math.PI / 2) * 1e6;

test('two runs of slopes 12 and −7.5 µm/m: positive where the included angle exceeds 90°', async () => {
  // Either line is turned by its slope in the sense that opens the angle.
  const { slope_1_um_per_m: one, slope_2_um_per_m: two } = inputs;
  const { squareness } = await squarenessOf(-one, -two);
  expect(squareness).toBeCloseTo(expected.squareness_um_per_m, 6);
  expect(squareness).toBeCloseTo(openBy(-one, -two), 4);
});

test.each([
  [12, 0, 0],
  [0, 12, 0],
  [5, -30, 40],
  [-20, 8, -65],
])('datum leaning %d, cross rail %d, instrument turned by %d µm/m', async (dyDx, dxDy, yaw) => {
  const found = await squarenessOf(dyDx, dxDy, yaw);
  expect(found.squareness).toBeCloseTo(openBy(dyDx, dxDy), 3);
  // Relative to the datum rail's line.
  expect(found.yaw).toBeCloseTo(yaw - dyDx, 6);
});
