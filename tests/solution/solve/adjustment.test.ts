/**
 * The adjustment against an independent dense solution: the singular value decomposition of ml-matrix over
 * the same equations. Random surveys of all reading kinds, many of them with unknowns that nothing determines.
 */
import { Matrix, SVD } from 'ml-matrix';
import { describe, expect, test } from 'vitest';
import { adjust, rowOf, UNCHECKED, type Functional } from '../../../src/solution/solve/adjustment.js';
import { buildNetwork, keyOf, type Network } from '../../../src/solution/solve/network.js';
import type { Reading } from '../../../src/survey/readings/readings.js';
import { createGenerator } from '../../../src/base/statistics/random.js';
import { job, laser, rail } from '../../support/jobs.js';
import { randomSurvey } from '../../support/random-survey.js';

/** Dense pseudo-inverse solution of the weighted equations, with equilibrated columns. */
function denseSolution(network: Network) {
  const m = network.observed.length;
  const n = network.unknowns.length;
  const a = Matrix.zeros(m, n);
  for (let i = 0; i < m; i++) {
    const row = rowOf(network, i);
    for (let k = 0; k < row.index.length; k++) {
      a.set(i, row.index[k]!, a.get(i, row.index[k]!) + row.weight[k]! / network.sigma[i]!);
    }
  }
  const lengths = Array.from({ length: n }, (_, j) => Math.hypot(...a.getColumn(j)) || 1);
  for (let j = 0; j < n; j++) for (let i = 0; i < m; i++) a.set(i, j, a.get(i, j) / lengths[j]!);
  const tall = m >= n ? a : Matrix.zeros(n, n);
  if (m < n) for (let i = 0; i < m; i++) for (let j = 0; j < n; j++) tall.set(i, j, a.get(i, j));
  const svd = new SVD(tall, { autoTranspose: false });
  const values = svd.diagonal;
  const cut = 1e-9 * Math.max(...values);
  const rank = values.filter((s) => s > cut).length;
  const v = svd.rightSingularVectors;
  const kept = values.map((s, k) => ({ s, k })).filter(({ s }) => s > cut);
  /** Covariance in the gauge of the pseudo-inverse. */
  const covariance = Matrix.zeros(n, n);
  for (const { s, k } of kept) {
    const column = v.getColumnVector(k);
    covariance.add(column.mmul(column.transpose()).mul(1 / s ** 2));
  }
  const rhs = Matrix.columnVector(
    Array.from({ length: m }, (_, i) => network.observed[i]! / network.sigma[i]!),
  );
  const x = covariance.mmul(a.transpose()).mmul(rhs);
  const nullVectors = values
    .map((s, k) => ({ s, k }))
    .filter(({ s }) => s <= cut)
    .map(({ k }) => v.getColumn(k));
  const scaled = (f: Functional) => {
    const c = Matrix.zeros(n, 1);
    for (let k = 0; k < f.index.length; k++)
      c.set(f.index[k]!, 0, c.get(f.index[k]!, 0) + f.weight[k]! / lengths[f.index[k]!]!);
    return c;
  };
  return {
    rank,
    value: (f: Functional) => scaled(f).transpose().mmul(x).get(0, 0),
    variance: (f: Functional) => scaled(f).transpose().mmul(covariance).mmul(scaled(f)).get(0, 0),
    isDetermined: (f: Functional) => {
      const c = scaled(f).getColumn(0);
      const size = Math.hypot(...c);
      return nullVectors.every((w) => Math.abs(w.reduce((sum, wk, k) => sum + wk * c[k]!, 0)) < 1e-7 * size);
    },
  };
}

const seeds = Array.from({ length: 300 }, (_, k) => k + 1);
const surveys = seeds
  .map((seed) => ({ seed, ...randomSurvey(seed) }))
  .filter(({ readings }) => readings.length > 0)
  .map((survey) => ({ ...survey, network: buildNetwork(survey.job, survey.readings) }));

