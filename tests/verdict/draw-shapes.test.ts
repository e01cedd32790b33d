import { expect, test } from 'vitest';
import { factorBand, solveBand } from '../../src/verdict/banded-cholesky.js';
import { drawShapes } from '../../src/verdict/draw-shapes.js';
import { drawOf, type ProfileSample } from '../../src/verdict/profile-sample.js';
import { createGenerator } from '../../src/verdict/random.js';
import { roughnessPenalty } from '../../src/verdict/roughness-penalty.js';
import { segmentTrend } from '../../src/verdict/segment-trend.js';

const COUNT = 400;

function sampleOf(n: number, truth: (t: number, i: number) => number, sigma = 1, seed = 3): ProfileSample {
  const random = createGenerator(seed);
  const positions = Float64Array.from({ length: n }, (_, i) => 0.5 * i);
  const values = Float64Array.from({ length: COUNT * n }, () => sigma * random.nextNormal());
  const observed = Float64Array.from(
    { length: n },
    (_, i) => truth(n > 1 ? (2 * i) / (n - 1) - 1 : 0, i) + sigma * random.nextNormal(),
  );
  return { observed, positions, noise: { count: COUNT, values } };
}

const meanSquare = (a: Float64Array): number => a.reduce((sum, v) => sum + v * v, 0) / a.length;

test('band Cholesky agrees with multiplying out', () => {
  const random = createGenerator(1);
  const n = 12;
  const w = 3;
  const L = new Float64Array(n * (w + 1));
  for (let i = 0; i < n; i++) {
    for (let k = 0; k <= Math.min(w, i); k++)
      L[i * (w + 1) + k] = k === 0 ? 1 + random.nextUniform() : random.nextNormal();
  }
  const entry = (i: number, j: number): number => (i - j > w || j > i ? 0 : L[i * (w + 1) + i - j]!);
  const A = (i: number, j: number): number => {
    let sum = 0;
    for (let m = 0; m < n; m++) sum += entry(i, m) * entry(j, m);
    return sum;
  };
  const band = new Float64Array(n * (w + 1));
  for (let i = 0; i < n; i++) for (let k = 0; k <= Math.min(w, i); k++) band[i * (w + 1) + k] = A(i, i - k);
  let logDet = 0;
  for (let i = 0; i < n; i++) logDet += 2 * Math.log(entry(i, i));
  expect(factorBand(band, n, w)).toBeCloseTo(logDet, 10);
  const x = Float64Array.from({ length: n }, () => random.nextNormal());
  const b = Float64Array.from({ length: n }, (_, i) => x.reduce((sum, v, j) => sum + A(i, j) * v, 0));
  solveBand(band, n, w, b);
  b.forEach((v, i) => expect(v).toBeCloseTo(x[i]!, 8));
  expect(factorBand(Float64Array.of(-1), 1, 0)).toBeNaN();
  expect(factorBand(Float64Array.of(1, 0, 1 + 1e-15, 1), 2, 1)).toBeNaN(); // singular to rounding
});

test.each([1, 2, 3])('differences of order %d vanish on polynomials below it, however spaced', (order) => {
  const x = Float64Array.of(0, 0.1, 0.5, 2, 2.2, 7, 7.5, 9);
  const { rows, starts, coefficients } = roughnessPenalty(x, [0, 4], order, 1, 1);
  expect(rows).toBe(2 * (4 - order)); // none reaches from one segment into the next
  for (let power = 0; power < order; power++) {
    for (let r = 0; r < rows; r++) {
      let sum = 0;
      let size = 0;
      for (let a = 0; a <= order; a++) {
        const term = coefficients[r * (order + 1) + a]! * x[starts[r]! + a]! ** power;
        sum += term;
        size += Math.abs(term);
      }
      expect(Math.abs(sum)).toBeLessThanOrEqual(1e-12 * size);
    }
  }
  expect(() => roughnessPenalty(Float64Array.of(0, 1, 1), [0], order, 1, 1)).toThrow(RangeError);
});

test('draws of a smooth rail lie closer to it than the readings do', () => {
  const sample = sampleOf(41, (t) => 20 * (1 - t * t));
  const shapes = drawShapes(sample, createGenerator(9));
  const truth = Float64Array.from({ length: 41 }, (_, i) => 20 * (1 - (i / 20 - 1) ** 2));
  const error = (b: number): number => meanSquare(drawOf(shapes, b).map((v, i) => v - truth[i]!));
  const mean = Array.from({ length: COUNT }, (_, b) => error(b)).reduce((a, v) => a + v, 0) / COUNT;
  expect(mean).toBeLessThan(0.6); // the readings: 1
});

