/**
 * Coverage intervals of characteristics that are the greatest of finitely many linear functionals of the true profile,
 *
 *   T(δ) = max over ℓ of ℓ·δ,
 *
 * observed as T(d), d = δ + e. Every range is such a characteristic (the ℓ are the differences of two points), and so are
 * the zones, the worst window and the greatest magnitude. s_ℓ is the standard uncertainty of ℓ·d.
 *
 * Lower end. For any c and any weights w_ℓ > 0, L = max (ℓ·d − c·w_ℓ) exceeds T(δ) only if for some ℓ
 *
 *   ℓ·e − g_ℓ > c·w_ℓ,   g_ℓ = T(δ) − ℓ·δ ≥ 0 its gap,
 *
 * because ℓ·d − c·w_ℓ = T(δ) + (ℓ·e − g_ℓ − c·w_ℓ). So with c the quantile of M = max (ℓ·e − g_ℓ)/w_ℓ the lower end holds for
 * every δ. The gaps are not known, but lower bounds ĝ_ℓ of all gaps are, with probability 1 − β: the observed gap minus the
 * largest effect of noise on it. Lower bounds make M greater, and L is wrong with probability at most (its level + β).
 * Functionals that cannot be the greatest no longer count: for a single peak c is the factor of one functional, for many
 * equal points it is the factor of all of them.
 *
 * Upper end. With ℓ° a functional with ℓ°·δ = T(δ), U = max (ℓ·d + z·s_ℓ) ≥ ℓ°·d + z·s_ℓ° is less than T(δ) only with the probability
 * that a normal (Student) variable is below −z. That holds for every δ, and nothing is simulated for it.
 *
 * Levels. U uses half of 1 − coverage. L uses the other half, and the part of its half that U does not use: if several ℓ
 * are equal, U is almost never wrong, so c needs only the level 1 − coverage. But c is never less than the two-sided factor
 * of one ℓ.
 *
 * @see V. Chernozhukov, S. Lee, A. Rosen, Econometrica 81 (2013) 667: intersection bounds; the ℓ that may
 *   matter are selected from the data first. @see J. Romano, A. Shaikh, M. Wolf, Econometrica 82 (2014) 1979: two steps, their errors added.
 * @see JCGM 106:2012, 7 (conformance probability).
 */
import { normalCdf, normalQuantile } from '../../base/statistics/normal.js';
import type { Distribution } from '../../base/statistics/distribution.js';
import { studentCoverageFactor, studentUpperTail } from '../../base/statistics/student-chi-square.js';

/** The parts of an end of an interval: the end is reads + factor·u. */
export interface EndParts {
  /** Value of the functional that determines the end. */
  readonly reads: number;
  /** −c for a lower end, z for an upper end. */
  readonly factor: number;
  /** Its standard uncertainty; 1 for a lower end with equal weights for all functionals. */
  readonly u: number;
}

/**
 * The magnitude of a characteristic, which is what is judged: a range itself, a signed one's distance from the middle of
 * its zone. Every end is proven by the construction above.
 */
export interface Reach {
  readonly value: number;
  /** At the coverage of the interval. */
  readonly interval: readonly [number, number];
  /** Upper end at level p ≤ 1/2: the true magnitude is greater with probability p at most. */
  readonly upperAt: (p: number) => number;
  /** Lower end at level p ≤ 1/2: the true magnitude is less with probability 2p at most. */
  readonly lowerAt: (p: number) => number;
  /** The least level at which the upper end lies within the limit: bound of the risk of wrong acceptance. 1: none. */
  readonly acceptanceRisk: (limit: number) => number;
  /** Bound of the risk that a true magnitude within the limit is found as far beyond it as here. 1: none. */
  readonly rejectionRisk: (limit: number) => number;
}

/** A coverage interval, and the confidence that the true value meets a limit. */
export interface CoverageResult {
  readonly reach: Reach;
  /** [L, U], unit of the characteristic. */
  readonly interval: readonly [number, number];
  readonly ends: readonly [EndParts, EndParts];
  /** Confidence that the true value (the magnitude of a signed value) is at most `limit`. */
  readonly probabilityAtMost: (limit: number) => number;
}

