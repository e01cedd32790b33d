/** Passes that agree better than two readings of one place can. */
import { groupBy } from '../../../base/lists.js';
import type { Findings } from '../../../base/diagnostics/diagnostic.js';
import { pairOf, placeOf, shownLength } from './series.js';
import { leastOf, mostOf } from '../../../base/statistics/extent.js';
import type { Pair, Series } from './series.js';
import { normalCdf } from '../../../base/statistics/normal.js';

/** More passes of one rail are compared with the first so many only. */
const MOST_PASSES = 60;
/** Fewer equal readings prove nothing, whatever the display. */
const FEWEST_EQUAL = 10;
/** A suspicion is put forward where chance would do the same in less than one survey of 10 000. */
const CHANCE = Math.log(1e-4);

/** Asks: PASSES_IDENTICAL. What passes of one set-up and target contradict, the model finds (solution/causes). */
export function comparePasses(series: readonly Series[], findings: Findings): void {
  for (const passes of groupBy(series, (s) => s.condition).values()) reportIdentical(passes, findings);
  reportWholeCopies(series, findings);
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
  for (const phase of groupBy(series, (s) => s.phase).values()) {
    const passes = [...groupBy(phase, (s) => s.pass).values()].slice(0, MOST_PASSES);
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
