/** Pairs of passes that should agree within their noise, and what it looks like when they do not. */
import type { Findings } from '../../../base/diagnostics/diagnostic.js';
import { grouped, pairOf, placeOf, rms, shownLength } from './series.js';
import { leastOf, mostOf } from '../../../base/statistics/extent.js';
import type { Cell, Pair, Series } from './series.js';
import { normalCdf } from '../../../base/statistics/normal.js';
import { nearUnitFactor } from './unit-factors.js';
import type { UnitFactor } from './unit-factors.js';

/** More passes of one rail are compared with the first so many only. */
const MOST_PASSES = 60;
/** Fewer equal readings prove nothing, whatever the display. */
const FEWEST_EQUAL = 10;
/** A suspicion is put forward where chance would do the same in less than one survey of 10 000. */
const CHANCE = Math.log(1e-4);

/**
 * Asks: PASSES_IDENTICAL; PASSES_MIRRORED; STATIONS_SHIFTED; UNIT_SUSPECT for a pass that is a unit's factor times another.
 * Passes of one set-up and target are compared as read; those of different set-ups by their shape alone, because
 * height, direction and rod are different there.
 */
export function comparePasses(series: readonly Series[], findings: Findings): void {
  const looks = grouped(series, (s) => s.condition).map((passes) => {
    reportIdentical(passes, findings);
    const agree = reportOdd(passes, 'as read', findings) === 0;
    return agree ? meanOf(passes) : passes[0]!;
  });
  reportWholeCopies(series, findings);
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

/** Every pass that is the same as an earlier one, or the same but for a constant. */
function reportIdentical(passes: readonly Series[], findings: Findings): void {
  for (const [j, other] of passes.slice(0, MOST_PASSES).entries()) {
    for (const one of passes.slice(0, j)) {
      const pair = pairOf(one, other);
      const by = constantBetween(pair, other.display);
      if (by === null || !isTooEqual(pair.one, pair.u, other.display)) continue;
      const { rail, axis, shownIn, unit } = other;
      const words =
        by === 0 ? '' : unit === 'um' ? shownLength(by, shownIn) : `${Number(by.toPrecision(3))} µm/m`;
      const data = { rail, axis, one: one.pass, other: other.pass, count: pair.stations.length, by: words };
      findings.ask('PASSES_IDENTICAL', data, placeOf(other));
      break;
    }
  }
}

/** Differences this near to each other, as a share of what they are uncertain by, are one number that was written twice. */
const SAME = 1e-3;

/** What `other` reads more than `one` at every station alike; null: not alike. A constant must be more than a step of the display. */
function constantBetween({ one, other, u }: Pair, display: number): number | null {
  const differences = other.map((value, i) => value - one[i]!);
  const [least, greatest] = [leastOf(differences), mostOf(differences)];
  const slack = Math.min(SAME * u, 1e-9 * Math.max(mostOf(one.map(Math.abs)), 1) + 1e-6 * u);
  if (greatest - least > 2 * slack) return null;
  const by = (least + greatest) / 2;
  if (Math.abs(by) <= slack) return 0;
  return Math.abs(by) >= display && differences.length >= FEWEST_EQUAL ? by : null;
}

/** Where no rail by itself is beyond chance, because the display is coarse, all rails and axes of two passes may be. */
function reportWholeCopies(series: readonly Series[], findings: Findings): void {
  if (findings.list.some(({ code }) => code === 'PASSES_IDENTICAL')) return;
  for (const phase of grouped(series, (s) => s.phase)) {
    const passes = grouped(phase, (s) => s.pass).slice(0, MOST_PASSES);
    for (const [j, others] of passes.entries()) {
      for (const ones of passes.slice(0, j)) {
        const pairs = others.flatMap((other) => {
          const one = ones.find((s) => s.condition === other.condition);
          return one === undefined ? [] : [{ pair: pairOf(one, other), other }];
        });
        const isSame = pairs.every(({ pair }) => pair.one.every((v, i) => v === pair.other[i]));
        const evidence = pairs.reduce(
          (sum, { pair, other }) =>
            sum + pair.one.length * Math.log(chanceOfEqual(pair.u / 2, other.display)),
          0,
        );
        const { other } = pairs[0] ?? {};
        const count = pairs.reduce((sum, { pair }) => sum + pair.one.length, 0);
        if (!isSame || other === undefined || evidence > CHANCE || count < FEWEST_EQUAL) continue;
        const data = { rail: 'all', axis: 'all', one: ones[0]!.pass, other: other.pass, count, by: '' };
        findings.ask('PASSES_IDENTICAL', data, placeOf(other));
        return;
      }
    }
  }
}

/**
 * Whether so many equal readings are beyond chance. u is taken as half of what the instrument claims, so that a better one is
 * no suspicion.
 *
 * @param display The step q that readings are written in. @param tries How many places were looked at to find these.
 */
export function isTooEqual(values: ArrayLike<number>, u: number, display: number, tries = 1): boolean {
  if (values.length < 5 || new Set(Array.from(values)).size < 3) return false;
  return values.length * Math.log(chanceOfEqual(u / 2, display)) < CHANCE - Math.log(tries);
}

/**
 * The chance that two readings of one place, of standard uncertainty u and written in steps of q, are the same: the mean of
 * (1 − |D|/q) over the differences D less than q, D normal with √2·u.
 */
export function chanceOfEqual(u: number, q: number): number {
  if (!(q > 0)) return 1e-6;
  const s = (Math.SQRT2 * u) / q;
  const density = (z: number) => Math.exp(-0.5 * z * z) / Math.sqrt(2 * Math.PI);
  const within = 1 - 2 * normalCdf(-1 / s);
  return Math.min(1, Math.max(1e-6, within - 2 * s * (density(0) - density(1 / s))));
}

interface Odd {
  readonly pair: Pair;
  /** Of a unit: between which ones. */
  readonly factor: UnitFactor | null;
  readonly ratio: number;
  readonly correlation: number;
  /** By how many stations the later pass is shifted; 0: by none. */
  readonly shift: number;
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
  if (odd.shift !== 0) {
    const data = { rail, axis, pass: name(other), by: odd.shift, evidence: `${count}, ${correlation}` };
    findings.ask('STATIONS_SHIFTED', data, placeOf(other));
    return;
  }
  if (odd.factor === null) {
    const evidence = `${count}, ${by === 'shape' ? 'shape turned to the same side, ' : ''}${correlation}, ratio ${ratio}`;
    findings.ask(
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
  findings.ask('UNIT_SUSPECT', data, placeOf(other));
}

/** How `other` contradicts `one`, if it does in one of the ways that have a cause; null: it does not. */
function oddness(one: Series, other: Series, by: 'as read' | 'shape'): Odd | null {
  const pair = pairOf(one, other);
  if (pair.stations.length < (by === 'shape' ? 7 : 5)) return null;
  const turn = by === 'shape' ? one.sign * other.sign : 1;
  const turned = (values: Float64Array) => values.map((value) => turn * value);
  if (by === 'shape') {
    const [a, b] = [detrended(pair, 'one'), turned(detrended(pair, 'other'))];
    return unitOdd(a, b, pair, one.unit) ?? mirrorOdd(a, b, pair) ?? shiftOdd(one, other, pair, turn);
  }
  if (one.isSight) {
    const [a, b] = [centred(pair.one), centred(pair.other)];
    return unitOdd(a, b, pair, one.unit) ?? mirrorOdd(a, b, pair) ?? shiftOdd(one, other, pair, 1);
  }
  const [a, b] = [pair.one, pair.other];
  return (
    unitOdd(a, b, pair, one.unit) ??
    mirrorOdd(a, b, pair) ??
    mirrorOdd(centred(a), centred(b), pair) ??
    shiftOdd(one, other, pair, 1)
  );
}

/** A pass whose stations are counted one too high or too low. */
function shiftOdd(one: Series, other: Series, pair: Pair, turn: number): Odd | null {
  // A coarse display makes noise of its own.
  const u = Math.hypot(pair.u, other.display / Math.sqrt(12));
  const before = chiSquare(
    detrended(pair, 'one'),
    detrended(pair, 'other').map((v) => turn * v),
    1,
    u,
  );
  for (const shift of [1, -1]) {
    const moved = {
      ...other,
      cells: other.cells.map((cell) => ({ ...cell, station: cell.station + shift })),
    };
    const shifted = pairOf(one, moved);
    if (shifted.stations.length < 6) continue;
    const [a, b] = [detrended(shifted, 'one'), detrended(shifted, 'other').map((v) => turn * v)];
    const after = chiSquare(a, b, 1, u);
    // Of two passes that only scatter one shift in a few looks better by chance.
    const isSame = after < Math.min(2 * a.length, before / 10) && correlation(a, b) > 0.9;
    if (isBetter(before, after, a.length) && isSame)
      return { pair: shifted, factor: null, ratio: 1, correlation: correlation(a, b), shift };
  }
  return null;
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
  return { pair, factor: found, ratio: isGrown ? k : 1 / k, correlation: correlation(a, b), shift: 0 };
}

/** A pass with its sign turned round: it agrees with the other one once it is turned back. */
function mirrorOdd(a: Float64Array, b: Float64Array, pair: Pair): Odd | null {
  if (!isBetter(chiSquare(a, b, 1, pair.u), chiSquare(a, b, -1, pair.u), a.length)) return null;
  const ratio = dot(a, b) / dot(a, a);
  const isMirror = ratio < -0.6 && ratio > -1.67;
  return isMirror ? { pair, factor: null, ratio, correlation: correlation(a, b), shift: 0 } : null;
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