/** What the construction needs to know about one characteristic of one observed profile. */
export interface GreatestOf {
  /** T(d). */
  readonly value: number;
  /** Degrees of freedom of the errors' scale. */
  readonly degrees: number;
  /** max (ℓ·d + z·s_ℓ). */
  readonly upper: (z: number) => number;
  /** max (ℓ·d − c·w_ℓ). */
  readonly lower: (c: number) => number;
  /** s_ℓ/w_ℓ of the functional with ℓ·d = T(d): c is never less than z times this. */
  readonly share: number;
  /** max (ℓ·e − ĝ_ℓ)/w_ℓ of every draw; the bounds of all gaps hold with the given confidence. */
  readonly excesses: (confidence: number) => Distribution;
}

/** Share of 1 − coverage that the selection of functionals may use: β = 0.003 at 0.95. */
const SELECTION = 0.06;

/** @param coverage Coverage probability, in (0, 1). @throws {RangeError} outside. */
export function greatestInterval(of: GreatestOf, coverage: number): CoverageResult {
  const ends = new Ends(of, coverage);
  const p = (1 - coverage) / 2;
  return {
    ...inOrder(ends.lowerOf(p), ends.upperOf(p)),
    reach: ends.reach,
    probabilityAtMost: (limit) => ends.confidenceAtMost(limit),
  };
}

/** Value of an end. */
export const endAt = ({ reads, factor, u }: EndParts): number => reads + factor * u;
/** An end in another unit. */
export const scaledEnd = ({ reads, factor, u }: EndParts, by: number): EndParts => ({
  reads: reads * by,
  factor,
  u: u * by,
});
const ZERO: EndParts = { reads: 0, factor: 0, u: 0 };

/** The interval between two ends; if the lower one is above the upper one, the interval is the upper end alone. */
function inOrder(lower: EndParts, upper: EndParts): Pick<CoverageResult, 'interval' | 'ends'> {
  const [L, U] = [endAt(lower), endAt(upper)];
  return L <= U ? { interval: [L, U], ends: [lower, upper] } : { interval: [U, U], ends: [upper, upper] };
}

/** The parts at x of a function f that is piecewise linear. */
export function partsAt(f: (x: number) => number, x: number): EndParts {
  const step = 1e-3;
  const u = (f(x) - f(x - step)) / step;
  return { reads: f(x) - x * u, factor: x, u };
}

/** The two ends at any level p, the probability that one end is wrong. */
export class Ends {
  private held: Distribution | null = null;

  constructor(
    private readonly of: GreatestOf,
    private readonly coverage: number,
  ) {
    if (!(coverage > 0 && coverage < 1))
      throw new RangeError(`a coverage lies inside (0, 1), not at ${coverage}`);
  }

  /** Most of the work of an interval, and only lower ends need it. */
  private get excesses(): Distribution {
    return (this.held ??= this.of.excesses(1 - SELECTION * (1 - this.coverage)));
  }

  /** U at level p ≤ 1/2. */
  upperOf(p: number): EndParts {
    return partsAt(this.of.upper, factorOf(p, this.of.degrees));
  }

  /** L at level p ≤ 1/2: c is for twice the level, minus the part for the selection. */
  lowerOf(p: number): EndParts {
    const { of, excesses } = this;
    const tied = excesses.quantile(1 - 2 * p * (1 - SELECTION));
    const c = Math.max(tied, of.share * factorOf(p, of.degrees));
    return of.lower(c) <= 0 ? ZERO : partsAt((factor) => of.lower(-factor), -c);
  }

  get reach(): Reach {
    const p = (1 - this.coverage) / 2;
    const upperAt = (level: number) => (level === 0 ? Infinity : endAt(this.upperOf(level)));
    const lowerAt = (level: number) => (level === 0 ? 0 : endAt(this.lowerOf(level)));
    return {
      value: this.of.value,
      get interval(): readonly [number, number] {
        return [Math.min(lowerAt(p), upperAt(p)), upperAt(p)];
      },
      upperAt,
      lowerAt,
      acceptanceRisk: (limit) => (limit >= this.of.value ? this.levelAbove(limit) : 1),
      rejectionRisk: (limit) => this.rejectionRisk(limit),
    };
  }

