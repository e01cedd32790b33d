/** Intervals of greatest-of-linear characteristics: closed forms, an independent construction, tails, coverage. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { straightness, localStraightness, range } from '../../../src/solution/characteristics/measures.js';
import { adviseDrawCount } from '../../../src/solution/verdict/draw-count.js';
import { errorsOf, studentFactors, type Errors } from '../../../src/solution/verdict/errors.js';
import { greatestInterval } from '../../../src/solution/verdict/greatest.js';
import { signedInterval } from '../../../src/solution/verdict/greatest-magnitude.js';
import { greatestRange } from '../../../src/solution/verdict/greatest-range.js';
import { upperOfTwoRails } from '../../../src/solution/verdict/greatest-zone.js';
import { normalCdf, normalQuantile } from '../../../src/base/statistics/normal.js';
import { createGenerator, type RandomGenerator } from '../../../src/base/statistics/random.js';
import { studentCoverageFactor } from '../../../src/base/statistics/student-chi-square.js';
import { characteristics, shapes } from '../../study/profiles.js';

/** Errors of n independent points with σ = 1. */
function independent(n: number, count: number, random: RandomGenerator): Errors {
  const draws = new Float64Array(count * n);
  random.fillNormals(draws, 0, draws.length);
  const matrix = Float64Array.from({ length: n * n }, (_, k) => (k % (n + 1) === 0 ? 1 : 0));
  return errorsOf(draws, n, matrix);
}

/** Errors of a family less its own line, from those of its points. */
function aboutLine(errors: Errors, x: Float64Array): Errors {
  const n = errors.n;
  const mean = x.reduce((a, b) => a + b, 0) / n;
  const sxx = x.reduce((a, b) => a + (b - mean) ** 2, 0);
  const project = (i: number, j: number) =>
    (i === j ? 1 : 0) - 1 / n - ((x[i]! - mean) * (x[j]! - mean)) / sxx;
  const matrix = Float64Array.from({ length: n * n }, (_, k) => project(Math.floor(k / n), k % n));
  const draws = new Float64Array(errors.draws.length);
  for (let b = 0; b < errors.count; b++)
    for (let i = 0; i < n; i++) {
      let sum = 0;
      for (let j = 0; j < n; j++) sum += matrix[i * n + j]! * errors.draws[b * n + j]!;
      draws[b * n + i] = sum;
    }
  return errorsOf(draws, n, matrix);
}

const positions = (n: number) => Float64Array.from({ length: n }, (_, i) => i);

