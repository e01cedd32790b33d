/** How fast a run is now, and how long it will take: unchanged jobs take less time than others. */

/** The rate is taken over this time before now, ms. */
const WINDOW_MS = 30_000;

export interface Pace {
  /** @returns Jobs per second lately; null: before the first job. */
  readonly rate: (done: number) => number | null;
}

/** @param now A clock that never goes back, ms. */
export function startPace(now: () => number = () => performance.now()): Pace {
  const marks = [{ at: now(), done: 0 }];
  return {
    rate(done) {
      const at = now();
      // The last mark before the window stays: of a slow run there may be none within.
      while (marks.length > 1 && marks[1]!.at <= at - WINDOW_MS) marks.shift();
      const { at: from, done: before } = marks[0]!;
      // One mark per second is enough.
      if (at - marks.at(-1)!.at >= 1_000) marks.push({ at, done });
      return done === 0 ? null : ((done - before) * 1_000) / Math.max(1, at - from);
    },
  };
}

/** "3 s", "4 min", "1.5 h" */
export function timeText(seconds: number): string {
  const s = Math.ceil(seconds);
  return s < 90 ? `${s} s` : s < 5400 ? `${Math.round(s / 60)} min` : `${(s / 3600).toFixed(1)} h`;
}
