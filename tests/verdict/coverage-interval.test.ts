import { expect, test } from 'vitest';
import { coverageInterval, type CoverageResult } from '../../src/verdict/coverage-interval.js';
import { drawShapes } from '../../src/verdict/draw-shapes.js';
import { normalCdf } from '../../src/verdict/normal.js';
import {
  adviseDrawCount,
  type ProfileFunctional,
  type ProfileSample,
} from '../../src/verdict/profile-sample.js';
import { createGenerator, type RandomGenerator } from '../../src/verdict/random.js';
import { signedExtremeInterval } from '../../src/verdict/signed-extreme-interval.js';
import { characteristics, noises, shapes, signedExtreme } from '../study/profiles.js';

const positionsOf = (n: number): Float64Array => Float64Array.from({ length: n }, (_, i) => 0.5 * i);

function noiseDraws(kind: string, n: number, count: number, random: RandomGenerator): ProfileSample['noise'] {
  const values = new Float64Array(count * n);
  for (let b = 0; b < count; b++) noises[kind]!(values.subarray(b * n, (b + 1) * n), random);
  return { count, values };
}

/** A survey of a true profile, of which `kind` is the noise. */
function survey(kind: string, truth: Float64Array, seed: number, count = 500): ProfileSample {
  const random = createGenerator(seed);
  const n = truth.length;
  const noise = noiseDraws(kind, n, count, random);
  const e = new Float64Array(n);
  noises[kind]!(e, random);
  return { observed: truth.map((d, i) => d + e[i]!), positions: positionsOf(n), noise };
}

const of = (T: ProfileFunctional, sample: ProfileSample, coverage = 0.95): CoverageResult =>
  coverageInterval(T, sample, drawShapes(sample, createGenerator(1)), coverage);
const signedOf = (sample: ProfileSample): CoverageResult =>
  signedExtremeInterval(sample, drawShapes(sample, createGenerator(1)), 0.95);

const lsLine = (n: number): ProfileFunctional => characteristics['LS line']!(positionsOf(n));
const bow = (n: number, size: number): Float64Array =>
  Float64Array.from({ length: n }, (_, i) => size * (1 - ((2 * i) / (n - 1) - 1) ** 2));

/** Coverage over simulated surveys must lie within 0.93 … 0.98, give or take three standard errors of the count. */
function expectCoverage(kind: string, shape: string, n: number, size: number, T: ProfileFunctional): void {
  const surveys = 300;
  const random = createGenerator(11);
  const sets = Array.from({ length: 10 }, () => noiseDraws(kind, n, 500, random));
  const e = new Float64Array(n);
  let covered = 0;
  for (let s = 0; s < surveys; s++) {
    const unscaled = shapes[shape]!(n, random);
    const truth = unscaled.map((d) => (size * d) / (T(unscaled) || Infinity));
    noises[kind]!(e, random);
    const sample = {
      observed: truth.map((d, i) => d + e[i]!),
      positions: positionsOf(n),
      noise: sets[s % sets.length]!,
    };
    const [L, U] = of(T, sample).interval;
    const theta = T(truth);
    if (L <= theta + 1e-9 && theta <= U + 1e-9) covered++;
  }
  const error = (p: number): number => 3 * Math.sqrt((p * (1 - p)) / surveys);
  expect(covered / surveys).toBeGreaterThan(0.93 - error(0.93));
  expect(covered / surveys).toBeLessThan(Math.min(1.001, 0.98 + error(0.98)));
}

test.each([
  ['independent', 'bow', 11, 0],
  ['independent', 'bow', 21, 10],
  ['independent', 'white', 11, 10],
  ['independent', 'bow', 3, 1],
  ['trend 1', 'walk', 11, 3],
  ['random walk', 'bow', 11, 10],
])('covers as often as it says: %s noise, %s of %d stations, %d σ', (kind, shape, n, size) => {
  expectCoverage(kind, shape, n, size, lsLine(n));
});

test('max − min under a dominating trend of the noise', () => {
  expectCoverage('trend 5', 'slope', 11, 30, characteristics['max − min']!(positionsOf(11)));
});

