/**
 * `corrections.timeLimit`: the seconds that the search for the moves may take. It ends the job, not the search: if a clock ended
 * the search, a slower machine would give another list of moves.
 */
import type { OnSearch } from '../results/corrections/programme.js';

/** The job ends without a report. */
export class SearchTookTooLong extends Error {
  constructor(limitS: number) {
    super(
      `given up, nothing was written: the search for the moves took longer than the ${limitS} s of corrections.timeLimit in job.json. A larger corrections.timeLimit, or none, lets it end; a lower one never gives another list of moves`,
    );
  }
}

/** Time between two messages about a search, s: most plans are found sooner, without a message. */
const SAY_EVERY_S = 3;

/**
 * Watches a search from outside. The time begins with its first message.
 *
 * @param limitS null: no limit. @param now A clock that never goes back, ms.
 */
export function watchSearch(
  limitS: number | null,
  note: (text: string) => void = () => undefined,
  now: () => number = () => performance.now(),
): OnSearch {
  let began: number | null = null;
  let said = 0;
  return (gap) => {
    began ??= now();
    const seconds = (now() - began) / 1000;
    if (limitS !== null && seconds > limitS) throw new SearchTookTooLong(limitS);
    if (seconds - said < SAY_EVERY_S) return;
    said = seconds;
    const better = Number.isFinite(gap)
      ? `a better plan could be cheaper by ${(100 * gap).toFixed(1)} % at most`
      : 'no plan yet';
    note(`looking for the moves, ${seconds.toFixed(0)} s: ${better}`);
  };
}
