/**
 * A functional of a profile: reads it, changes nothing, returns one number. It must be a seminorm:
 * T(a·d) = |a|·T(d) and T(c + d) ≤ T(c) + T(d). Every range about a fitted line or plane is one, the
 * minimum zone, the worst of several windows, and max |d|.
 */
export type ProfileFunctional = (profile: Float64Array) => number;

/** Draws of n numbers each, one after the other. */
export interface Draws {
  readonly count: number;
  /** Shape (count × n), row-major: draw b fills b·n … (b+1)·n − 1. */
  readonly values: Float64Array;
}

/** One observed profile with what is known of its noise. All lengths in the same unit, positions apart. */
export interface ProfileSample {
  /** Observed deviations d = δ + e, shape (n). */
  readonly observed: Float64Array;
  /** Positions along, shape (n), strictly ascending within a segment; any unit. */
  readonly positions: Float64Array;
  /**
   * Index at which each stretch of rail begins, first always 0; default [0]. Between segments nothing is
   * taken to be continuous: two rails in one profile (coplanarity) are two segments.
   */
  readonly segments?: readonly number[];
  /** Draws of e ~ N(0, Σ), any factor that scales Σ included, in the unit of `observed`. */
  readonly noise: Draws;
}

/** The b-th draw, a view and not a copy. */
export const drawOf = (draws: Draws, b: number): Float64Array => {
  const n = draws.values.length / draws.count;
  return draws.values.subarray(b * n, (b + 1) * n);
};