describe('against a dense singular value decomposition', () => {
  test('the random surveys are of all kinds, and many are rank-deficient', () => {
    const kinds = new Set(surveys.flatMap(({ readings }) => readings.map((r) => r.kind)));
    expect([...kinds].sort()).toEqual(['offset', 'slope', 'span']);
    const defects = surveys.map(({ network }) => network.unknowns.length - adjust(network).rank);
    expect(defects.filter((d) => d > 3).length).toBeGreaterThan(100);
    expect(surveys.length).toBeGreaterThan(250);
  });

  test('same rank, residuals, redundancy numbers', () => {
    for (const { seed, network } of surveys) {
      const dense = denseSolution(network);
      const adjustment = adjust(network);
      expect(adjustment.rank, `rank, survey ${seed}`).toBe(dense.rank);
      for (let i = 0; i < network.observed.length; i++) {
        const row = rowOf(network, i);
        const sigma = network.sigma[i]!;
        const v = network.observed[i]! - dense.value(row);
        expect(Math.abs(adjustment.residual[i]! - v) / sigma, `residual ${i}, survey ${seed}`).toBeLessThan(
          1e-6,
        );
        const r = 1 - dense.variance(row) / sigma ** 2;
        expect(
          Math.abs(adjustment.redundancyNumber[i]! - (r > UNCHECKED ? r : 0)),
          `redundancy ${i}, survey ${seed}`,
        ).toBeLessThan(2e-6);
      }
    }
  });

  test('same functionals determined, with the same value and uncertainty', () => {
    let atHand = 0;
    for (const { seed, network } of surveys) {
      const dense = denseSolution(network);
      const adjustment = adjust(network);
      const points = network.unknowns.map((u, i) => ({ u, i })).filter(({ u }) => 'alongM' in u);
      for (let k = 1; k < points.length; k++) {
        const f: Functional = { index: [points[k]!.i, points[k - 1]!.i], weight: [1, -1] };
        expect(adjustment.isDetermined(f), `difference ${k}, survey ${seed}`).toBe(dense.isDetermined(f));
        if (!adjustment.isDetermined(f)) continue;
        const u = Math.sqrt(dense.variance(f));
        expect(Math.abs(adjustment.value(f) - dense.value(f)) / u).toBeLessThan(1e-6);
        expect(adjustment.standardUncertainty(f) / (u * adjustment.scale)).toBeCloseTo(1, 6);
        const c = adjustment.covarianceWith(f);
        const viaCovariance = c[points[k]!.i]! - c[points[k - 1]!.i]!;
        expect(Math.sqrt(viaCovariance) / (u * adjustment.scale)).toBeCloseTo(1, 5);
        const beside = adjustment.covarianceAtHand(points[k]!.i, points[k - 1]!.i);
        if (beside !== null) {
          atHand++;
          const both = adjustment.variance[points[k]!.i]! + adjustment.variance[points[k - 1]!.i]!;
          expect(Math.sqrt(both - 2 * beside) / (u * adjustment.scale)).toBeCloseTo(1, 5);
        }
        const weights = adjustment.influence(f);
        const viaReadings = weights.reduce((sum, w, i) => sum + (w * network.sigma[i]!) ** 2, 0);
        expect(Math.sqrt(viaReadings) / u).toBeCloseTo(1, 5);
      }
    }
    expect(atHand).toBeGreaterThan(200);
  });

  test('where slopes chain the stations, the covariance of stations abreast is at hand', () => {
    let count = 0;
    for (const { seed, network } of surveys) {
      if (!network.observations.some((o) => o.kind === 'slope')) continue;
      const adjustment = adjust(network);
      const stations = network.unknowns.flatMap((u, i) => ('rail' in u && 'alongM' in u ? [{ u, i }] : []));
      for (const a of stations) {
        const c = adjustment.covarianceWith({ index: [a.i], weight: [1] });
        for (const b of stations) {
          if (a.u.kind !== b.u.kind || a.u.alongM !== b.u.alongM) continue;
          count++;
          const scale = 1 + Math.sqrt(adjustment.variance[a.i]! * adjustment.variance[b.i]!);
          expect(
            Math.abs(adjustment.covarianceAtHand(a.i, b.i)! - c[b.i]!) / scale,
            `${a.u.rail}:${a.u.station} and ${b.u.rail}:${b.u.station}, survey ${seed}`,
          ).toBeLessThan(1e-6);
        }
      }
    }
    expect(count).toBeGreaterThan(500);
  });
});