describe('closed forms', () => {
  test('of two points far apart the range is normal: y ± 1.96·√2', () => {
    const errors = independent(2, 4000, createGenerator(1));
    const { interval, probabilityAtMost } = greatestInterval(
      range.greatest(Float64Array.of(40, 0), errors),
      0.95,
    );
    const u = Math.SQRT2;
    expect(interval[0]).toBeCloseTo(40 - 1.959964 * u, 3);
    expect(interval[1]).toBeCloseTo(40 + 1.959964 * u, 3);
    for (const limit of [37, 41, 43])
      expect(probabilityAtMost(limit)).toBeCloseTo(normalCdf((limit - 40) / u), 6);
  });

  /**
   * Range of k equal means, σ known: L is 0 up to the upper point of the studentised range for infinite degrees of
   * freedom. Published values q(0.95; k, ∞): 3.314, 3.633, 3.858, 4.474 for k = 3, 4, 5, 10 (E. S. Pearson, H. O. Hartley,
   * Biometrika Tables for Statisticians I, table 29; from memory). The level of L is 0.05 less what the selection
   * costs (0.003), which puts its point 0.02 to 0.03 higher.
   */
  test.each([
    [3, 3.314],
    [4, 3.633],
    [5, 3.858],
    [10, 4.474],
  ])('range of %d equal points: studentised range', (k, q) => {
    const errors = independent(k, 40_000, createGenerator(k));
    const of = (reading: number) => {
      const d = new Float64Array(k);
      d[0] = reading;
      return greatestInterval(greatestRange(d, errors), 0.95).interval[0];
    };
    expect(of(q - 0.05)).toBe(0);
    expect(of(q + 0.1)).toBeGreaterThan(0);
  });

  test('greater of two means, both signs: L of equal ones is that of four normals', () => {
    // max |d_i| over two points: P(max |e| ≤ c) = (2Φ(c) − 1)² = 0.953: c = 2.264.
    const errors = independent(2, 40_000, createGenerator(3));
    const c = normalQuantile((1 + Math.sqrt(0.953)) / 2);
    const { interval } = signedInterval(Float64Array.of(3, 2.9), errors, 0.95);
    expect(interval[0]).toBeGreaterThan(3 - c - 0.05);
    expect(interval[0]).toBeLessThan(3 - c + 0.05);
    // One that stands out alone: y ± 1.96.
    const alone = signedInterval(Float64Array.of(30, 0), errors, 0.95).interval;
    expect(alone[0]).toBeCloseTo(30 - 1.959964, 2);
    expect(alone[1]).toBeCloseTo(30 + 1.959964, 2);
  });

  test('a common offset that is all the noise: observed ± 1.96 u, across zero', () => {
    const random = createGenerator(5);
    const draws = new Float64Array(2000 * 4);
    for (let b = 0; b < 2000; b++) draws.fill(5 * random.nextNormal(), 4 * b, 4 * b + 4);
    const errors = errorsOf(draws, 4, new Float64Array(16).fill(25));
    const { interval } = signedInterval(Float64Array.of(3, 3, 3, 3), errors, 0.95);
    expect(interval[0]).toBeCloseTo(3 - 1.96 * 5, 0);
    expect(interval[1]).toBeCloseTo(3 + 1.96 * 5, 0);
  });

  /** Three stations by hand: residuals are (1, −2, 1)·k/6 with k = d₁ − 2d₂ + d₃, so T = |k|/2 and u(T) = √6/2. */
  test('three stations: one functional is all there is', () => {
    const x = positions(3);
    const errors = aboutLine(independent(3, 4000, createGenerator(7)), x);
    const d = Float64Array.of(5, -10, 5);
    const { interval } = greatestInterval(straightness('least-squares', x).greatest(d, errors), 0.95);
    expect(interval[0]).toBeCloseTo(15 - 1.959964 * (Math.sqrt(6) / 2), 3);
    expect(interval[1]).toBeCloseTo(15 + 1.959964 * (Math.sqrt(6) / 2), 3);
  });

  test('a scale that was estimated: Student’s factor at both ends', () => {
    const random = createGenerator(8);
    const degrees = 4;
    const plain = independent(2, 40_000, random);
    const spread = studentFactors(plain.count, degrees, random);
    const draws = plain.draws.map((v, k) => v * spread[Math.floor(k / 2)]!);
    const errors = errorsOf(draws, 2, Float64Array.of(1, 0, 0, 1), degrees, spread);
    const { interval } = greatestInterval(range.greatest(Float64Array.of(200, 0), errors), 0.95);
    const k = studentCoverageFactor(0.95, degrees); // 2.776, JCGM 100 table G.2
    expect(interval[1]).toBeCloseTo(200 + k * Math.SQRT2, 3);
    expect(interval[0]).toBeCloseTo(200 - k * Math.SQRT2, 3);
  });
});