test('of two stations, far from level, the range is normal: y ± 1.96 u', () => {
  const sample = survey('independent', Float64Array.of(0, 40), 2, 4000);
  const { interval, probabilityAtMost } = of(characteristics['max − min']!(sample.positions), sample);
  const y = Math.abs(sample.observed[1]! - sample.observed[0]!);
  const u = Math.SQRT2;
  expect(interval[0]).toBeCloseTo(y - 1.96 * u, 0);
  expect(interval[1]).toBeCloseTo(y + 1.96 * u, 0);
  for (const limit of [y - 2, y, y + 1, y + 3])
    expect(Math.abs(probabilityAtMost(limit) - normalCdf((limit - y) / u))).toBeLessThan(0.03);
});

test('straightness does not see a trend of the noise', () => {
  const n = 11;
  const sample = survey('independent', bow(n, 10), 3);
  const tilted = sample.noise.values.map((v, k) => v + 40 * Math.sin(k - (k % n)) * ((k % n) / 5 - 1));
  const plain = of(lsLine(n), sample).interval;
  const withTrend = of(lsLine(n), { ...sample, noise: { count: 500, values: tilted } }).interval;
  expect(withTrend[0]).toBeCloseTo(plain[0], 6);
  expect(withTrend[1]).toBeCloseTo(plain[1], 6);
});

test('a change of unit scales the interval and nothing else', () => {
  const sample = survey('independent', bow(11, 6), 4);
  const thousandfold: ProfileSample = {
    ...sample,
    observed: sample.observed.map((v) => 1024 * v),
    noise: { count: 500, values: sample.noise.values.map((v) => 1024 * v) },
  };
  const a = of(lsLine(11), sample);
  const b = of(lsLine(11), thousandfold);
  expect(b.interval[0] / 1024).toBeCloseTo(a.interval[0], 8);
  expect(b.interval[1] / 1024).toBeCloseTo(a.interval[1], 8);
  expect(b.probabilityAtMost(1024 * 8)).toBeCloseTo(a.probabilityAtMost(8), 12);
});

test('a perfect rail: from zero; a bad one: below its biased estimate and above zero', () => {
  const perfect = of(lsLine(21), survey('independent', new Float64Array(21), 6)).interval;
  expect(perfect[0]).toBe(0);
  const sample = survey('independent', bow(21, 30), 6);
  const bad = of(lsLine(21), sample).interval;
  expect(bad[0]).toBeGreaterThan(24);
  expect((bad[0] + bad[1]) / 2).toBeLessThan(lsLine(21)(sample.observed));
});

test('a wider coverage gives a wider interval', () => {
  const sample = survey('independent', bow(11, 10), 7, 2000);
  const [a, b, c] = [0.8, 0.95, 0.99].map((p) => of(lsLine(11), sample, p).interval);
  expect(c![0]).toBeLessThan(b![0]);
  expect(b![0]).toBeLessThan(a![0]);
  expect(a![1]).toBeLessThan(b![1]);
  expect(b![1]).toBeLessThan(c![1]);
});

test('the same survey gives the same interval to the last bit', () => {
  const sample = survey('trend 1', bow(21, 5), 8);
  expect(of(lsLine(21), sample).interval).toEqual(of(lsLine(21), sample).interval);
  expect(signedOf(sample).interval).toEqual(signedOf(sample).interval);
});

test('without noise the interval is the value', () => {
  const noise = { count: 500, values: new Float64Array(500 * 5) };
  const sample = { observed: Float64Array.of(0, -3, 1, 2, 0), positions: positionsOf(5), noise };
  const T = characteristics['max − min']!(sample.positions);
  expect(of(T, sample).interval).toEqual([5, 5]);
  expect([of(T, sample).probabilityAtMost(4.9), of(T, sample).probabilityAtMost(5)]).toEqual([0, 1]);
  expect(signedOf(sample).interval).toEqual([-3, -3]);
});

test('coverage outside (0, 1) is a mistake', () => {
  const sample = survey('independent', bow(5, 1), 9);
  expect(() => of(lsLine(5), sample, 1)).toThrow(RangeError);
  expect(() => signedExtremeInterval(sample, sample.noise, 0)).toThrow(RangeError);
});

