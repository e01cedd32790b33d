/**
 * A functional of a profile: reads it, changes nothing, returns one number. It must be a seminorm,
 * T(a·d) = |a|·T(d) and T(c + d) ≤ T(c) + T(d): every range about a fitted line or plane, the minimum
 * zone, the worst of several windows and max |d| are.
 */
export interface ProfileFunctional {
  (profile: Float64Array): number;
  /**
   * Where there is one, T is the range of what it leaves: it takes a reference line or plane, linear in the profile,
   * out of it in place. It makes T of many sums of profiles cheap.
   */
  readonly takeOut?: (profile: Float64Array) => void;
}

/** Draws of n numbers each, one after the other. */
export interface Draws {
  readonly count: number;
  /** Shape (count × n), row-major: draw b fills b·n … (b + 1)·n − 1. */
  readonly values: Float64Array;
}

/** One observed profile with what is known of its noise. Deviations and noise share one unit. */
export interface ProfileSample {
  /** Observed deviations d = δ + e, shape (n), n ≥ 1. */
  readonly observed: Float64Array;
  /** Positions along, shape (n), any unit, strictly ascending within a segment. */
  readonly positions: Float64Array;
  /**
   * Index at which each stretch of rail begins; the first is always 0, the default [0]. Nothing is
   * taken to be smooth from one segment to the next: two rails in one profile (coplanarity) are two.
   */
  readonly segments?: readonly number[];
  /** Draws of e ~ N(0, Σ), any factor that scales Σ included; at least two. */
  readonly noise: Draws;
}

/** The b-th draw, a view and not a copy. */
export function drawOf(draws: Draws, b: number): Float64Array {
  const n = draws.values.length / draws.count;
  return draws.values.subarray(b * n, (b + 1) * n);
}

/** The row that stands in `rows` from `at` on, into `to`: of so few numbers a copy costs less than a view. */
export function copyRow(rows: Float64Array, at: number, to: Float64Array): void {
  for (let i = 0; i < to.length; i++) to[i] = rows[at + i]!;
}

const FEWEST_DRAWS = 500;
const MOST_DRAWS = 10_000;
/** Numbers drawn in all for one adjustment, beyond which there are fewer draws. */
const MOST_DRAWN = 2e7;

/**
 * How many surveys are simulated: some twenty-five beyond each end of an interval, which leaves a standard error of a
 * fifth in the probability there (1000 draws at 0.95, 5000 at 0.99); from 500 to 10 000, and fewer of a very large
 * survey.
 *
 * @param unknowns Of the adjustment.
 * @param coverage Coverage probability, in (0, 1).
 */
export function adviseDrawCount(unknowns: number, coverage: number): number {
  const wanted = Math.ceil(50 / (1 - coverage) - 1e-9);
  return Math.max(FEWEST_DRAWS, Math.min(wanted, MOST_DRAWS, Math.floor(MOST_DRAWN / Math.max(1, unknowns))));
}