  /**
   * The lower end with the greatest c that still leaves it beyond the limit errs where M exceeds that c, or where the gaps
   * do not hold. Of B draws k that exceed it are a level of (k + 1)/(B + 1).
   * @see B. Phipson, G. Smyth, Stat. Appl. Genet. Mol. Biol. 9 (2010) 39: levels of simulated tests are never 0.
   */
  private rejectionRisk(limit: number): number {
    const { of, excesses, coverage } = this;
    if (!(of.value > limit)) return 1;
    const c = bisect((x) => of.lower(x) > limit, 0, MAX_FACTOR * Math.max(1, of.share));
    return Math.min(1, excesses.levelBeyond(c) + SELECTION * (1 - coverage));
  }

  /**
   * Confidence that T(δ) ≤ limit: 1 − p if the upper end at level p is equal to the limit, p if the lower end is, and 0.5
   * between the two. Increases with the limit.
   */
  confidenceAtMost(limit: number): number {
    if (limit < 0) return 0;
    return limit >= this.of.value ? 1 - this.levelAbove(limit) : this.levelBelow(limit);
  }

  /** The level p ≤ 1/2 at which U is equal to the limit. */
  private levelAbove(limit: number): number {
    const { of } = this;
    return tailAbove(
      bisect((f) => of.upper(f) <= limit, 0, MAX_FACTOR),
      of.degrees,
    );
  }

  /** The level p ≤ 1/2 at which L is equal to the limit. */
  private levelBelow(limit: number): number {
    const { of, excesses } = this;
    const c = bisect((f) => of.lower(f * of.share) > limit, 0, MAX_FACTOR);
    const tied = (1 - excesses.shareAtMost(c * of.share)) / (2 * (1 - SELECTION));
    return Math.min(0.5, Math.max(tailAbove(c, of.degrees), tied));
  }
}

/**
 * The greatest of several such characteristics, each times its factor. U is the greatest of their upper ends, because the
 * functional that determines the true value belongs to one of them. L is the greatest of their lower ends, each at its share
 * of the level (Bonferroni).
 */
export function greatestOfEnds(
  parts: readonly { readonly ends: Ends; readonly factor: number }[],
  coverage: number,
): CoverageResult {
  const p = (1 - coverage) / 2;
  const n = parts.length;
  const most = (of: (part: (typeof parts)[number]) => EndParts) =>
    parts.map((part) => scaledEnd(of(part), part.factor)).reduce((a, b) => (endAt(b) > endAt(a) ? b : a));
  const made = inOrder(
    most(({ ends }) => ends.lowerOf(p / n)),
    most(({ ends }) => ends.upperOf(p)),
  );
  return {
    ...made,
    reach: {
      value: Math.max(...parts.map(({ ends, factor }) => ends.reach.value * factor)),
      interval: made.interval,
      upperAt: (level) => Math.max(...parts.map(({ ends, factor }) => ends.reach.upperAt(level) * factor)),
      lowerAt: (level) =>
        Math.max(...parts.map(({ ends, factor }) => ends.reach.lowerAt(level / n) * factor)),
      acceptanceRisk: (limit) =>
        Math.max(...parts.map(({ ends, factor }) => ends.reach.acceptanceRisk(limit / factor))),
      rejectionRisk: (limit) =>
        Math.min(1, ...parts.map(({ ends, factor }) => n * ends.reach.rejectionRisk(limit / factor))),
    },
    probabilityAtMost: (limit) => {
      const least = Math.min(...parts.map(({ ends, factor }) => ends.confidenceAtMost(limit / factor)));
      return least >= 0.5 ? least : Math.min(0.5, n * least);
    },
  };
}

/** Largest factor: the tail of the normal distribution beyond it is below the smallest number. */
const MAX_FACTOR = 40;

/** The z that a normal or Student variable exceeds with probability p ≤ 1/2. */
export const factorOf = (p: number, degrees: number): number =>
  p === 0
    ? Infinity
    : degrees === Infinity
      ? normalQuantile(1 - p)
      : p === 0.5
        ? 0
        : studentCoverageFactor(1 - 2 * p, degrees);

export const tailAbove = (z: number, degrees: number): number =>
  degrees === Infinity ? normalCdf(-z) : studentUpperTail(z, degrees);

/** The largest x for which a condition holds. */
function bisect(holds: (x: number) => boolean, low: number, high: number): number {
  let [a, b] = [low, high];
  for (let k = 0; k < 34; k++) {
    const middle = (a + b) / 2;
    if (holds(middle)) a = middle;
    else b = middle;
  }
  return a;
}
