/** Readings whose size as a whole does not fit their instrument: the file is likely in another unit. */
import { groupBy } from '../../../base/lists.js';
import type { Findings } from '../../../base/diagnostics/diagnostic.js';
import type { Frame } from '../../job/resolve-job.js';
import type { OffsetReading, Reading, Readings } from '../readings.js';
import { pairOf, placeOf, rms, shownLength, usualSize, type Series } from './series.js';
import { unitsThatFit, type ReadingUnit } from './unit-factors.js';
import { leastOf, mostOf } from '../../../base/statistics/extent.js';

/** Readings that scatter by less than this share of what the instrument claims are too good to be true. */
const TOO_QUIET = 0.2;
/** The same for the difference of two passes: an instrument may well be three times better than it claims. */
const TOO_REPEATABLE = 0.125;
const FEWEST = 6;
const FEWEST_REPEATS = 10;
const FEWEST_BENDS = 8;
const FEWEST_CONSTANT = 5;
/** Readings of a pass that differ by less than this share of what one is uncertain by are one number, written many times. */
const ALIKE = 0.01;

/** Asks: UNIT_IMPLAUSIBLE, SLOPE_IMPLAUSIBLE, READINGS_CONSTANT; each once a file. */
export function checkSizes(
  series: readonly Series[],
  readings: Readings,
  frame: Frame,
  findings: Findings,
): void {
  reportLarge(readings, frame, findings);
  reportSteep(readings, frame, findings);
  for (const alike of groupBy(series, ({ condition }) => condition).values()) {
    const widest = mostOf(alike.map(rangeOf));
    for (const one of alike) reportConstant(one, widest, findings);
  }
  const offsets = series.filter((s) => s.unit === 'um' && s.cells.length > 0);
  for (const list of groupBy(offsets, (s) => s.cells[0]!.source.file).values())
    reportOwn(list[0]!.cells[0]!.source.file, list, findings);
}

function reportOwn(file: string, list: readonly Series[], findings: Findings): void {
  for (const report of [reportSmall, reportRough, reportCoarse])
    if (!findings.list.some(({ code, at }) => code === 'UNIT_IMPLAUSIBLE' && at?.file === file))
      report(file, list, findings);
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
  if (cells.length < FEWEST || scatter === 0) return;
  const isTiny = scatter < TOO_QUIET * u && largest < u;
  if (!isTiny && !isTooSmooth(list, u) && !(scatter <= u && repeatsTooWell(list, u))) return;
  const rough = roughness(list, 2);
  const least = (TOO_QUIET * u) / Math.min(scatter, rough);
  const most = (ROUGHEST * u) / (Number.isFinite(rough) ? rough : scatter);
  const units = unitsThatFit(list[0]!.written, Math.max(least, 1 + 1e-6), most);
  if (units === null) return;
  const data = {
    way: 'small',
    count: cells.length,
    size: shownLength(Math.min(scatter, rough), list[0]!.shownIn),
    against: shownLength(u, list[0]!.shownIn),
  } as const;
  findings.ask('UNIT_IMPLAUSIBLE', { ...data, units }, { file });
}

/**
 * What readings scatter by from neighbour to neighbour when the rail's own slow shape is taken out: differences of the given
 * order, over the size that they have of white noise. Infinity where there are too few.
 */
function roughness(
  list: readonly Series[],
  order: 2 | 4,
  sizeOf: (values: readonly number[]) => number = rms,
): number {
  const weights = order === 2 ? [1, -2, 1] : [1, -4, 6, -4, 1];
  const size = Math.hypot(...weights);
  const bends = list.flatMap(({ cells }) =>
    cells.slice(order).flatMap((cell, i) => {
      if (cell.station - cells[i]!.station !== order) return [];
      return [weights.reduce((sum, w, k) => sum + w * cells[i + k]!.value, 0) / size];
    }),
  );
  return bends.length < FEWEST_BENDS ? Infinity : sizeOf(bends);
}

/** No rail is so smooth that readings on it scatter by an eighth of what their instrument does; a curve without any noise is. */
const isTooSmooth = (list: readonly Series[], u: number): boolean => {
  const rough = roughness(list, 2);
  const display = mostOf(list.map((s) => s.display));
  const isNoise = roughness(list, 4) > 0.5 * rough;
  return isNoise && rough > 0 && rough < TOO_REPEATABLE * u && display < u;
};

/** Neighbours on a rail depart from a straight line by less than so many times what a reading is uncertain by. */
const ROUGHEST = 300;

/** Too large: no rail that such an instrument is used on bends so from station to station. */
function reportRough(file: string, list: readonly Series[], findings: Findings): void {
  const u = rms(list.flatMap((s) => s.cells.map((cell) => cell.u)));
  const rough = roughness(list, 2, usualSize);
  if (!Number.isFinite(rough) || rough <= ROUGHEST * u) return;
  const units = unitsThatFit(list[0]!.written, (ROUGHEST * u) / rough, (TOO_QUIET * u) / rough);
  if (units === null) return;
  const data = {
    way: 'rough',
    count: list.reduce((sum, { cells }) => sum + cells.length, 0),
    size: shownLength(rough, list[0]!.shownIn),
    against: shownLength(ROUGHEST * u, list[0]!.shownIn),
  } as const;
  findings.ask('UNIT_IMPLAUSIBLE', { ...data, units }, { file });
}

/** A step of the display alone makes readings uncertain by step/√12 (JCGM 100, F.2.2.1): at most so many times what is stated. */
const COARSEST = 2;

