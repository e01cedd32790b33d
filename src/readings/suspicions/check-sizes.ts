/** Readings whose size as a whole does not fit their instrument: the file is likely in another unit. */
import type { Findings } from '../../diagnostics/diagnostic.js';
import type { Frame } from '../../job/settle-job.js';
import type { OffsetReading, Readings } from '../readings.js';
import { grouped, pairOf, rms, shownLength } from './series.js';
import type { Series } from './series.js';
import { leastFactor } from './unit-factors.js';

/** Readings that scatter by less than this share of what the instrument claims are too good to be true. */
const TOO_QUIET = 0.2;
/** The same for the difference of two passes: an instrument may well be three times better than it claims. */
const TOO_REPEATABLE = 0.125;
const FEWEST = 6;
const FEWEST_REPEATS = 10;

/** Warns: UNIT_IMPLAUSIBLE, once a file. */
export function checkSizes(
  series: readonly Series[],
  readings: Readings,
  frame: Frame,
  findings: Findings,
): void {
  reportLarge(readings, frame, findings);
  const offsets = series.filter((s) => s.unit === 'um' && s.cells.length > 0);
  for (const list of grouped(offsets, (s) => s.cells[0]!.source.file))
    reportSmall(list[0]!.cells[0]!.source.file, list, findings);
}

/**
 * Too small: all readings within what one of them is uncertain by; or a rail that is straight within that, read
 * by passes that repeat many times better than the instrument claims.
 */
function reportSmall(file: string, list: readonly Series[], findings: Findings): void {
  const departures: number[] = [];
  for (const { cells } of list) {
    const mean = cells.reduce((sum, cell) => sum + cell.value, 0) / cells.length;
    for (const cell of cells) departures.push(cell.value - mean);
  }
  const cells = list.flatMap((s) => s.cells);
  const largest = cells.reduce((most, cell) => Math.max(most, Math.abs(cell.value)), 0);
  const [scatter, u] = [rms(departures), rms(cells.map((cell) => cell.u))];
  if (cells.length < FEWEST || scatter === 0 || scatter > u) return;
  const isTiny = scatter < TOO_QUIET * u && largest < u;
  if (!isTiny && !repeatsTooWell(list, u)) return;
  const found = leastFactor(scatter, 'um', u);
  if (found === null) return;
  const data = {
    way: 'small',
    count: cells.length,
    size: shownLength(scatter, list[0]!.shownIn),
    against: shownLength(u, list[0]!.shownIn),
  } as const;
  findings.warn('UNIT_IMPLAUSIBLE', { ...data, ...found }, { file });
}

/** Each pass against the first of its condition. */
function repeatsTooWell(list: readonly Series[], u: number): boolean {
  const differences = grouped(list, (s) => s.condition).flatMap(([first, ...others]) =>
    others.flatMap((other) => {
      const pair = pairOf(first!, other);
      return Array.from(pair.one, (value, i) => (pair.other[i]! - value) / Math.SQRT2);
    }),
  );
  const repeatability = rms(differences);
  return differences.length >= FEWEST_REPEATS && repeatability > 0 && repeatability < TOO_REPEATABLE * u;
}

function reportLarge(readings: Readings, frame: Frame, findings: Findings): void {
  const files = new Map<string, { beyond: number; all: number; most: number; limit: number }>();
  for (const list of readings.phases.values()) {
    for (const reading of list) {
      const limit = reading.kind === 'offset' ? limitOf(reading, frame) : null;
      if (limit === null || reading.kind !== 'offset') continue;
      const size = Math.abs(reading.um);
      const tally = files.get(reading.source.file) ?? { beyond: 0, all: 0, most: 0, limit };
      tally.all++;
      if (size > limit * (1 + 1e-9)) tally.beyond++;
      tally.most = Math.max(tally.most, size);
      tally.limit = Math.min(tally.limit, limit);
      files.set(reading.source.file, tally);
    }
  }
  for (const [file, { beyond, all, most, limit }] of files) {
    if (beyond < FEWEST || beyond < all / 2) continue;
    const found = leastFactor(1, 'um', most / limit);
    if (found === null) continue;
    const data = {
      way: 'large',
      count: beyond,
      size: shownLength(most, frame.readingUnit),
      against: shownLength(limit, frame.readingUnit),
    } as const;
    findings.warn('UNIT_IMPLAUSIBLE', { ...data, ...found }, { file });
  }
}

const limitOf = ({ setup }: OffsetReading, frame: Frame): number | null =>
  frame.instruments.get(frame.setups.get(setup)?.instrument ?? '')?.rangeLimit ?? null;