test('draws of a rough rail keep its roughness', () => {
  const random = createGenerator(5);
  const rough = Float64Array.from({ length: 41 }, () => 10 * random.nextNormal());
  const sample = sampleOf(41, (_, i) => rough[i]!);
  const shapes = drawShapes(sample, createGenerator(9));
  for (const b of [0, 100, 399])
    expect(meanSquare(drawOf(shapes, b).map((v, i) => v - rough[i]!))).toBeLessThan(4);
});

test('a step, a kink and an isolated bump are found: away from them the draws stay smooth', () => {
  const shapesOf: ((t: number, i: number) => number)[] = [
    (_, i) => (i > 20 ? 30 : 0),
    (t) => 30 * Math.max(0, t),
    (_, i) => (i === 13 ? 30 : 0),
  ];
  for (const truth of shapesOf) {
    const sample = sampleOf(41, truth);
    const shapes = drawShapes(sample, createGenerator(9));
    let sum = 0;
    for (let b = 0; b < COUNT; b++)
      sum += meanSquare(drawOf(shapes, b).map((v, i) => v - truth(i / 20 - 1, i))) / COUNT;
    expect(sum).toBeLessThan(0.8); // the readings: 1
  }
});

test('a common offset and trend of the noise reach the draws whole', () => {
  const n = 21;
  const random = createGenerator(4);
  const values = new Float64Array(COUNT * n);
  for (let b = 0; b < COUNT; b++) {
    const offset = 50 * random.nextNormal();
    const trend = 50 * random.nextNormal();
    for (let i = 0; i < n; i++) values[b * n + i] = offset + trend * (i / 10 - 1) + random.nextNormal();
  }
  const positions = Float64Array.from({ length: n }, (_, i) => i);
  const sample: ProfileSample = {
    observed: Float64Array.from({ length: n }, (_, i) => 30 * Math.sin(i / 3)),
    positions,
    noise: { count: COUNT, values },
  };
  const shapes = drawShapes(sample, createGenerator(2));
  const line = segmentTrend(sample.observed, positions, [0]);
  for (let b = 0; b < 20; b++) {
    const ofDraw = segmentTrend(drawOf(shapes, b), positions, [0]);
    const ofNoise = segmentTrend(drawOf(sample.noise, b + 1), positions, [0]); // draw b is conditioned with b + 1
    for (const i of [0, n - 1]) expect(Math.abs(ofDraw[i]! - (line[i]! - ofNoise[i]!))).toBeLessThan(3);
  }
});

test('the same seed gives the same draws; a level and a unit change pass through', () => {
  const sample = sampleOf(21, (t) => 5 * t * t);
  const drawn = (s: ProfileSample): Float64Array => drawShapes(s, createGenerator(1)).values;
  const plain = drawn(sample);
  expect(drawn(sample)).toEqual(plain);
  const scaled = drawn({
    ...sample,
    observed: sample.observed.map((v) => 1024 * v),
    noise: { count: COUNT, values: sample.noise.values.map((v) => 1024 * v) },
  });
  scaled.forEach((v, i) => expect(Math.abs(v / 1024 - plain[i]!)).toBeLessThan(1e-6));
  const moved = drawn({ ...sample, observed: sample.observed.map((v) => v + 1000) });
  moved.forEach((v, i) => expect(Math.abs(v - 1000 - plain[i]!)).toBeLessThan(1e-6));
});

test('one and two stations, and noise without readings of their own, leave readings less noise', () => {
  for (const n of [1, 2]) {
    const sample = sampleOf(n, () => 3);
    const shapes = drawShapes(sample, createGenerator(1));
    const e = drawOf(sample.noise, 1);
    drawOf(shapes, 0).forEach((v, i) => expect(v).toBeCloseTo(sample.observed[i]! - e[i]!, 12));
  }
});

test('n = 10,000, evenly and unevenly spaced, stays finite', () => {
  const n = 10_000;
  const random = createGenerator(8);
  const values = Float64Array.from({ length: 20 * n }, () => random.nextNormal());
  let x = 0;
  const positions = Float64Array.from({ length: n }, () => (x += 0.01 + random.nextUniform()));
  const observed = Float64Array.from(positions, (p) => 1e4 + 30 * Math.sin(p / 900) + random.nextNormal());
  const shapes = drawShapes({ observed, positions, noise: { count: 20, values } }, createGenerator(1));
  expect(shapes.values.every((v) => Math.abs(v - 1e4) < 50)).toBe(true);
});
