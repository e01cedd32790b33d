/** Pairs of passes that should agree within their noise, and what it looks like when they do not. */
import type { Findings } from '../../diagnostics/diagnostic.js';
import { grouped, pairOf, placeOf, rms } from './series.js';
import type { Cell, Pair, Series } from './series.js';
import { nearUnitFactor } from './unit-factors.js';
import type { UnitFactor } from './unit-factors.js';

/** More passes of one rail are compared with the first so many only. */
const MOST_PASSES = 60;
/** A suspicion is put forward where chance would do the same in less than one survey of 10 000. */
const CHANCE = Math.log(1e-4);

/**
 * Warns: PASSES_IDENTICAL; PASSES_MIRRORED; UNIT_SUSPECT for a pass that is a unit's factor times another.
 * Passes of one set-up and target are compared as read; those of different set-ups by their shape alone, because
 * height, direction and rod are different there.
 */
export function comparePasses(series: readonly Series[], findings: Findings): void {
  const looks = grouped(series, (s) => s.condition).map((passes) => {
    reportIdentical(passes, findings);
    const agree = reportOdd(passes, 'as read', findings) === 0;
    return agree ? meanOf(passes) : passes[0]!;
  });
  for (const rail of grouped(looks, (s) => [s.phase, s.rail, s.axis, s.unit].join('|'))) {
    reportOdd(rail, 'shape', findings);
  }
}

/** Passes that agree, as one with less noise. */
function meanOf(passes: readonly Series[]): Series {
  const byStation = new Map<number, Cell[]>();
  for (const cell of passes.flatMap(({ cells }) => cells)) {
    const known = byStation.get(cell.station);
    if (known === undefined) byStation.set(cell.station, [cell]);
    else known.push(cell);
  }
  const cells = [...byStation.values()].map((same) => ({
    ...same[0]!,
    value: same.reduce((sum, cell) => sum + cell.value, 0) / same.length,
    u: rms(same.map((cell) => cell.u)) / Math.sqrt(same.length),
  }));
  const pass = passes.map((s) => s.pass).join('+');
  return { ...passes[0]!, pass, cells: cells.sort((x, y) => x.mm - y.mm) };
}

/** Every pass that is the same as an earlier one. */
function reportIdentical(passes: readonly Series[], findings: Findings): void {
  for (const [j, other] of passes.slice(0, MOST_PASSES).entries()) {
    const one = passes.slice(0, j).find((s) => areIdentical(pairOf(s, other), other.display));
    if (one === undefined) continue;
    const { rail, axis } = other;
    const count = pairOf(one, other).stations.length;
    findings.warn(
      'PASSES_IDENTICAL',
      { rail, axis, one: one.pass, other: other.pass, count },
      placeOf(other),
    );
  }
}

const areIdentical = (pair: Pair, display: number): boolean =>
  pair.one.every((value, i) => value === pair.other[i]) && isTooEqual(pair.one, pair.u, display);

/**
 * Whether so many equal readings are beyond chance. Two readings of standard uncertainty u, written in steps of
 * q, are the same with a probability of about q / (2 u √π); u is taken as half of what the instrument claims,
 * so that neither a better one nor a coarse scale, on which honest passes agree, is no suspicion.
 *
 * @param display The step q. @param tries How many places were looked at to find these.
 */
export function isTooEqual(values: ArrayLike<number>, u: number, display: number, tries = 1): boolean {
  if (values.length < 5 || new Set(Array.from(values)).size < 3) return false;
  const equal = Math.min(1, display / (u * Math.sqrt(Math.PI)));
  return values.length * Math.log(equal) < CHANCE - Math.log(tries);
}

interface Odd {
  readonly pair: Pair;
  /** Of a unit: between which ones. */
  readonly factor: UnitFactor | null;
  readonly ratio: number;
  readonly correlation: number;
}

/**
 * Of two passes that contradict each other the later one is named; of more, those that contradict the one which
 * contradicts the fewest.
 *
 * @returns How many contradict it.
 */
function reportOdd(passes: readonly Series[], by: 'as read' | 'shape', findings: Findings): number {
  const some = passes.slice(0, MOST_PASSES);
  if (some.length < 2) return 0;
  const odd = some.map((one) => some.map((other) => (one === other ? null : oddness(one, other, by))));
  const counts = odd.map((row) => row.filter((o) => o !== null).length);
  const fewest = Math.min(...counts);
  if (counts.every((count) => count === 0)) return 0;
  const reference = counts.indexOf(fewest);
  for (const [j, other] of some.entries()) {
    const found = odd[reference]![j] ?? null;
    if (found !== null) report(found, some[reference]!, other, by, findings);
  }
  return odd[reference]!.filter((found) => found !== null).length;
}

