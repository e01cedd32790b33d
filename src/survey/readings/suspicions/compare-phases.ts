/** Each phase against the one before it: adjusting changes a rail, but not in these ways. */
import { groupBy } from '../../../base/lists.js';
import type { Findings } from '../../../base/diagnostics/diagnostic.js';
import type { PhaseName } from '../../job/job-schema.js';
import { phaseWords } from '../phase-words.js';
import { pairOf, placeOf, rms, usualSize, type Pair, type Series } from './series.js';
import { nearUnitFactor } from './unit-factors.js';

/** So many times rougher than before, in the short, no adjusting leaves a rail. */
const ROUGHER = 8;
const FEWEST = 6;
/** Of a mirror: how much better χ² agrees once turned, and how near to 1 the sizes are. */
const BETTER = 50;
const NEAR = 0.25;
const CORRELATION = -0.96;
const LEAST_SIZE = 3;

/** Asks: PHASES_MIRRORED, PHASE_UNIT_SUSPECT; each once a rail, axis and phase. @param order Of the phases, by the work. */
export function comparePhases(
  series: readonly Series[],
  order: readonly PhaseName[],
  findings: Findings,
): void {
  const read = order.filter((phase) => series.some((s) => s.phase === phase));
  for (const [k, phase] of read.entries()) {
    if (k > 0) compareTwo(series, read[k - 1]!, phase, findings);
  }
}

function compareTwo(
  series: readonly Series[],
  earlier: PhaseName,
  later: PhaseName,
  findings: Findings,
): void {
  for (const list of groupBy(series, (s) => [s.rail, s.axis, s.unit].join('|')).values()) {
    const pairs = list
      .filter((s) => s.phase === later)
      .flatMap((after) => {
        const found = list.filter((s) => s.phase === earlier);
        const before = found.find((s) => s.from === after.from) ?? found[0];
        const pair = before === undefined ? null : pairOf(before, after);
        return before === undefined || pair === null || pair.stations.length < FEWEST
          ? []
          : [{ before, after, pair }];
      });
    const isFound = pairs.some(({ before, after, pair }) => reportMirror(before, after, pair, findings));
    if (!isFound) pairs.some(({ before, after, pair }) => reportUnit(before, after, pair, findings));
  }
}

function reportMirror(before: Series, after: Series, pair: Pair, findings: Findings): boolean {
  const turn = before.sign * after.sign;
  const [a, b] = [about(pair.one, pair.mm), about(pair.other, pair.mm).map((v) => turn * v)];
  const [sizeA, sizeB] = [rms(a), rms(b)];
  if (Math.abs(sizeB / sizeA - 1) > NEAR) return false;
  const chiSquare = (side: 1 | -1) =>
    a.reduce((sum, v, i) => sum + (v - side * b[i]!) ** 2, 0) / (2 * pair.u ** 2);
  if (chiSquare(-1) > 1.6 * a.length || chiSquare(1) - chiSquare(-1) < BETTER) return false;
  const correlation = a.reduce((sum, v, i) => sum + v * b[i]!, 0) / (a.length * sizeA * sizeB);
  if (correlation > CORRELATION || sizeB < LEAST_SIZE * pair.u) return false;
  const evidence = `${a.length} stations, correlation ${correlation.toFixed(3)}, ratio ${(sizeB / sizeA).toFixed(2)}`;
  const words = { one: phaseWords(before.phase), other: phaseWords(after.phase) };
  findings.ask('PHASES_MIRRORED', { rail: after.rail, axis: after.axis, ...words, evidence }, placeOf(after));
  return true;
}

function reportUnit(before: Series, after: Series, pair: Pair, findings: Findings): boolean {
  const [was, is] = [roughness(pair.one), roughness(pair.other)];
  const ratio = is / Math.max(was, pair.u);
  if (ratio < ROUGHER) return false;
  const times = is / (was || pair.u);
  const isFar = ratio > 100;
  // The later file in a unit that is too large, or else the earlier one in a unit that is too small.
  const found =
    nearUnitFactor(times, after.written, isFar ? 2 : 0.5) ??
    (isFar ? nearUnitFactor(1 / times, before.written, Infinity) : null);
  if (found === null) return false;
  const words = (s: Series) => `the ${phaseWords(s.phase)} readings of rail ${s.rail}, ${s.axis}`;
  const data = {
    one: words(before),
    other: capital(words(after)),
    ratio: Number(times.toPrecision(3)),
    units: found.units,
    evidence: `${pair.stations.length} stations, from neighbour to neighbour`,
  };
  findings.ask('PHASE_UNIT_SUSPECT', data, placeOf(after));
  return true;
}

const capital = (text: string): string => text.slice(0, 1).toUpperCase() + text.slice(1);

/** Usual size of second differences, of neighbours in the list: one wrong reading is not the unit of all. */
function roughness(values: Float64Array): number {
  const bends: number[] = [];
  for (let i = 2; i < values.length; i++)
    bends.push((values[i]! - 2 * values[i - 1]! + values[i - 2]!) / Math.sqrt(6));
  return usualSize(bends);
}

/** Departures from the least-squares line. */
function about(values: Float64Array, mm: Float64Array): Float64Array {
  const n = values.length;
  const [mx, my] = [mm.reduce((a, b) => a + b, 0) / n, values.reduce((a, b) => a + b, 0) / n];
  let [sxx, sxy] = [0, 0];
  for (let i = 0; i < n; i++) {
    sxx += (mm[i]! - mx) ** 2;
    sxy += (mm[i]! - mx) * (values[i]! - my);
  }
  return values.map((v, i) => v - my - (sxy / sxx) * (mm[i]! - mx));
}