describe('an independent construction', () => {
  /** All functionals enumerated, each with its gap known to be zero or infinite; own random numbers. */
  test('L of a wave: every pair that may be the greatest, by brute force', () => {
    const n = 6;
    const errors = independent(n, 40_000, createGenerator(11));
    // Two equal tops, one low, three far from either: only the pairs (0, 2) and (1, 2) can be the greatest.
    const d = Float64Array.of(40, 40.4, 0, 20, 21, 19);
    const { interval } = greatestInterval(greatestRange(d, errors), 0.95);
    let seed = 12345;
    const uniform = () => (seed = (Math.imul(seed, 1103515245) + 12345) >>> 0) / 2 ** 32;
    const normal = () => {
      let sum = -6;
      for (let k = 0; k < 12; k++) sum += uniform();
      return sum; // a sum of twelve: near enough to a normal at two standard deviations
    };
    const greatest = Float64Array.from(
      { length: 40_000 },
      () => Math.max(normal(), normal()) - normal(),
    ).sort();
    const c = greatest[Math.floor(greatest.length * (1 - 0.05 * 0.94))]!;
    expect(Math.abs(interval[0] - (40.4 - c))).toBeLessThan(0.06);
    // U: the pair that reads most, with the one-sided factor.
    expect(interval[1]).toBeCloseTo(40.4 + 1.959964 * Math.SQRT2, 6);
  });

  test.each(['least-squares', 'end-points', 'minimum-zone'] as const)(
    'U about %s: brute force over all functionals',
    (reference) => {
      const n = 9;
      const x = positions(n);
      const errors = aboutLine(independent(n, 2000, createGenerator(13)), x);
      const random = createGenerator(17);
      const raw = Float64Array.from({ length: n }, () => 60 * random.nextNormal());
      const d = lineTakenOut(raw, x);
      const { interval } = greatestInterval(straightness(reference, x).greatest(d, errors), 0.95);
      expect(interval[1]).toBeCloseTo(upperByHand(reference, x, d), 6);
    },
  );
});

/** Errors of a rail whose profile noise tilts and winds: a random walk, a tilt, and each point's own. */
function winding(n: number, count: number, seed: number): Errors {
  const random = createGenerator(seed);
  const draws = new Float64Array(count * n);
  for (let b = 0; b < count; b++) {
    const tilt = 2 * random.nextNormal();
    let walk = 0;
    for (let i = 0; i < n; i++)
      draws[b * n + i] = (walk += random.nextNormal()) + (tilt * i) / n + 0.3 * random.nextNormal();
  }
  const matrix = Float64Array.from({ length: n * n }, (_, at) => {
    const [i, j] = [Math.floor(at / n), at % n];
    return Math.min(i, j) + 1 + (4 * i * j) / n ** 2 + (i === j ? 0.09 : 0);
  });
  return errorsOf(draws, n, matrix);
}

const uOfPair = ({ covariance: c }: Errors, i: number, j: number) =>
  Math.sqrt(c(i, i) + c(j, j) - 2 * c(i, j));