test('a step by sight, then one by level: the covariance of two unknowns of one row is there', () => {
  const at = [0, 400, 800, 1200];
  const e1 = laser({ id: 'E1', measures: 'slope', readingU: 2, perMetreU: 0, levelU: null, squareU: null });
  const step = (from: number, sight: string | null, umPerM: number): Reading => ({
    kind: 'slope',
    source: { file: 'readings/r.csv', row: from + 1 },
    pass: '1',
    time: null,
    note: '',
    from: { rail: 'A', station: from },
    to: { rail: 'A', station: from + 1 },
    axis: 'vertical',
    umPerM,
    instrument: 'E1',
    sight,
  });
  const survey = job({ rails: [rail('A', 0, at, { datum: true })], instruments: [e1] });
  const adjustment = adjust(buildNetwork(survey, [step(1, 'g', 30), step(2, null, 10), step(3, null, -5)]));
  const z = (station: number) => adjustment.network.find(keyOf.station('height', 'A', station))!;
  const rise = (a: number, b: number): Functional => ({ index: [z(b), z(a)], weight: [1, -1] });
  expect(adjustment.redundancy).toBe(0);
  expect(adjustment.isDetermined(rise(1, 2))).toBe(false);
  expect(adjustment.value(rise(2, 4))).toBeCloseTo(0.4 * (10 - 5), 9);
  expect(adjustment.standardUncertainty(rise(2, 4))).toBeCloseTo(0.4 * 2 * Math.SQRT2, 9);
});

test('drawn errors have the covariance of the solution', () => {
  const { job, readings } = randomSurvey(8);
  const adjustment = adjust(buildNetwork(job, readings));
  const points = adjustment.network.unknowns.map((u, i) => ({ u, i })).filter(({ u }) => 'alongM' in u);
  const determined = points
    .slice(1)
    .map((p, k): Functional => ({ index: [p.i, points[k]!.i], weight: [1, -1] }))
    .filter(adjustment.isDetermined);
  expect(determined.length).toBeGreaterThan(2);
  const generator = createGenerator(1);
  const x = new Float64Array(adjustment.network.unknowns.length);
  const draws = 20_000;
  const sums = determined.map(() => 0);
  for (let d = 0; d < draws; d++) {
    adjustment.drawError(generator, x);
    determined.forEach((f, k) => (sums[k]! += (x[f.index[0]!]! - x[f.index[1]!]!) ** 2));
  }
  determined.forEach((f, k) => {
    const ratio = Math.sqrt(sums[k]! / draws) / adjustment.standardUncertainty(f);
    expect(Math.abs(ratio - 1)).toBeLessThan(0.025); // 5 standard deviations of a standard deviation from 20,000 draws
  });
});

test('the order of the rows changes nothing, not even a draw', () => {
  const { job, readings } = randomSurvey(8);
  const one = adjust(buildNetwork(job, readings));
  const other = adjust(buildNetwork(job, [...readings].reverse()));
  const draw = (a: typeof one) => {
    const x = new Float64Array(a.network.unknowns.length);
    a.drawError(createGenerator(3), x);
    return new Map(a.network.keys.map((key, i) => [key, x[i]!]));
  };
  const mine = draw(one);
  for (const [key, value] of draw(other)) expect(value).toBeCloseTo(mine.get(key)!, 6);
});
