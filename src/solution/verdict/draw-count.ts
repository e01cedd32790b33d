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