describe('what is passed over changes nothing', () => {
  test('two stations that are certain against each other stay so in both orders: rounding gives none a weight', () => {
    // The errors of the first two are one; the third and the fourth are noisier. Rounding may differ with the order of a sum.
    const matrix = Float64Array.of(1, 1 - Number.EPSILON / 2, 0, 0, 1, 1, 0, 0, 0, 0, 4, 0, 0, 0, 0, 9);
    const generator = createGenerator(11);
    const draws = Float64Array.from({ length: 4000 }, () => generator.nextNormal());
    for (let b = 0; b < 4000; b += 4) {
      draws[b + 1] = draws[b]! * (1 + 1e-12);
      draws[b + 2]! *= 2;
      draws[b + 3]! *= 3;
    }
    const d = Float64Array.of(0, 0, 7.5, 1);
    const [lower, upper] = greatestInterval(greatestRange(d, errorsOf(draws, 4, matrix)), 0.95).interval;
    expect(lower).toBeGreaterThan(0);
    expect(upper).toBeLessThan(16);
  });

  test.each([
    [5, 0],
    [13, 0],
    [13, 6],
    [31, 3],
    [31, 25],
  ])('of %d points, each pair by its own uncertainty, waves of %d', (n, size) => {
    const errors = winding(n, 400, 61 + n);
    const d = Float64Array.from({ length: n }, (_, i) => size * Math.sin(i) + 0.2 * ((7 * i) % 5));
    const confidence = 0.997;
    const excesses = greatestRange(d, errors).excesses(confidence);
    const factor = normalQuantile(1 - (1 - confidence) / (n * (n - 1)));
    const pairs = [...d.keys()].flatMap((i) =>
      [...d.keys()].filter((j) => j !== i).map((j) => [i, j] as const),
    );
    const sure = (i: number, j: number) => d[i]! - d[j]! - factor * uOfPair(errors, i, j);
    const most = (values: readonly number[]) => Math.max(0, ...values);
    // What a point surely lies below some other, and above some other.
    const below = [...d.keys()].map((i) => most([...d.keys()].filter((j) => j !== i).map((j) => sure(j, i))));
    const above = [...d.keys()].map((i) => most([...d.keys()].filter((j) => j !== i).map((j) => sure(i, j))));
    const byHand = Float64Array.from({ length: errors.count }, (_, b) => {
      const e = errors.draws.subarray(b * n, (b + 1) * n);
      return Math.max(
        ...pairs.flatMap(([i, j]) => {
          const [gap, u] = [below[i]! + above[j]!, uOfPair(errors, i, j)];
          return gap < factor * u ? [(e[i]! - e[j]! - gap) / u] : [];
        }),
      );
    }).sort();
    byHand.forEach((v, b) => expect(excesses.quantile((b + 0.5) / errors.count)).toBeCloseTo(v, 9));
    expect(excesses.shareAtMost((byHand[99]! + byHand[100]!) / 2)).toBe(100 / errors.count);
  });

  test('of two rails about one plane: every three points of one, every two of one and two of the other', () => {
    const random = createGenerator(71);
    for (const [first, second] of [
      [4, 4],
      [9, 13],
    ] as const) {
      const n = first + second;
      const x = Float64Array.from({ length: n }, (_, i) => (i < first ? i : 0.8 * (i - first) + 0.1));
      const d = Float64Array.from({ length: n }, () => 9 * random.nextNormal());
      const errors = winding(n, 4, 73);
      const weights: Map<number, number>[] = [];
      const rails = [
        [0, first],
        [first, n],
      ] as const;
      for (const [from, to] of rails)
        for (let i = from; i < to; i++)
          for (let j = i + 1; j < to; j++)
            for (let k = j + 1; k < to; k++) {
              const q = (x[j]! - x[i]!) / (x[k]! - x[i]!);
              weights.push(new Map([[j, 1], [i, q - 1], [k, -q]])); // prettier-ignore
            }
      for (let i = 0; i < first; i++)
        for (let j = i + 1; j < first; j++)
          for (let k = first; k < n; k++)
            for (let m = k + 1; m < n; m++) {
              const [own, other] = [x[j]! - x[i]!, x[m]! - x[k]!];
              const a = other / (own + other);
              weights.push(new Map([[i, -a], [j, a], [k, 1 - a], [m, a - 1]])); // prettier-ignore
            }
      const upper = upperOfTwoRails(x, d, errors, first, 0);
      for (const z of [0, 0.5, 1.96, 3]) {
        const byHand = weights.map((w) => {
          let [reading, variance] = [0, 0];
          for (const [i, a] of w) {
            reading += a * d[i]!;
            for (const [j, b] of w) variance += a * b * errors.covariance(i, j);
          }
          return Math.abs(reading) + z * Math.sqrt(variance);
        });
        expect(upper(z)).toBeCloseTo(Math.max(...byHand), 9);
      }
    }
  });
});

function lineTakenOut(d: Float64Array, x: Float64Array): Float64Array {
  const n = d.length;
  const [mx, md] = [x.reduce((a, b) => a + b) / n, d.reduce((a, b) => a + b) / n];
  let [sxx, sxd] = [0, 0];
  for (let i = 0; i < n; i++) {
    sxx += (x[i]! - mx) ** 2;
    sxd += (x[i]! - mx) * (d[i]! - md);
  }
  return d.map((v, i) => v - md - (sxd / sxx) * (x[i]! - mx));
}

