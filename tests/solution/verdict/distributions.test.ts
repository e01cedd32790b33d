import { expect, test } from 'vitest';
import conformity from '../../published/conformity.json' with { type: 'json' };
import printed from '../../published/distributions.json' with { type: 'json' };
import g2 from '../../published/jcgm-100-g2.json' with { type: 'json' };
import { logGamma, upperGamma } from '../../../src/base/statistics/incomplete-gamma.js';
import { normalCdf, normalQuantile } from '../../../src/base/statistics/normal.js';
import {
  chiSquareUpperQuantile,
  chiSquareUpperTail,
  studentCoverageFactor,
  studentUpperTail,
} from '../../../src/base/statistics/student-chi-square.js';

/** Half a unit in the last printed decimal: all that a printed value can promise. */
const halfUnit = (text: string): number => 0.5 * 10 ** -(text.split('.')[1]?.length ?? 0) + 1e-12;
const relative = (got: number, wanted: number): number => Math.abs(got - wanted) / Math.abs(wanted);

test.each(printed.normalCdf)('Φ(%d)', (z, wanted) => {
  expect(relative(normalCdf(z!), wanted!)).toBeLessThan(1e-13);
});

test.each(printed.normalQuantile)('z for probability %d', (p, wanted) => {
  expect(relative(normalQuantile(p!), wanted!)).toBeLessThan(1e-14);
});

test('the quantile undoes the distribution function, far into both tails', () => {
  for (let z = -30; z <= 5; z += 0.37) expect(normalQuantile(normalCdf(z))).toBeCloseTo(z, 8);
  expect(normalQuantile(0)).toBe(-Infinity);
  expect(normalQuantile(1)).toBe(Infinity);
  expect(normalCdf(Infinity)).toBe(1);
  expect(() => normalQuantile(1.1)).toThrow(RangeError);
  expect(() => normalCdf(NaN)).toThrow(RangeError);
});

test('JCGM 106 Table 1: z for one-sided conformance probabilities', () => {
  const { inputs, expected } = find('CONF-106-Z') as unknown as {
    inputs: { p: number[] };
    expected: { recomputed: number[]; published: number[]; two_sided: Record<string, number> };
  };
  inputs.p.forEach((p, k) => {
    expect(normalQuantile(p)).toBeCloseTo(expected.recomputed[k]!, 9);
    // 1.64 is printed for 1.6449: cut, not rounded
    expect(Math.abs(normalQuantile(p) - expected.published[k]!)).toBeLessThan(0.005 + 1e-9);
  });
  for (const [p, z] of Object.entries(expected.two_sided)) {
    expect(normalQuantile((1 + Number(p)) / 2)).toBeCloseTo(z, 12);
  }
});

test('Baarda: critical value and non-centrality at α = 0.001, power 0.80', () => {
  const { expected } = find('STAT-BAARDA') as unknown as {
    expected: { recomputed: Record<string, { critical: number; delta0: number; lambda0: number }> };
  };
  for (const [name, wanted] of Object.entries(expected.recomputed)) {
    const [alpha, power] = name.match(/[\d.]+/g)!.map(Number);
    const critical = normalQuantile(1 - alpha! / 2);
    const delta0 = critical + normalQuantile(power!);
    expect(critical).toBeCloseTo(wanted.critical, 12);
    // the published value neglects the far tail; so does this
    expect(delta0).toBeCloseTo(wanted.delta0, 5);
    expect(delta0 ** 2).toBeCloseTo(wanted.lambda0, 4);
  }
});

test.each(Object.entries(g2.printed))('JCGM 100 Table G.2, ν = %s', (nu, row) => {
  row.forEach((text, column) => {
    const percent = g2.columns_percent[column]!;
    const isMisprint = nu === g2.misprint.nu && percent === g2.misprint.column_percent;
    const factor = studentCoverageFactor(probability(percent), Number(nu));
    if (isMisprint) expect(factor).toBeCloseTo(g2.misprint.exact, 10);
    else expect(Math.abs(factor - Number(text))).toBeLessThanOrEqual(halfUnit(text));
  });
});

test('JCGM 100 Table G.2, ν = ∞', () => {
  g2.infinity.forEach((text, column) => {
    const factor = studentCoverageFactor(probability(g2.columns_percent[column]!), Infinity);
    expect(Math.abs(factor - Number(text))).toBeLessThanOrEqual(halfUnit(text));
  });
});

test.each(printed.studentCoverageFactor)('t for ν = %d, p = %d', (nu, p, wanted) => {
  const factor = studentCoverageFactor(p!, nu!);
  expect(relative(factor, wanted!)).toBeLessThan(1e-11);
  expect(studentUpperTail(factor, nu!)).toBeCloseTo((1 - p!) / 2, 12);
});

test.each(printed.chiSquareUpperQuantile)('χ² for ν = %d, upper tail %d', (nu, tail, wanted) => {
  const x = chiSquareUpperQuantile(tail!, nu!);
  expect(relative(x, wanted!)).toBeLessThan(1e-11);
});

test('χ² with two degrees of freedom is exponential, with one the square of a normal', () => {
  for (const x of [0, 0.01, 1, 7, 60]) {
    expect(chiSquareUpperTail(x, 2)).toBeCloseTo(Math.exp(-x / 2), 14);
    expect(chiSquareUpperTail(x * x, 1)).toBeCloseTo(2 * normalCdf(-x), 14);
  }
});

test('gamma function: integers, the half, and its arguments', () => {
  expect(logGamma(11)).toBeCloseTo(Math.log(3628800), 12);
  expect(logGamma(0.5)).toBeCloseTo(0.5 * Math.log(Math.PI), 13);
  expect(upperGamma(3, 0)).toBe(1);
  expect(upperGamma(3, Infinity)).toBe(0);
  expect(() => upperGamma(0, 1)).toThrow(RangeError);
  expect(() => chiSquareUpperQuantile(0, 3)).toThrow(RangeError);
  expect(() => studentCoverageFactor(0.95, 0)).toThrow(RangeError);
});

/** 68.27, 95.45 and 99.73 stand for the exact probabilities within 1, 2 and 3 standard deviations. */
function probability(percent: number): number {
  const k = [68.27, 95.45, 99.73].indexOf(percent) + 1;
  return k > 0 ? 2 * normalCdf(k) - 1 : percent / 100;
}

function find(id: string): (typeof conformity)[number] {
  return conformity.find((item) => item.id === id)!;
}
