/** Steps between neighbouring stations, and single readings, that the rest of the rail does not bear out. */
import { groupBy } from '../../../base/lists.js';
import type { Findings } from '../../../base/diagnostics/diagnostic.js';
import { median, rms, shownLength, type Cell, type Series } from './series.js';
import { SURVEY_LEVEL } from '../../../base/statistics/normal.js';
import { studentCoverageFactor } from '../../../base/statistics/student-chi-square.js';
import { unitFactors, type UnitFactor } from './unit-factors.js';

/** So many times the usual scatter of steps, by their median absolute deviation. */
const FAR = 8;
/** The same for a rail that was read but once: there is no other pass to ask. */
const FAR_ALONE = 12;
/** Of a normal distribution, the standard deviation in units of the median absolute deviation. */
const MAD = 1.4826;
const FEWEST_STEPS = 7;
/** Readings on either side that make a step of it. */
const FEWEST_BESIDE = 3;
/** So many stations further out another pass may be asked. */
const REACH = 2;

/** A median absolute deviation knows its size as well as so large a share of normal readings would by their standard deviation. */
const MAD_EFFICIENCY = 0.37;

interface Steps {
  readonly series: Series;
  /** From here on a step is no chance, at the level of the whole survey, and no rail's own shape. */
  readonly far: number;
  readonly sizes: Float64Array;
  /** Their median, and the greatest of their scatter, the instrument's, and the display's least step. */
  readonly usual: number;
  readonly scatter: number;
}

/**
 * Steps are compared with the median of their series; where another pass of the rail shows the same step, it is
 * the rail's. Slopes are steps themselves, so they are not looked at.
 *
 * Warns: READING_STANDS_OUT, READINGS_STEP; UNIT_SUSPECT where the values on the two sides differ by the factor
 * of two units.
 */
export function findJumps(series: readonly Series[], findings: Findings): void {
  const offsets = series.filter((s) => s.unit === 'um');
  const count = offsets.reduce((sum, { cells }) => sum + Math.max(0, cells.length - 1), 0);
  for (const rail of groupBy(offsets, (s) => [s.phase, s.rail, s.axis].join('|')).values()) {
    for (const one of rail) {
      const steps = stepsOf(one, count);
      if (steps !== null) reportJumps(steps, rail, findings);
    }
  }
}

/** @param count Steps of the survey: with more of them chance makes greater ones. */
function stepsOf(series: Series, count: number): Steps | null {
  const { cells } = series;
  if (cells.length <= FEWEST_STEPS) return null;
  const sizes = Float64Array.from(cells.slice(1), (cell, i) => cell.value - cells[i]!.value);
  const usual = median(sizes);
  const deviation = MAD * median(sizes.map((size) => Math.abs(size - usual)));
  const claimed = Math.SQRT2 * rms(cells.map((cell) => Math.hypot(cell.u, cell.seatU)));
  const scatter = Math.max(deviation, claimed, series.display);
  const chance = studentCoverageFactor(1 - SURVEY_LEVEL / count, MAD_EFFICIENCY * sizes.length) * deviation;
  return { series, far: Math.max(FAR * scatter, chance), sizes, usual, scatter };
}

function reportJumps(steps: Steps, rail: readonly Series[], findings: Findings): void {
  const { far: least, sizes, usual, series } = steps;
  const others = rail.filter((s) => s !== series);
  const excess = (i: number) => (i < 0 || i >= sizes.length ? 0 : sizes[i]! - usual);
  const far = [...sizes.keys()].filter((i) => Math.abs(excess(i)) > least);
  // A rail that steps all over is rough, not misread.
  if (far.length > Math.max(2, 0.15 * sizes.length)) return;
  for (const i of far) {
    const [here, next] = [excess(i), excess(i + 1)];
    const returns = Math.abs(here + next) < 0.5 * Math.abs(here) && Math.abs(next) > least;
    const isReturn = Math.abs(here + excess(i - 1)) < 0.5 * Math.abs(here);
    if (returns) reportStanding(steps, i + 1, (here - next) / 2, others, findings);
    else if (!isReturn && isAlone(here, excess(i - 1), next)) reportStep(steps, i, here, others, findings);
  }
}

/** A bend takes several steps; a knock takes one. */
const isAlone = (step: number, before: number, after: number): boolean =>
  Math.max(Math.abs(before), Math.abs(after)) < Math.abs(step) / 3;

/**
 * Other passes that read there: how many show the same change, and how many do not. A station that a pass lacks
 * is looked for a little further out.
 */
function witnesses(
  { series }: Steps,
  { from, at, to }: { from: number; at: number | null; to: number },
  size: number,
  others: readonly Series[],
): { show: number; deny: number } {
  let [show, deny] = [0, 0];
  for (const other of others) {
    const before = other.cells.findLast((cell) => cell.station <= from && cell.station >= from - REACH);
    const after = other.cells.find((cell) => cell.station >= to && cell.station <= to + REACH);
    const middle = at === null ? null : other.cells.find((cell) => cell.station === at);
    if (before === undefined || after === undefined || middle === undefined) continue;
    const change =
      middle === null ? after.value - before.value : middle.value - (before.value + after.value) / 2;
    if (Math.abs(change * other.sign * series.sign - size) < 0.5 * Math.abs(size)) show++;
    else deny++;
  }
  return { show, deny };
}

