/**
 * The purpose of each observation: the survey itself, or carrying direction or height from one set-up or target assembly to
 * another. The uncertainty budget has these sources.
 */
import type { BudgetSource } from './budget-sources.js';
import type { OffsetReading } from '../../survey/readings/readings.js';
import type { Adjustment } from './adjustment.js';
import type { Network, Observation } from './network.js';
import { priorFacts } from './priors.js';

/** A smaller share is the rounding of a source that cancels. */
const SHARE_ROUNDING = 1e-9;

/** The source of the noise of each observation. The part that grows with distance is separated later. */
export function sourcesOf(network: Network): BudgetSource[] {
  const home = homes(network.observations);
  const setups = setupsOfPoints(network.observations);
  return network.observations.map((o): BudgetSource => {
    if (o.kind === 'prior') return priorFacts(o.prior).source;
    if (o.kind !== 'offset') return 'readings';
    if (o.axis === 'along' && o.point.kind === 'monument') return 'direction-carry-over';
    if (o.point.kind === 'monument') return 'height-carry-over';
    const place = home.get(placeKey(o))!;
    const isShared = (setups.get(pointKey(o))?.size ?? 0) > 1;
    if (o.axis === 'vertical' && isShared && place.setup !== o.setup) return 'height-carry-over';
    if (o.target !== place.targetFrom.get(o.setup)) return 'target-assemblies';
    return 'readings';
  });
}

/** Share of the variance of f by source; shares sum to 1. */
export function budgetOf(
  { network }: Pick<Adjustment, 'network'>,
  sources: readonly BudgetSource[],
  weight: Float64Array,
): Partial<Record<BudgetSource, number>> {
  const sums = new Map<BudgetSource, number>();
  const add = (source: BudgetSource, v: number) => sums.set(source, (sums.get(source) ?? 0) + v);
  let total = 0;
  for (let i = 0; i < weight.length; i++) {
    const w2 = weight[i]! ** 2;
    const all = w2 * network.sigma[i]! ** 2;
    total += all;
    const source = sources[i]!;
    const grown = source === 'readings' ? w2 * network.sigmaDistance[i]! ** 2 : 0;
    add(source, all - grown);
    add('distance', grown);
  }
  if (!(total > 0)) return {};
  const shares = [...sums]
    .map(([source, v]) => [source, v / total] as const)
    .filter(([, share]) => share > SHARE_ROUNDING);
  return Object.fromEntries(shares);
}

interface Home {
  /** The set-up that most readings of this rail and axis were taken from. */
  setup: string;
  /** From each set-up, the target assembly that most of them were taken with. */
  targetFrom: Map<string, string>;
}

const placeKey = (o: OffsetReading): string =>
  `${o.axis}|${o.point.kind === 'station' ? o.point.rail : o.point.monument}`;

/** The set-ups from which each point was read. A point that was read from only one carries nothing over. */
function setupsOfPoints(observations: readonly Observation[]): Map<string, Set<string>> {
  const result = new Map<string, Set<string>>();
  for (const o of observations) {
    if (o.kind === 'offset') upsert(result, pointKey(o), () => new Set<string>()).add(o.setup);
  }
  return result;
}

const pointKey = (o: OffsetReading): string =>
  `${placeKey(o)}|${o.point.kind === 'station' ? o.point.station : ''}`;

function homes(observations: readonly Observation[]): Map<string, Home> {
  const counts = new Map<string, Map<string, Map<string, number>>>();
  for (const o of observations) {
    if (o.kind !== 'offset') continue;
    const bySetup = upsert(counts, placeKey(o), () => new Map<string, Map<string, number>>());
    const byTarget = upsert(bySetup, o.setup, () => new Map<string, number>());
    byTarget.set(o.target, (byTarget.get(o.target) ?? 0) + 1);
  }
  const result = new Map<string, Home>();
  for (const [place, bySetup] of counts) {
    const totals = new Map(
      [...bySetup].map(([setup, targets]) => [setup, [...targets.values()].reduce((a, b) => a + b, 0)]),
    );
    const targetFrom = new Map([...bySetup].map(([setup, targets]) => [setup, mostFrequent(targets)]));
    result.set(place, { setup: mostFrequent(totals), targetFrom });
  }
  return result;
}

/** If several are equally frequent, the first by name, so that the order of rows makes no difference. */
const mostFrequent = (counts: ReadonlyMap<string, number>): string =>
  [...counts].sort(([a, n], [b, m]) => m - n || (a < b ? -1 : 1))[0]![0];

function upsert<K, V>(map: Map<K, V>, key: K, make: () => V): V {
  let value = map.get(key);
  if (value === undefined) {
    value = make();
    map.set(key, value);
  }
  return value;
}