/** max (ℓ·d + 1.96·s) with every ℓ written out as weights on independent points of σ = 1, its line part taken off. */
function upperByHand(reference: string, x: Float64Array, d: Float64Array): number {
  const n = x.length;
  const functionals: Float64Array[] = [];
  const unit = (i: number) => Float64Array.from({ length: n }, (_, k) => (k === i ? 1 : 0));
  const less = (a: Float64Array, b: Float64Array) => a.map((v, k) => v - b[k]!);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      if (i === j) continue;
      const difference = less(unit(i), unit(j));
      if (reference === 'least-squares') functionals.push(lineTakenOut(difference, x));
      if (reference === 'end-points') {
        const tilt = (x[i]! - x[j]!) / (x[n - 1]! - x[0]!);
        functionals.push(
          less(
            difference,
            less(unit(n - 1), unit(0)).map((v) => v * tilt),
          ),
        );
      }
      if (reference === 'minimum-zone')
        for (let k = j + 2; k < n; k++) {
          if (!(i > j && i < k)) continue;
          const share = (x[i]! - x[j]!) / (x[k]! - x[j]!);
          const chord = unit(j).map((v, m) => (1 - share) * v + share * unit(k)[m]!);
          functionals.push(less(unit(i), chord), less(chord, unit(i)));
        }
    }
  }
  return Math.max(
    ...functionals.map((f) => {
      const reading = f.reduce((sum, w, k) => sum + w * d[k]!, 0);
      return reading + 1.959963985 * Math.hypot(...f);
    }),
  );
}

describe('tails', () => {
  /** How often each end errs, over surveys of one rail. */
  function errs(truth: Float64Array, surveys: number, seed: number, coverage = 0.95) {
    const n = truth.length;
    const random = createGenerator(seed);
    const sets = Array.from({ length: 8 }, () => independent(n, 1000, random));
    let [below, above] = [0, 0];
    const value = Math.max(...truth) - Math.min(...truth);
    const d = new Float64Array(n);
    for (let s = 0; s < surveys; s++) {
      random.fillNormals(d, 0, n);
      for (let i = 0; i < n; i++) d[i] = d[i]! + truth[i]!;
      const { interval } = greatestInterval(greatestRange(d, sets[s % sets.length]!), coverage);
      if (value < interval[0]) below++;
      if (value > interval[1]) above++;
    }
    return { below: below / surveys, above: above / surveys };
  }

  // 12,000 surveys: standard error 0.0014; a tail moved by a third (0.008) is five to six of them away.
  test('a lone pair: each end errs as often as it says, to a fifth', () => {
    const { below, above } = errs(Float64Array.of(30, 0, 15), 12_000, 21);
    expect(Math.abs(above - 0.025)).toBeLessThan(0.005);
    expect(Math.abs(below - 0.025)).toBeLessThan(0.005);
  });

  test('perfect points: L errs once in twenty times, less what the selection costs', () => {
    const { below } = errs(new Float64Array(6), 12_000, 22);
    expect(Math.abs(below - 0.047)).toBeLessThan(0.009);
  });

  test('tied peaks: L errs no more often than one in twenty', () => {
    const { below, above } = errs(Float64Array.of(20, 20, 20, 20, 0, 0, 0), 8000, 23);
    expect(below).toBeLessThan(0.054);
    expect(below).toBeGreaterThan(0.035);
    expect(above).toBeLessThan(0.003);
  });

  test('a lone pair of the size of noise: U errs no more often', () => {
    const truth = Float64Array.of(3.6, -3.6, 0, 0, 0, 0, 0, 0, 0);
    const { above } = errs(truth, 8000, 24);
    expect(above).toBeLessThan(0.031);
  });
});

