/** Rows that were copied into another pass, rail, set-up or phase. */
import type { Findings } from '../../../base/diagnostics/diagnostic.js';
import { axes } from '../../job/job.js';
import { isTooEqual } from './compare-passes.js';
import { rms, type Series } from './series.js';

/** So many neighbouring readings make the pattern that is looked for elsewhere. */
const WINDOW = 5;

/**
 * Runs of neighbouring readings that are, to the last digit, in another series too. A pass that is the same as
 * a whole is PASSES_IDENTICAL, and not said again.
 *
 * Asks: ROWS_COPIED, the longest run of each two series.
 */
export function findCopies(series: readonly Series[], findings: Findings): void {
  for (const axis of axes) {
    for (const unit of ['um', 'um/m'] as const) {
      findCopiesOf(
        series.filter((s) => s.axis === axis && s.unit === unit),
        findings,
      );
    }
  }
}

interface At {
  readonly series: Series;
  readonly index: number;
}

function findCopiesOf(series: readonly Series[], findings: Findings): void {
  const seen = new Map<string, At>();
  for (const other of series) {
    const runs = new Map<Series, { run: number; at: number; from: number }>();
    for (let i = 0; i + WINDOW <= other.cells.length; i++) {
      const key = keyAt(other, i);
      const found = seen.get(key);
      if (found === undefined) {
        seen.set(key, { series: other, index: i });
        continue;
      }
      if (found.series === other) continue;
      const run = runLength(found, other, i);
      if (run > (runs.get(found.series)?.run ?? 0)) runs.set(found.series, { run, at: i, from: found.index });
      i += run - 1;
    }
    for (const [one, { run, at }] of runs) report(one, other, at, run, seen.size, findings);
  }
}

function keyAt({ cells }: Series, i: number): string {
  let key = '';
  for (let k = i; k < i + WINDOW; k++) key += `${cells[k]!.value}|`;
  return key;
}

function runLength({ series, index }: At, other: Series, i: number): number {
  let run = 0;
  for (;;) {
    const [a, b] = [series.cells[index + run], other.cells[i + run]];
    if (a === undefined || b === undefined || a.value !== b.value) return run;
    run++;
  }
}

function report(
  one: Series,
  other: Series,
  at: number,
  run: number,
  tries: number,
  findings: Findings,
): void {
  const cells = other.cells.slice(at, at + run);
  const u = rms(cells.map((cell) => cell.u));
  const values = cells.map((cell) => cell.value);
  // A rail that was adjusted does not read as before, however coarse the display.
  const isOtherPhase =
    one.phase !== other.phase &&
    one.rail === other.rail &&
    one.pass === other.pass &&
    one.from === other.from &&
    run >= WINDOW &&
    new Set(values).size >= 4;
  if (!isOtherPhase && !isTooEqual(values, u, other.display, tries)) return;
  // Passes of one rail are near each other anyway, the nearer the better the instrument is.
  if (one.condition === other.condition && run < WINDOW + 3) return;
  const isWholePass =
    one.condition === other.condition && run === other.cells.length && run === one.cells.length;
  if (isWholePass) return;
  const words = (s: Series) =>
    `rail ${s.rail}, ${s.axis}, pass ${s.pass} from ${s.from.split('|')[0]!} (${s.phase})`;
  const [first, last] = [cells[0]!, cells[run - 1]!];
  const data = {
    one: words(one),
    other: capital(words(other)),
    from: first.station,
    to: last.station,
    count: run,
  };
  findings.ask('ROWS_COPIED', data, { ...first.source });
}

const capital = (text: string): string => text.slice(0, 1).toUpperCase() + text.slice(1);
