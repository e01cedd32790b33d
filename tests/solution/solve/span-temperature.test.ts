/** An error of the temperature during the spans changes a span as the machine and the instrument expand differently. */
import { expect, test } from 'vitest';
import { spanTemperature } from '../../../src/solution/solve/effects/span-temperature.js';
import type { SpanReading } from '../../../src/survey/readings/readings.js';
import { job as jobOf, rail } from '../../support/jobs.js';

/** Expansions in 1/K. */
function partOf(machine: number, instrument: number) {
  const job = jobOf({
    rails: [rail('A', 0, [0, 1000], { datum: true })],
    corrections: {
      earthCurvature: false,
      spanAt20: { temperatureC: 25, temperatureU: 0.5, machine, instrument },
    },
  });
  return spanTemperature.inPhase(job, []).span!({ nominalMm: 2000 } as SpanReading)!;
}

test('2 m of a machine that expands by 12 µm/m per kelvin, read by a bar that does not expand: 24 µm per kelvin', () => {
  expect(partOf(12e-6, 0).perUnit).toBeCloseTo(24, 9);
});

test('a bar that expands by 8 µm/m per kelvin takes 16 µm of it away', () => {
  expect(partOf(12e-6, 8e-6).perUnit).toBeCloseTo(8, 9);
});

test('a bar that expands as the machine does: the temperature does not matter', () => {
  expect(partOf(11.5e-6, 11.5e-6).perUnit).toBeCloseTo(0, 9);
});

test('what the temperature is uncertain by is the uncertainty of the effect', () => {
  expect(partOf(12e-6, 0).u).toBe(0.5);
});
