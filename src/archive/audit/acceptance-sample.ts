/**
 * A seeded sample of a large archive, as acceptance sampling takes one, and what such a sample can say.
 *
 * @see ISO 2859-1, tables 1 (code letters, general inspection level II) and 2-A (sample sizes); from memory. Accepted is
 *   with no report that differs: the plan for an archive in which none may.
 */

/** Reports in the archive up to which a sample size holds. */
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

/** How many of so many reports are drawn; all of a small archive. */
export const sampleSize = (reports: number): number =>
  Math.min(reports, SIZES.find(([upTo]) => reports <= upTo)![1]);

/**
 * How many reports of the archive may differ at most, when none of the sample does: with the stated confidence, by the
 * hypergeometric distribution.
 */
export function mostThatDiffer(reports: number, sample: number, confidence = 0.95): number {
  let chance = 1;
  for (let differ = 1; differ <= reports; differ++) {
    // That a sample without return misses all of them: one more that differs leaves one place less for the others.
    chance *= Math.max(0, reports - sample - differ + 1) / (reports - differ + 1);
    if (chance < 1 - confidence) return differ - 1;
  }
  return reports;
}

/** @param next Numbers from 0 to 1. @returns Some of the list, in its order. */
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