test('signed extreme under a common offset: y ± 1.96 u, through zero where it must', () => {
  const n = 11;
  const random = createGenerator(12);
  const count = 4000;
  const values = new Float64Array(count * n);
  for (let b = 0; b < count; b++) {
    const offset = random.nextNormal();
    for (let i = 0; i < n; i++) values[b * n + i] = offset + 0.01 * random.nextNormal();
  }
  for (const y of [-5, -1, 0.5, 2.5]) {
    const sample = {
      observed: new Float64Array(n).fill(y),
      positions: positionsOf(n),
      noise: { count, values },
    };
    const { interval, probabilityAtMost } = signedOf(sample);
    expect(Math.abs(interval[0] - (y - 1.96))).toBeLessThan(0.12);
    expect(Math.abs(interval[1] - (y + 1.96))).toBeLessThan(0.12);
    for (const limit of [0, 1, 3, 6])
      expect(
        Math.abs(probabilityAtMost(limit) - (normalCdf(limit - y) - normalCdf(-limit - y))),
      ).toBeLessThan(0.04);
  }
});

test('signed extreme: both signs where two opposite extremes are too close to tell, one where not', () => {
  const n = 21;
  const swing = (up: number, down: number): Float64Array =>
    Float64Array.from({ length: n }, (_, i) => (i === 4 ? up : i === 15 ? -down : 0));
  const tie = signedOf(survey('independent', swing(20, 20), 5)).interval;
  expect(tie[0]).toBeLessThan(-18);
  expect(tie[1]).toBeGreaterThan(18);
  const clear = survey('independent', swing(20, 10), 5);
  const { interval } = signedOf(clear);
  expect(interval[0]).toBeGreaterThan(14);
  expect(interval[1]).toBeLessThan(25);
  const turned = signedOf({ ...clear, observed: clear.observed.map((v) => -v) }).interval;
  expect(turned[1]).toBeLessThan(-14);
  expect(signedExtreme(clear.observed)).toBeGreaterThan(0);
});

test('two rails in one profile, as coplanarity takes them', () => {
  const n = 9;
  const random = createGenerator(3);
  const positions = Float64Array.from({ length: 2 * n }, (_, i) => i % n);
  const noise = noiseDraws('independent', 2 * n, 500, random);
  const observed = Float64Array.from({ length: 2 * n }, (_, i) => (i < n ? 10 : -10) + random.nextNormal());
  const sample: ProfileSample = { observed, positions, segments: [0, n], noise };
  const T: ProfileFunctional = (d) => Math.max(...d) - Math.min(...d);
  const [L, U] = of(T, sample).interval;
  expect(L).toBeLessThan(20);
  expect(U).toBeGreaterThan(20);
  expect(U - L).toBeLessThan(8);
});

// Of rails a million σ out the search for the ends once lost all resolution, and the shapes their matrix.
test.each([1e3, 1e6, 1e9])('a rail %d σ out keeps an interval of a few σ', (size) => {
  const n = 7;
  const truth = Float64Array.from({ length: n }, (_, i) => size * (i === 3 ? 1 : 0.3 * Math.sin(i)));
  const sample = survey('independent', truth, 13);
  for (const [L, U] of [of(lsLine(n), sample).interval, signedOf(sample).interval]) {
    expect(U - L).toBeGreaterThan(2);
    expect(U - L).toBeLessThan(9);
  }
  const [L, U] = of(lsLine(n), sample).interval;
  expect(L).toBeLessThan(lsLine(n)(truth) + 1);
  expect(U).toBeGreaterThan(lsLine(n)(truth) - 1);
});

test('advised number of draws', () => {
  expect(adviseDrawCount(41, 0.95)).toBe(1000);
  expect(adviseDrawCount(41, 0.99)).toBe(5000);
  expect(adviseDrawCount(41, 0.9999)).toBe(10_000);
  expect(adviseDrawCount(100_000, 0.95)).toBe(500);
});

// A claim of five times the noise there is once gave 25 µm read as "0 to 2.9 µm", and a verdict by that.
test('noise claimed too large makes no interval narrower', () => {
  const T = lsLine(41);
  const truth = bow(41, 8);
  for (let seed = 0; seed < 10; seed++) {
    const honest = survey('independent', truth, seed);
    const claimed = { ...honest, noise: { count: 500, values: honest.noise.values.map((v) => 5 * v) } };
    const [, U] = of(T, claimed).interval;
    expect(U).toBeGreaterThan(T(truth));
    expect(U).toBeGreaterThan(of(T, honest).interval[1]);
    const [low, high] = signedOf(claimed).interval;
    expect(Math.max(-low, high)).toBeGreaterThan(8);
  }
});
