import { describe, expect, test } from 'vitest';
import conformity from '../../published/conformity.json' with { type: 'json' };
import { linearInterval } from '../../../src/solution/verdict/linear-interval.js';
import { normalCdf } from '../../../src/base/statistics/normal.js';

const item = <T>(id: string): T => conformity.find((x) => x.id === id) as unknown as T;

test('value ± 1.96 u', () => {
  const { interval } = linearInterval(-12, 3, 0.95);
  expect(interval[0]).toBeCloseTo(-12 - 5.879891953620162, 12);
  expect(interval[1]).toBeCloseTo(-12 + 5.879891953620162, 12);
});

test('JCGM 106, 7.4: one-sided conformance probability, far from the other limit', () => {
  const { inputs, expected } = item<{
    inputs: { upper: { y: number; u: number; T_U: number }; lower: { y: number; u: number; T_L: number } };
    expected: { recomputed: { upper_pc: number; lower_pc: number } };
  }>('CONF-106-ONE-SIDED');
  // Moved so that the zone is −limit … limit with the far limit beyond forty standard uncertainties.
  const shift = 50 * inputs.upper.u;
  const upper = linearInterval(inputs.upper.y - inputs.upper.T_U + shift, inputs.upper.u, 0.95);
  expect(upper.probabilityAtMost(shift)).toBeCloseTo(expected.recomputed.upper_pc, 12);
  const lowerShift = 50 * inputs.lower.u;
  const lower = linearInterval(inputs.lower.y - inputs.lower.T_L - lowerShift, inputs.lower.u, 0.95);
  expect(lower.probabilityAtMost(lowerShift)).toBeCloseTo(expected.recomputed.lower_pc, 12);
});

test('JCGM 106, 7.5: two-sided conformance probability of the motor oil', () => {
  const { inputs, expected } = item<{
    inputs: { y: number; u: number; T_L: number; T_U: number };
    expected: { recomputed: number };
  }>('CONF-106-TWO-SIDED');
  const middle = (inputs.T_L + inputs.T_U) / 2;
  const { probabilityAtMost } = linearInterval(inputs.y - middle, inputs.u, 0.95);
  expect(probabilityAtMost((inputs.T_U - inputs.T_L) / 2)).toBeCloseTo(expected.recomputed, 12);
});

test('ISO 14253-1: conformance probabilities of its measured values', () => {
  const { inputs, expected } = item<{
    inputs: { upper_limit_mm: number; expanded_uncertainty_U_mm: number; k: number; measured: number[] };
    expected: { conformance_probabilities: number[] };
  }>('CONF-14253');
  const u = inputs.expanded_uncertainty_U_mm / inputs.k;
  inputs.measured.forEach((y, k) => {
    const wanted = expected.conformance_probabilities[k]! - normalCdf((-inputs.upper_limit_mm - y) / u);
    expect(linearInterval(y, u, 0.95).probabilityAtMost(inputs.upper_limit_mm)).toBeCloseTo(wanted, 6);
  });
});

test('no uncertainty: the interval is the value', () => {
  const { interval, probabilityAtMost } = linearInterval(-3, 0, 0.95);
  expect(interval).toEqual([-3, -3]);
  expect([probabilityAtMost(2.9), probabilityAtMost(3)]).toEqual([0, 1]);
});

test('arguments out of range', () => {
  expect(() => linearInterval(1, -1, 0.95)).toThrow(RangeError);
  expect(() => linearInterval(1, 1, 1)).toThrow(RangeError);
  expect(linearInterval(1, 1, 0.95).probabilityAtMost(-1)).toBe(0);
});

describe('risks of one linear figure, from the normal distribution (JCGM 106:2012, 7.3)', () => {
  const { reach } = linearInterval(-10, 2, 0.95);
  test('of wrong acceptance: as great as the part beyond the limit, and certain where the figure is beyond it', () => {
    // Φ(−1) and Φ(−2), by any table.
    expect(reach.acceptanceRisk(12)).toBeCloseTo(0.158655, 5);
    expect(reach.acceptanceRisk(14)).toBeCloseTo(0.02275, 5);
    expect(reach.acceptanceRisk(10)).toBeCloseTo(0.5, 12);
    expect(reach.acceptanceRisk(9.99)).toBe(1);
  });
  test('of wrong rejection: as great as the part within the limits, and certain where the figure is within them', () => {
    expect(reach.rejectionRisk(8)).toBeCloseTo(0.158655, 5);
    expect(reach.rejectionRisk(10)).toBe(1);
    expect(reach.rejectionRisk(11)).toBe(1);
  });
});
