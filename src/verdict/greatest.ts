/**
 * Coverage intervals of characteristics that are the greatest of finitely many linear functionals of the true profile,
 *
 *   T(δ) = max over ℓ of ℓ·δ,
 *
 * observed as T(d), d = δ + e. Every range is one (the ℓ are the differences of two points), and so are the zones, the
 * worst window and the greatest magnitude. s_ℓ is the standard uncertainty of ℓ·d.
 *
 * Lower end. For any c and any weights w_ℓ > 0, L = max (ℓ·d − c·w_ℓ) exceeds T(δ) only where for some ℓ
 *
 *   ℓ·e − g_ℓ > c·w_ℓ,   g_ℓ = T(δ) − ℓ·δ ≥ 0 its gap,
 *
 * for ℓ·d − c·w_ℓ = T(δ) + (ℓ·e − g_ℓ − c·w_ℓ). So with c the quantile of M = max (ℓ·e − g_ℓ)/w_ℓ the lower end holds for
 * every δ. The gaps are not known, but lower bounds ĝ_ℓ of all of them are, with probability 1 − β: the observed gap less
 * what noise can make of it. They make M greater, and L errs with probability at most (its level + β). What cannot be
 * the greatest thus no longer counts: of a lone peak c is the factor of a single functional, of many equal ones that of
 * them all.
 *
 * Upper end. With ℓ° one that makes T(δ), U = max (ℓ·d + z·s_ℓ) ≥ ℓ°·d + z·s_ℓ° is less than T(δ) only with the probability
 * with which a normal (Student) variable is below −z. That holds for every δ. Where noise alone might read as much as was
 * read, z can be smaller: of all rails of value θ the one that most often reads as little as t is the one in which ℓ°
 * stands out alone, δ = θ·Σℓ°/s² (for independent errors and a range this is Anderson's theorem applied to each slice of
 * given ℓ°·e; elsewhere the attack of tests/study is the evidence). z follows from P(T(δ + e) ≤ t) on that rail. A rail that
 * reads less than half of all perfect ones is taken to read as the median: that noise is smaller than stated is no
 * evidence of a rail better than perfect.
 *
 * Levels. U takes half of 1 − coverage. L takes the other half, and what U leaves of its own: where several ℓ tie, U errs
 * hardly ever, so that c needs only the level 1 − coverage, but is never less than the two-sided factor of one ℓ.
 *
 * @see V. Chernozhukov, S. Lee, A. Rosen, Econometrica 81 (2013) 667: intersection bounds, with which ℓ may matter found
 *   from the data first. @see J. Romano, A. Shaikh, M. Wolf, Econometrica 82 (2014) 1979: two steps, their errors added.
 * @see T. W. Anderson, Proc. Amer. Math. Soc. 6 (1955) 170: symmetric convex sets under a shift.
 * @see JCGM 106:2012, 7 (conformance probability).
 */
import { normalCdf, normalQuantile } from './normal.js';
import { quantile, shareAtMost } from './quantile.js';
import { studentCoverageFactor, studentUpperTail } from './student-chi-square.js';

/** A coverage interval, and the confidence that the true value meets a limit. */
export interface CoverageResult {
  /** [L, U], unit of the characteristic. */
  readonly interval: readonly [number, number];
  /** Confidence that the true value (its magnitude, where it is signed) is at most `limit`. */
  readonly probabilityAtMost: (limit: number) => number;
}

/** One characteristic of one observed profile, as the construction asks about it. */
export interface GreatestOf {
  /** T(d). */
  readonly value: number;
  /** T(e) of every draw, ascending. */
  readonly noise: Float64Array;
  /** Degrees of freedom of the errors' scale. */
  readonly degrees: number;
  /** max (ℓ·d + z·s_ℓ). */
  readonly upper: (z: number) => number;
  /** max (ℓ·d − c·w_ℓ). */
  readonly lower: (c: number) => number;
  /** s_ℓ/w_ℓ of the functional that makes T(d): c is never less than z times this. */
  readonly share: number;
  /** max (ℓ·e − ĝ_ℓ)/w_ℓ of every draw, ascending, with gaps that all hold with the confidence given. */
  readonly excesses: (confidence: number) => Float64Array;
  /** What P(T(θ·Σℓ/s² + e) ≤ t) is made of, for the functional that makes the upper end; null where s is 0. */
  readonly loneRail: (t: number) => LoneRail | null;
}

/**
 * A rail in which one functional stands out alone. Each draw e is taken apart into v = ℓ·e and the rest; T stays at most t
 * while θ + v lies between `from` and `to` (from > to: never).
 */
export interface LoneRail {
  /** Of the functional. */
  readonly s: number;
  readonly from: Float64Array;
  readonly to: Float64Array;
  /** Of each draw, by what the scale is estimated wrong; null: by nothing. */
  readonly spread: Float64Array | null;
  /** T(Σℓ/s²) ≥ 1. */
  readonly size: number;
}

/** Of 1 − coverage, the part that finding out which functionals matter may cost: β = 0.003 at 0.95. */
const SELECTION = 0.06;

/** @param coverage Coverage probability, in (0, 1). @throws {RangeError} outside. */
export function greatestInterval(of: GreatestOf, coverage: number): CoverageResult {
  const ends = new Ends(of, coverage);
  const alpha = 1 - coverage;
  const U = ends.upperAt(alpha / 2);
  return {
    interval: [Math.min(ends.lowerAt(alpha / 2), U), U],
    probabilityAtMost: (limit) => ends.confidenceAtMost(limit),
  };
}