describe('properties', () => {
  const profile = fc.array(fc.double({ min: -20, max: 20, noNaN: true }), { minLength: 3, maxLength: 12 });

  test('probability rises with the limit and is the tail level at both ends', () => {
    fc.assert(
      fc.property(profile, fc.constantFrom(0.8, 0.95, 0.99), (values, coverage) => {
        const d = Float64Array.from(values);
        const errors = independent(d.length, 600, createGenerator(31));
        const { interval, probabilityAtMost } = greatestInterval(greatestRange(d, errors), coverage);
        const [L, U] = interval;
        expect(L).toBeLessThanOrEqual(U);
        const tail = (1 - coverage) / 2;
        expect(probabilityAtMost(U)).toBeCloseTo(1 - tail, 3);
        // The level of L is read off a list of 600: to two places in it.
        if (L > 1e-6) expect(Math.abs(probabilityAtMost(L) - tail)).toBeLessThan(0.006);
        let before = 0;
        for (let k = 0; k <= 24; k++) {
          const here = probabilityAtMost((U * 1.5 * k) / 24);
          expect(here).toBeGreaterThanOrEqual(before - 1e-9);
          before = here;
        }
      }),
      { seed: 32, numRuns: 120 },
    );
  });

  test('a change of unit scales the interval and nothing else', () => {
    const errors = independent(7, 500, createGenerator(41));
    const d = Float64Array.of(0, 5, 2, 9, -4, 3, 1);
    const thousandfold = errorsOf(
      errors.draws.map((v) => 1024 * v),
      7,
      Float64Array.from({ length: 49 }, (_, k) => (k % 8 === 0 ? 1024 ** 2 : 0)),
    );
    const a = greatestInterval(greatestRange(d, errors), 0.95);
    const b = greatestInterval(
      greatestRange(
        d.map((v) => 1024 * v),
        thousandfold,
      ),
      0.95,
    );
    expect(b.interval[0] / 1024).toBeCloseTo(a.interval[0], 8);
    expect(b.interval[1] / 1024).toBeCloseTo(a.interval[1], 8);
    expect(b.probabilityAtMost(1024 * 12)).toBeCloseTo(a.probabilityAtMost(12), 8);
  });

  test('a wider coverage gives a wider interval', () => {
    const errors = independent(9, 2000, createGenerator(43));
    const d = Float64Array.of(0, 3, -2, 6, 1, 0, 2, -5, 4);
    const ends = [0.8, 0.95, 0.99].map((c) => greatestInterval(greatestRange(d, errors), c).interval);
    expect(ends[1]![0]).toBeLessThanOrEqual(ends[0]![0]);
    expect(ends[2]![1]).toBeGreaterThan(ends[1]![1]);
  });
});

/** Coverage over simulated surveys of shapes and characteristics written apart from the program's own. */
test.each([
  ['LS line', 'least-squares', 'bow', 11, 0],
  ['LS line', 'least-squares', 'waves', 21, 10],
  ['minimum zone', 'minimum-zone', 'sawtooth', 11, 6],
  ['end points', 'end-points', 'walk', 11, 3],
  ['five-station windows', 'local', 'bump', 15, 5],
] as const)('%s covers: %s of %s, %d stations, %d σ', (name, reference, shape, n, size) => {
  const surveys = 300;
  const random = createGenerator(51);
  const x = positions(n);
  const measure =
    reference === 'local' ? localStraightness('least-squares', x, 4)! : straightness(reference, x);
  const sets = Array.from({ length: 6 }, () => aboutLine(independent(n, 600, random), x));
  const e = new Float64Array(n);
  let missed = 0;
  for (let s = 0; s < surveys; s++) {
    const unscaled = lineTakenOut(shapes[shape]!(n, random), x);
    const reach = measure.explain(unscaled).value;
    const truth = unscaled.map((v) => (reach > 1e-9 ? (size * v) / reach : 0));
    random.fillNormals(e, 0, n);
    const d = lineTakenOut(
      truth.map((v, i) => v + e[i]!),
      x,
    );
    const { interval } = greatestInterval(measure.greatest(d, sets[s % sets.length]!), 0.95);
    const value =
      name === 'five-station windows' ? measure.explain(truth).value : characteristics[name]!(x)(truth);
    if (value < interval[0] - 1e-9 || value > interval[1] + 1e-9) missed++;
  }
  expect(missed / surveys).toBeLessThan(0.05 + 3 * Math.sqrt((0.05 * 0.95) / surveys));
});

test('draws grow with the coverage asked for, and shrink with the survey', () => {
  expect(adviseDrawCount(100, 0.95)).toBe(1000);
  expect(adviseDrawCount(100, 0.99)).toBe(5000);
  expect(adviseDrawCount(1e6, 0.95)).toBe(500);
});
