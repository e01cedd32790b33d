/** Rows that were copied: into another pass, rail, set-up or phase, or twice into the same file. */
import type { Findings } from '../../diagnostics/diagnostic.js';
import { axes } from '../../job/job.js';
import type { Reading, Readings } from '../readings.js';
import { isTooEqual } from './compare-passes.js';
import { displaysOf, rms, valueOf } from './series.js';
import type { Series } from './series.js';

/** So many neighbouring readings make the pattern that is looked for elsewhere. */
const WINDOW = 5;

/**
 * Runs of neighbouring readings that stand to the last digit in another series too. A pass that is the same as
 * a whole is PASSES_IDENTICAL, and not said again.
 *
 * Warns: ROWS_COPIED, the longest run of each two series.
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
  if (!isTooEqual(values, u, other.display, tries)) return;
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
  findings.warn('ROWS_COPIED', data, { ...first.source });
}

const capital = (text: string): string => text.slice(0, 1).toUpperCase() + text.slice(1);

/**
 * Readings that stand twice in a file with the same point, value and time, too many for honest repeats.
 *
 * Warns: ROWS_REPEATED, once a file.
 */
export function findRepeats(readings: Readings, uOf: (reading: Reading) => number, findings: Findings): void {
  interface Found {
    readonly first: number;
    readonly row: number;
    readonly values: number[];
    u: number;
  }
  const seen = new Map<string, number>();
  const files = new Map<string, Found>();
  for (const [phase, list] of readings.phases) {
    for (const reading of list) {
      const { file, row } = reading.source;
      const key = `${phase}|${identity(reading)}`;
      const first = seen.get(key);
      if (first === undefined) {
        seen.set(key, row);
        continue;
      }
      const found = files.get(file) ?? { first, row, values: [], u: 0 };
      found.values.push(valueOf(reading));
      found.u = Math.max(found.u, uOf(reading));
      files.set(file, found);
    }
  }
  const displays = displaysOf(readings);
  for (const [file, { first, row, values, u }] of files) {
    if (isTooEqual(values, u, displays.get(file) ?? 0))
      findings.warn('ROWS_REPEATED', { count: values.length, first }, { file, row });
  }
}

/** No id holds a bar. */
function identity(reading: Reading): string {
  const { source, pass, time } = reading;
  return `${source.file}|${pass}|${time ?? ''}|${valueOf(reading)}|${placeWords(reading)}`;
}

function placeWords(reading: Reading): string {
  switch (reading.kind) {
    case 'offset': {
      const { setup, point, target, axis } = reading;
      const at = point.kind === 'station' ? `${point.rail}|${point.station}` : point.monument;
      return `${setup}|${at}|${target}|${axis}`;
    }
    case 'slope': {
      const { from, to, axis } = reading;
      return `${from.rail}|${from.station}|${to.rail}|${to.station}|${axis}`;
    }
    case 'span':
      return `${reading.rail}|${reading.other}|${reading.station}`;
  }
}