/** No noise that the characteristic could see: the value itself. */
export const exactly = (value: number): CoverageResult => ({
  interval: [value, value],
  probabilityAtMost: (limit) => (Math.abs(value) <= limit ? 1 : 0),
});

/** The two ends at any level p: the probability that each is to err with. */
export class Ends {
  /** T(d), or the median of noise alone where that is more. */
  private readonly read: number;
  private readonly lone: LoneRail | null;
  private readonly excesses: Float64Array;

  constructor(
    private readonly of: GreatestOf,
    coverage: number,
  ) {
    if (!(coverage > 0 && coverage < 1))
      throw new RangeError(`a coverage lies inside (0, 1), not at ${coverage}`);
    const { value, noise } = of;
    this.read = Math.max(value, quantile(noise, 0.5));
    // Beyond twice what any draw makes nothing but ℓ itself decides.
    this.lone = this.read < 2 * noise[noise.length - 1]! ? of.loneRail(this.read) : null;
    this.excesses = of.excesses(1 - SELECTION * (1 - coverage));
  }

  /** U at level p ≤ 1/2. */
  upperAt(p: number): number {
    return this.of.upper(this.factorAbove(p)) + this.missing;
  }

  /** L at level p ≤ 1/2: c for twice the level, less what the selection costs. */
  lowerAt(p: number): number {
    const { of, excesses } = this;
    const tied = quantile(excesses, 1 - 2 * p * (1 - SELECTION));
    return Math.max(0, of.lower(Math.max(tied, of.share * factorOf(p, of.degrees))));
  }

  /** By how much d is taken to read more than it does. */
  get missing(): number {
    return this.read - this.of.value;
  }

  /** z of the upper end at level p. */
  factorAbove(p: number): number {
    const single = factorOf(p, this.of.degrees);
    const { lone, read } = this;
    if (lone === null) return single;
    const theta = bisect((x) => readsAtMost(lone, x) > p, 0, read + Math.max(0, single) * lone.s);
    return Math.min(single, (theta - read) / lone.s);
  }

  /**
   * Confidence that T(δ) ≤ limit: 1 − p where the upper end at level p is the limit, p where the lower one is, and even
   * between the two. Rises with the limit.
   */
  confidenceAtMost(limit: number): number {
    if (limit < 0) return 0;
    const above = this.levelAbove(limit);
    return above <= 0.5 ? 1 - above : Math.min(0.5, this.levelBelow(limit));
  }

  /** The level p at which U is the limit, at most 1. */
  private levelAbove(limit: number): number {
    const { of, lone, read } = this;
    const z = bisect((f) => of.upper(f) + this.missing <= limit, -FARTHEST, FARTHEST);
    const single = tailAbove(z, of.degrees);
    return lone === null ? single : Math.min(single, readsAtMost(lone, read + z * lone.s));
  }

  /** The level p at which L is the limit, at most 1/2. */
  private levelBelow(limit: number): number {
    const { of, excesses } = this;
    const c = bisect((f) => of.lower(f * of.share) > limit, 0, FARTHEST);
    const tied = (1 - shareAtMost(excesses, c * of.share)) / (2 * (1 - SELECTION));
    return Math.min(0.5, Math.max(tailAbove(c, of.degrees), tied));
  }
}

/** No factor is farther out: the normal tail there is less than any number holds. */
const FARTHEST = 40;

/** The z above which a normal or Student variable lies with probability p ≤ 1/2. */
export const factorOf = (p: number, degrees: number): number =>
  degrees === Infinity ? normalQuantile(1 - p) : p === 0.5 ? 0 : studentCoverageFactor(1 - 2 * p, degrees);

function tailAbove(z: number, degrees: number): number {
  if (degrees === Infinity) return normalCdf(-z);
  return z >= 0 ? studentUpperTail(z, degrees) : 1 - studentUpperTail(-z, degrees);
}

/** P(T ≤ t) on the lone rail of value θ. */
function readsAtMost({ s, from, to, spread, size }: LoneRail, theta: number): number {
  let sum = 0;
  const middle = theta / size;
  for (let b = 0; b < to.length; b++) {
    if (to[b]! <= from[b]!) continue;
    const u = s * (spread === null ? 1 : spread[b]!);
    sum += quickCdf((to[b]! - middle) / u) - quickCdf((from[b]! - middle) / u);
  }
  return sum / to.length;
}

/** The x up to which a condition holds. */
function bisect(holds: (x: number) => boolean, low: number, high: number): number {
  let [a, b] = [low, high];
  for (let k = 0; k < 34; k++) {
    const middle = (a + b) / 2;
    if (holds(middle)) a = middle;
    else b = middle;
  }
  return a;
}

/** Φ from a table of steps of 1/128 with straight pieces between: to 1e-5, for sums over draws. */
const STEPS = 128;
const REACH = 8;
const table = Float64Array.from({ length: 2 * REACH * STEPS + 2 }, (_, k) => normalCdf(k / STEPS - REACH));
function quickCdf(z: number): number {
  if (z >= REACH) return 1;
  if (z <= -REACH) return 0;
  const at = (z + REACH) * STEPS;
  const k = Math.floor(at);
  return table[k]! + (at - k) * (table[k + 1]! - table[k]!);
}
