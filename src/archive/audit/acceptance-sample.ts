/**
 * A seeded acceptance sample of a large archive, and the statement that it permits.
 *
 * @see ISO 2859-1, tables 1 (code letters, general inspection level II) and 2-A (sample sizes); from memory. Acceptance number
 *   0: the archive is accepted only if no report of the sample differs.
 */

/** Lot size (number of reports) up to which each sample size is used. */
const SIZES: readonly (readonly [upTo: number, sample: number])[] = [
  [8, 2],
  [15, 3],
  [25, 5],
  [50, 8],
  [90, 13],
  [150, 20],
  [280, 32],
  [500, 50],
  [1_200, 80],
  [3_200, 125],
  [10_000, 200],
  [35_000, 315],
  [150_000, 500],
  [500_000, 800],
  [Infinity, 1_250],
];

/** Sample size for a number of reports; a small archive is drawn completely. */
export const sampleSize = (reports: number): number =>
  Math.min(reports, SIZES.find(([upTo]) => reports <= upTo)![1]);

/**
 * Upper bound of the number of reports of the archive that differ, if none of the sample does: at the stated confidence, by
 * the hypergeometric distribution.
 */
export function mostThatDiffer(reports: number, sample: number, confidence = 0.95): number {
  let chance = 1;
  for (let differ = 1; differ <= reports; differ++) {
    // Probability that a sample without replacement contains none of them.
    chance *= Math.max(0, reports - sample - differ + 1) / (reports - differ + 1);
    if (chance < 1 - confidence) return differ - 1;
  }
  return reports;
}

/** @param next Numbers from 0 to 1. @returns A sample of the list, in its order. */
export function drawSample<T>(list: readonly T[], size: number, next: () => number): T[] {
  const places = list.map((_, i) => i);
  for (let k = 0; k < Math.min(size, places.length); k++) {
    const other = k + Math.floor(next() * (places.length - k));
    [places[k], places[other]] = [places[other]!, places[k]!];
  }
  return places
    .slice(0, size)
    .sort((a, b) => a - b)
    .map((i) => list[i]!);
}
