/** Very long surveys on a picture of some 600 px: what is kept so that nothing that matters goes unseen. */

/** Up to this many stations a rail: a bar at each point; beyond, an uncertainty band. */
export const mostBars = 60;
/** Up to this many: a marker at each point; beyond, the line alone. */
export const mostMarkers = 160;
/** Up to this many: every point is drawn; beyond, least and greatest of each bin, and the extremes. */
export const mostPoints = 480;
const bins = 240;
/** A gap narrower than this, px, would not show in print. */
const visibleGapPx = 1.5;

export interface Sample {
  readonly station: number;
  readonly x: number;
  /** null: not read, or not determined. */
  readonly y: number | null;
  /** Half-width of the coverage interval of this point. */
  readonly half: number;
}

export interface Read extends Sample {
  readonly y: number;
}

export interface ThinnedSeries {
  /** Runs of neighbouring stations that were read; a line goes along each, never from one to the next. */
  readonly runs: readonly (readonly Read[])[];
  /** The same for the band: extremes of y ± half in each bin. */
  readonly bands: readonly (readonly { readonly x: number; readonly lo: number; readonly hi: number }[])[];
  readonly isThinned: boolean;
}

/**
 * @param samples All nominal stations of the rail in order, read or not.
 * @param keep Stations that must stay (those that make a value).
 * @param pxPerX Pixels for one unit of x, to judge whether a gap can be seen.
 */
export function thin(samples: readonly Sample[], keep: ReadonlySet<number>, pxPerX: number): ThinnedSeries {
  const isThinned = samples.length > mostPoints;
  const runs = runsOf(samples, isThinned ? visibleGapPx / pxPerX : 0);
  if (!isThinned) {
    return {
      runs,
      bands: runs.map((run) => run.map(({ x, y, half }) => ({ x, lo: y - half, hi: y + half }))),
      isThinned,
    };
  }
  const first = samples[0]!.x;
  const binWidth = (samples[samples.length - 1]!.x - first) / bins;
  const binOf = (x: number): number => Math.min(bins - 1, Math.floor((x - first) / binWidth));
  return {
    runs: runs.map((run) => thinRun(run, binOf, keep)),
    bands: runs.map((run) => bandOf(run, binOf)),
    isThinned,
  };
}

/** Splits where stations are missing; of a thinned series only where the gap is wide enough to be seen. */
function runsOf(samples: readonly Sample[], leastGap: number): Read[][] {
  const runs: Read[][] = [];
  let run: Read[] = [];
  let isBroken = true;
  for (const sample of samples) {
    if (sample.y === null) {
      isBroken = true;
      continue;
    }
    const previous = run[run.length - 1];
    if (isBroken && (previous === undefined || sample.x - previous.x >= leastGap)) runs.push((run = []));
    run.push(sample as Read);
    isBroken = false;
  }
  return runs;
}

/** First, last, least and greatest of each bin, in order, and whatever must stay. */
function thinRun(run: readonly Read[], binOf: (x: number) => number, keep: ReadonlySet<number>): Read[] {
  const kept: Read[] = [];
  for (let start = 0; start < run.length;) {
    const bin = binOf(run[start]!.x);
    let end = start;
    let [least, greatest] = [start, start];
    for (; end < run.length && binOf(run[end]!.x) === bin; end++) {
      if (run[end]!.y < run[least]!.y) least = end;
      if (run[end]!.y > run[greatest]!.y) greatest = end;
    }
    for (let i = start; i < end; i++) {
      const isEnd = i === 0 || i === run.length - 1;
      if (i === least || i === greatest || isEnd || keep.has(run[i]!.station)) kept.push(run[i]!);
    }
    start = end;
  }
  return kept;
}

function bandOf(run: readonly Read[], binOf: (x: number) => number): { x: number; lo: number; hi: number }[] {
  const band: { x: number; lo: number; hi: number }[] = [];
  for (let start = 0; start < run.length;) {
    const bin = binOf(run[start]!.x);
    let end = start;
    let [lo, hi] = [Infinity, -Infinity];
    for (; end < run.length && binOf(run[end]!.x) === bin; end++) {
      lo = Math.min(lo, run[end]!.y - run[end]!.half);
      hi = Math.max(hi, run[end]!.y + run[end]!.half);
    }
    const x = (run[start]!.x + run[end - 1]!.x) / 2;
    band.push({ x, lo, hi });
    start = end;
  }
  const [first, last] = [band[0], band[band.length - 1]];
  if (first !== undefined && last !== undefined) {
    // The band begins and ends where the run does.
    band.unshift({ ...first, x: run[0]!.x });
    band.push({ ...last, x: run[run.length - 1]!.x });
  }
  return band;
}