/** Written in steps that are too large for such an instrument. */
function reportCoarse(file: string, list: readonly Series[], findings: Findings): void {
  const cells = list.flatMap((s) => s.cells);
  const u = rms(cells.map((cell) => Math.hypot(cell.u, cell.seatU)));
  const step = mostOf(list.map((s) => s.display));
  if (step / Math.sqrt(12) <= COARSEST * u) return;
  // The least difference of two values is the step only if all of them are multiples of it.
  const multiples = new Set(cells.map(({ value }) => value / step));
  if (multiples.size < FEWEST || [...multiples].some((n) => Math.abs(n - Math.round(n)) > 1e-6)) return;
  const least = (COARSEST * u * Math.sqrt(12)) / step;
  const units = unitsThatFit(list[0]!.written, least, 1e-3 * least);
  // A coarse display may be as it is; in a unit that people take for another one it is a mistake.
  if (units === null || !units.startsWith('in ')) return;
  const data = {
    way: 'coarse',
    count: cells.length,
    size: shownLength(step, list[0]!.shownIn),
    against: shownLength(u, list[0]!.shownIn),
  } as const;
  findings.ask('UNIT_IMPLAUSIBLE', { ...data, units }, { file });
}

/** Slopes beyond this, µm/m, and this many times what the instrument is uncertain by, are those of no machine rail. */
const STEEP = 1000;
const STEEP_TIMES = 300;
const STEEPEST = 20_000;

function reportSteep(readings: Readings, frame: Frame, findings: Findings): void {
  const slopes = allOf(readings).filter((r) => r.kind === 'slope');
  for (const [file, own] of groupBy(slopes, ({ source }) => source.file)) {
    const sizes = own.map(({ umPerM }) => Math.abs(umPerM));
    const u = frame.instruments.get(own[0]!.instrument)?.readingU ?? 0;
    const limit = Math.min(STEEPEST, Math.max(STEEP, STEEP_TIMES * u));
    const beyond = sizes.filter((size) => size > limit);
    if (beyond.length === 0 || (rms(sizes) <= limit && mostOf(beyond) <= STEEPEST)) continue;
    const shown = (size: number) => `${Number((size / 1000).toPrecision(3))} mm/m`;
    const data = { count: beyond.length, size: shown(mostOf(beyond)), against: shown(limit) };
    findings.ask('SLOPE_IMPLAUSIBLE', data, { file });
  }
}

const allOf = ({ phases }: Readings): Reading[] => [...phases.values()].flat();

/** Another pass that varies by so many steps of a coarse display shows that readings of this one must vary, too. */
const STEPS = 3;

const rangeOf = ({ cells }: Series): number => {
  const values = cells.map((cell) => cell.value);
  return mostOf(values) - leastOf(values);
};

/**
 * Every reading of a pass the same, or none but zeros, where the display would show noise.
 *
 * @param widest The range of the pass that varies most under the same conditions, µm or µm/m.
 */
function reportConstant(series: Series, widest: number, findings: Findings): void {
  const { rail, axis, pass, cells, display, shownIn, unit } = series;
  if (cells.length < FEWEST_CONSTANT) return;
  const [first] = cells;
  const values = cells.map((cell) => cell.value);
  // The same number to the last digits that a change of units leaves.
  const size = Math.max(...values.map(Math.abs));
  if (rangeOf(series) > Math.min(ALIKE * leastOf(cells.map((c) => c.u)), 1e-6 * size)) return;
  // A scale so coarse that honest readings look alike.
  if (display > mostOf(cells.map((cell) => cell.u)) && widest <= STEPS * display) return;
  const value = unit === 'um' ? shownLength(first!.value, shownIn) : `${first!.value} µm/m`;
  findings.ask('READINGS_CONSTANT', { rail, axis, pass, value, count: cells.length }, placeOf(series));
}

/** Each pass against the first of its condition. */
function repeatsTooWell(list: readonly Series[], u: number): boolean {
  const differences = [...groupBy(list, (s) => s.condition).values()].flatMap(([first, ...others]) =>
    others.flatMap((other) => {
      const pair = pairOf(first!, other);
      return Array.from(pair.one, (value, i) => (pair.other[i]! - value) / Math.SQRT2);
    }),
  );
  const repeatability = rms(differences);
  return differences.length >= FEWEST_REPEATS && repeatability > 0 && repeatability < TOO_REPEATABLE * u;
}

function reportLarge(readings: Readings, frame: Frame, findings: Findings): void {
  const limited = allOf(readings).flatMap((r) => {
    const limit = r.kind === 'offset' ? limitOf(r, frame) : null;
    return r.kind === 'offset' && limit !== null
      ? [{ file: r.source.file, size: Math.abs(r.um), limit }]
      : [];
  });
  for (const [file, own] of groupBy(limited, (one) => one.file)) {
    const beyond = own.filter(({ size, limit }) => size > limit * (1 + 1e-9)).length;
    if (beyond < FEWEST || beyond < own.length / 2) continue;
    const most = mostOf(own.map(({ size }) => size));
    const limit = leastOf(own.map((one) => one.limit));
    const entry = frame.files.find((one) => one.file === file);
    const unit = (entry?.unit ?? frame.readingUnit) as ReadingUnit;
    const units = unitsThatFit(unit, limit / most, 1e-3 * (limit / most));
    if (units === null) continue;
    const data = {
      way: 'large',
      count: beyond,
      size: shownLength(most, frame.readingUnit),
      against: shownLength(limit, frame.readingUnit),
      units,
    } as const;
    findings.ask('UNIT_IMPLAUSIBLE', data, { file });
  }
}

const limitOf = ({ setup }: OffsetReading, frame: Frame): number | null =>
  frame.instruments.get(frame.setups.get(setup)?.instrument ?? '')?.rangeLimit ?? null;
