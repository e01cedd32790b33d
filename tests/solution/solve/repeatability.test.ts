/** A repeatability beyond what the instrument claims is told, and honest scatter is not. */
import { expect, test } from 'vitest';
import type { OffsetReading } from '../../../src/survey/readings/readings.js';
import { solutionFindings } from '../../../src/solution/intake/solution-findings.js';
import { adjust } from '../../../src/solution/solve/adjustment.js';
import { buildNetwork } from '../../../src/solution/solve/network.js';
import { repeatability } from '../../../src/solution/solve/repeatability.js';
import { job as jobOf, laser, rail, setup } from '../../support/jobs.js';

const places = Array.from({ length: 45 }, (_, k) => 200 * k);
const job = jobOf({
  rails: [rail('A', 0, places, { datum: true })],
  instruments: [laser({ id: 'L1', readingU: 2.49, perMetreU: 0, levelU: 5, squareU: 5 })],
  setups: [setup('S1', -500, 0, {})],
});

/** Each station three times, −d, 0 and +d from its place: a standard deviation of d with two degrees of freedom each. */
const readings = (d: number): OffsetReading[] =>
  [-1, 0, 1].flatMap((side, p) =>
    places.map((_, k): OffsetReading => {
      // Turned round from station to station, so that no pass is off as a whole.
      const off = (k % 2 === 0 ? side : -side) * d;
      return {
        kind: 'offset',
        source: { file: 'readings/as-left.csv', row: 2 + 45 * p + k },
        pass: String(p + 1),
        time: null,
        note: '',
        setup: 'S1',
        point: { kind: 'station', rail: 'A', station: k + 1 },
        target: 'T1',
        axis: 'vertical',
        um: 30 * Math.sin(k / 7) + off,
      };
    }),
  );

// χ² = 90·(3.18/2.49)² = 146.8: in fewer than 1 of 5,000 surveys by chance; 90·(2.85/2.49)² = 117.9: in 1 of 38.
test.each([
  [3.18, true],
  [2.85, false],
])('%f µm where 2.49 µm is stated, with 90 degrees of freedom', (s, isTold) => {
  const adjustment = adjust(buildNetwork(job, readings(s)));
  const [found] = repeatability(job, adjustment);
  expect(found!.degreesOfFreedom).toBe(90);
  expect(found!.s).toBeCloseTo(s, 9);
  const told = solutionFindings(job, 'as-left', adjustment).filter(
    ({ code }) => code === 'REPEATABILITY_ABOVE_CLAIM',
  );
  expect(told).toHaveLength(isTold ? 1 : 0);
  if (isTold) expect(told[0]!.data).toMatchObject({ instrument: 'L1', s: '3.18 µm', claimed: '2.49 µm' });
});