function report(odd: Odd, one: Series, other: Series, by: 'as read' | 'shape', findings: Findings): void {
  const name = (s: Series) => (by === 'as read' ? s.pass : `${s.pass} from ${s.from.split('|')[0]}`);
  const { rail, axis } = other;
  const count = `${odd.pair.stations.length} stations`;
  const correlation = `correlation ${odd.correlation.toFixed(3)}`;
  const ratio = Number(odd.ratio.toPrecision(4));
  if (odd.factor === null) {
    const evidence = `${count}, ${by === 'shape' ? 'shape turned to the same side, ' : ''}${correlation}, ratio ${ratio}`;
    findings.warn(
      'PASSES_MIRRORED',
      { rail, axis, one: name(one), other: name(other), evidence },
      placeOf(other),
    );
    return;
  }
  const { factor, units } = odd.factor;
  const words = (s: Series) => `pass ${name(s)} of rail ${rail}, ${axis}`;
  // Put so that the ratio is above 1, at the pass that does not fit.
  const [small, large] = odd.ratio >= 1 ? [one, other] : [other, one];
  const data = {
    one: words(small),
    other: words(large),
    ratio: Number((odd.ratio >= 1 ? odd.ratio : 1 / odd.ratio).toPrecision(4)),
    factor,
    units,
    evidence: `${count}, ${correlation}`,
  };
  findings.warn('UNIT_SUSPECT', data, placeOf(other));
}

/** How `other` contradicts `one`, if it does in one of the ways that have a cause; null: it does not. */
function oddness(one: Series, other: Series, by: 'as read' | 'shape'): Odd | null {
  const pair = pairOf(one, other);
  if (pair.stations.length < (by === 'shape' ? 7 : 5)) return null;
  const turn = by === 'shape' ? one.sign * other.sign : 1;
  const turned = (values: Float64Array) => values.map((value) => turn * value);
  if (by === 'shape') {
    const [a, b] = [detrended(pair, 'one'), turned(detrended(pair, 'other'))];
    return unitOdd(a, b, pair, one.unit) ?? mirrorOdd(a, b, pair);
  }
  const [a, b] = [pair.one, pair.other];
  return unitOdd(a, b, pair, one.unit) ?? mirrorOdd(a, b, pair) ?? mirrorOdd(centred(a), centred(b), pair);
}

/**
 * Whether two passes of n readings agree far better after a change than before it: χ² of their differences,
 * under the noise that the instruments claim. Noise that is far above the claim makes both large, and is no
 * evidence, unless the one is many times the other.
 */
const isBetter = (before: number, after: number, n: number): boolean =>
  before - after > 50 && (after < 0.15 * before || (after < 1.6 * n && after < 0.4 * before));

/** χ² of `b` − `k`·`a`, where either reading has the standard uncertainty u. */
function chiSquare(a: Float64Array, b: Float64Array, k: number, u: number): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += (b[i]! - k * a[i]!) ** 2;
  return sum / (2 * u * u);
}

/** A pass in another unit: proportional to the other, constant and all. */
function unitOdd(a: Float64Array, b: Float64Array, pair: Pair, unit: 'um' | 'um/m'): Odd | null {
  const { u } = pair;
  const isGrown = rms(a) <= rms(b);
  // The smaller explains the larger: its noise, in whatever unit, grows with it.
  const [small, large] = isGrown ? [a, b] : [b, a];
  if (rms(large) < 4 * u || rms(small) === 0) return null;
  const k = dot(small, large) / dot(small, small);
  const uncertain = (Math.SQRT2 * u) / (rms(large) * Math.sqrt(a.length));
  const found = nearUnitFactor(k, unit, Math.min(0.15, Math.max(0.03, 3 * uncertain)));
  if (found === null || k < 1) return null;
  const n = a.length;
  if (!isBetter(chiSquare(small, large, 1, u), chiSquare(small, large, found.factor, u), n)) return null;
  return { pair, factor: found, ratio: isGrown ? k : 1 / k, correlation: correlation(a, b) };
}

/** A pass with its sign turned round: it agrees with the other one once it is turned back. */
function mirrorOdd(a: Float64Array, b: Float64Array, pair: Pair): Odd | null {
  if (!isBetter(chiSquare(a, b, 1, pair.u), chiSquare(a, b, -1, pair.u), a.length)) return null;
  const ratio = dot(a, b) / dot(a, a);
  const isMirror = ratio < -0.6 && ratio > -1.67;
  return isMirror ? { pair, factor: null, ratio, correlation: correlation(a, b) } : null;
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}

function centred(values: Float64Array): Float64Array {
  const mean = values.reduce((sum, v) => sum + v, 0) / values.length;
  return values.map((v) => v - mean);
}

function correlation(a: Float64Array, b: Float64Array): number {
  const [x, y] = [centred(a), centred(b)];
  const size = Math.sqrt(dot(x, x) * dot(y, y));
  return size === 0 ? 0 : dot(x, y) / size;
}

/** Departures from the least-squares line: what is left of a pass without height and slope of its plane. */
function detrended(pair: Pair, which: 'one' | 'other'): Float64Array {
  const x = centred(pair.mm);
  const y = centred(pair[which]);
  const slope = dot(x, y) / (dot(x, x) || 1);
  return y.map((value, i) => value - slope * x[i]!);
}
