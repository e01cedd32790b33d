const MIN_DRAWS = 500;
const MAX_DRAWS = 10_000;
/** Limit of draws × unknowns for one adjustment. */
const MAX_RANDOM_NUMBERS = 2e7;

/**
 * Number of simulated surveys: about twenty-five beyond each end of an interval, so that the probability there has a relative
 * standard error of a fifth (1000 draws at 0.95, 5000 at 0.99). From 500 to 10 000, and fewer for a very large survey.
 *
 * @param unknowns Number of unknowns of the adjustment.
 * @param coverage Coverage probability, in (0, 1).
 */
export function adviseDrawCount(unknowns: number, coverage: number): number {
  const wanted = Math.ceil(50 / (1 - coverage) - 1e-9);
  return Math.max(
    MIN_DRAWS,
    Math.min(wanted, MAX_DRAWS, Math.floor(MAX_RANDOM_NUMBERS / Math.max(1, unknowns))),
  );
}