function reportStanding(
  steps: Steps,
  k: number,
  off: number,
  others: readonly Series[],
  findings: Findings,
): void {
  const { series, scatter } = steps;
  const [before, cell, after] = [series.cells[k - 1]!, series.cells[k]!, series.cells[k + 1]!];
  const { show, deny } = witnesses(
    steps,
    { from: before.station, at: cell.station, to: after.station },
    off,
    others,
  );
  if (show > 0 || (deny === 0 && Math.abs(off) < FAR_ALONE * scatter)) return;
  const { rail, axis, pass } = series;
  const place = { ...cell.source };
  const unit = spikeUnit(steps, (before.value + after.value) / 2, cell.value);
  if (unit !== null) {
    const data = {
      ...inOrder(`its neighbours'`, `the ${axis} reading of station ${cell.station}`, unit.ratio),
      factor: unit.factor,
      units: unit.units,
      evidence: `rail ${rail}, pass ${pass}: ${shownLength(cell.value, series.shownIn)} between ${shownLength(before.value, series.shownIn)} and ${shownLength(after.value, series.shownIn)}`,
    };
    findings.warn('UNIT_SUSPECT', data, place);
    return;
  }
  const data = {
    rail,
    axis,
    pass,
    station: cell.station,
    off: shownLength(off, series.shownIn),
    usual: shownLength(scatter, series.shownIn),
  };
  findings.warn('READING_STANDS_OUT', { ...data, others: deny }, place);
}

function reportStep(
  steps: Steps,
  i: number,
  size: number,
  others: readonly Series[],
  findings: Findings,
): void {
  const { series, scatter } = steps;
  const [from, to] = [series.cells[i]!, series.cells[i + 1]!];
  const { show, deny } = witnesses(steps, { from: from.station, at: null, to: to.station }, size, others);
  if (show > 0 || (deny === 0 && Math.abs(size) < FAR_ALONE * scatter)) return;
  const { rail, axis, pass } = series;
  const place = { ...to.source };
  const unit = blockUnit(steps, i);
  if (unit !== null) {
    const words = (cell: Cell, side: string) => `the ${axis} readings ${side} station ${cell.station}`;
    const data = {
      ...inOrder(words(from, 'up to'), words(to, 'from'), unit.ratio),
      factor: unit.factor,
      units: unit.units,
      evidence: `rail ${rail}, pass ${pass}: ${shownLength(from.value, series.shownIn)}, then ${shownLength(to.value, series.shownIn)}`,
    };
    findings.ask('UNIT_SUSPECT', data, place);
    return;
  }
  const data = {
    rail,
    axis,
    pass,
    from: from.station,
    to: to.station,
    step: shownLength(size, series.shownIn),
  };
  const all = { ...data, usual: shownLength(scatter, series.shownIn), others: deny };
  // Of a rail that was read but once, a joint looks like a knock.
  // And of one or two readings on its side it is a slip, which the suspects show.
  const beside = Math.min(i + 1, series.cells.length - i - 1);
  if (deny > 0 && beside >= FEWEST_BESIDE) findings.ask('READINGS_STEP', all, place);
  else findings.warn('READINGS_STEP', all, place);
}

interface UnitFound {
  readonly ratio: number;
  readonly factor: number;
  readonly units: string;
}

/** `one` before `other` in the file; named so that the ratio is above 1. */
const inOrder = (one: string, other: string, ratio: number) =>
  ratio >= 1
    ? { one, other, ratio: Number(ratio.toPrecision(3)) }
    : { one: other, other: one, ratio: Number((1 / ratio).toPrecision(3)) };

/** Whether a single reading, in another unit, would lie among its neighbours. */
function spikeUnit({ series, scatter }: Steps, neighbours: number, value: number): UnitFound | null {
  const fits = ({ factor }: UnitFactor): boolean => {
    if (Math.abs(value * factor - neighbours) < 3 * scatter) return true;
    // Of neighbours near nothing every large reading is some multiple.
    const near = Math.min(3 * scatter, 0.1 * Math.abs(neighbours));
    return Math.abs(neighbours) > 5 * scatter && Math.abs(value / factor - neighbours) < near;
  };
  const found = unitFactors(series.written).find(fits);
  return found === undefined ? null : { ratio: value / neighbours, ...found };
}

/**
 * Whether the readings on one side of a step, in another unit, would go on where the other side ends, and would
 * scatter no more than is usual. Of a knocked target the side near nothing would scatter wildly.
 */
function blockUnit({ series, usual, scatter }: Steps, i: number): UnitFound | null {
  const values = series.cells.map((cell) => cell.value);
  const [before, after] = [values.slice(0, i + 1), values.slice(i + 1)];
  if (Math.min(before.length, after.length) < 3) return null;
  const ratio = median(after.slice(0, 4)) / median(before.slice(-4));
  const [small, edge, beyond] =
    Math.abs(ratio) < 1 ? [after, after[0]!, before.at(-1)!] : [before, before.at(-1)!, after[0]!];
  const fits = ({ factor }: UnitFactor): boolean => {
    const gap = Math.abs(Math.abs(factor * edge - beyond) - Math.abs(usual));
    const steps = small.slice(1).map((value, k) => factor * (value - small[k]!));
    return gap < 4 * scatter && rms(steps) < 2.5 * scatter;
  };
  const found = unitFactors(series.written).find(fits);
  return found === undefined ? null : { ratio, ...found };
}
