/**
 * Loops of level steps and their misclosures. The sum of the steps around a loop is zero without errors. A tree of
 * steps reaches every station; each other step closes one loop.
 *
 * @see Surveying handbooks: loop misclosure of a levelling net, u² = Σ u² of its steps.
 */
import { addTo } from '../base/lists.js';
import { pointLabel } from '../survey/readings/point-label.js';
import type { SlopeReading } from '../survey/readings/readings.js';
import type { Adjustment } from '../solution/solve/adjustment.js';
import { factorOfAll, SURVEY_LEVEL } from '../base/statistics/normal.js';
import type { LoopResult } from './results-schema.js';

/** The mean of all readings of one step. */
interface Step {
  readonly from: string;
  readonly to: string;
  /** Height of `to` above `from`, µm. */
  readonly rise: number;
  readonly variance: number;
}

/** Greatest number of listed loops: those with the largest misclosures. */
const MOST_LISTED = 30;

export function loopsSection(adjustment: Adjustment): LoopResult[] {
  const steps = stepsOf(adjustment);
  const tree = new Map<string, { readonly up: Step | null; readonly depth: number }>();
  const beside: Step[] = [];
  const at = new Map<string, Step[]>();
  for (const step of steps) for (const end of [step.from, step.to]) addTo(at, end, step);
  for (const root of at.keys()) {
    if (tree.has(root)) continue;
    tree.set(root, { up: null, depth: 0 });
    const used = new Set<Step>();
    for (let queue = [root]; queue.length > 0;) {
      const next: string[] = [];
      for (const here of queue)
        for (const step of at.get(here)!) {
          if (used.has(step)) continue;
          used.add(step);
          const there = step.from === here ? step.to : step.from;
          if (tree.has(there)) beside.push(step);
          else {
            tree.set(there, { up: step, depth: tree.get(here)!.depth + 1 });
            next.push(there);
          }
        }
      queue = next;
    }
  }
  const k = factorOfAll(beside.length, 1 - SURVEY_LEVEL);
  const loops = beside.map((step): LoopResult => {
    const way = wayBetween(step.to, step.from, tree);
    const sum = [step, ...way.map(({ step: one }) => one)].reduce((s, { variance }) => s + variance, 0);
    const misclosure =
      step.rise + way.reduce((s, { step: one, there }) => s + (one.to === there ? one.rise : -one.rise), 0);
    const allowed = k * Math.sqrt(sum);
    return {
      through: cornersOf([step.from, step.to, ...way.map(({ there }) => there)]),
      steps: way.length + 1,
      misclosure,
      u: Math.sqrt(sum),
      allowed,
      exceeded: Math.abs(misclosure) > allowed,
    };
  });
  return loops
    .map((loop, i) => ({ loop, i }))
    .sort(
      (a, b) => Math.abs(b.loop.misclosure) / b.loop.u - Math.abs(a.loop.misclosure) / a.loop.u || a.i - b.i,
    )
    .slice(0, MOST_LISTED)
    .map(({ loop }) => loop);
}

/** Steps that were read against gravity, repeated readings combined, in the order of the readings. */
function stepsOf({ network }: Adjustment): Step[] {
  const found = new Map<string, { from: string; to: string; rises: number[]; weights: number[] }>();
  network.observations.forEach((o, i) => {
    if (o.kind !== 'slope' || o.sight !== null || o.axis !== 'vertical') return;
    const [from, to] = [labelOf(o.from), labelOf(o.to)];
    const isKnown = found.has(JSON.stringify([to, from]));
    const key = JSON.stringify(isKnown ? [to, from] : [from, to]);
    const step = found.get(key) ?? { from, to, rises: [], weights: [] };
    found.set(key, step);
    // The observation is (height at the end − height at the start)/distance.
    const distance = 1 / Math.abs(network.coefficient[network.start[i]!]!);
    step.rises.push((isKnown ? -1 : 1) * network.observed[i]! * distance);
    step.weights.push(1 / (network.sigma[i]! * distance) ** 2);
  });
  return [...found.values()].map(({ from, to, rises, weights }) => {
    const weight = weights.reduce((a, b) => a + b, 0);
    return {
      from,
      to,
      rise: rises.reduce((s, r, k) => s + r * weights[k]!, 0) / weight,
      variance: 1 / weight,
    };
  });
}

const labelOf = (point: SlopeReading['from']): string => pointLabel({ kind: 'station', ...point });

/** From one station to another along the tree. */
function wayBetween(
  from: string,
  to: string,
  tree: ReadonlyMap<string, { readonly up: Step | null; readonly depth: number }>,
): { readonly step: Step; readonly there: string }[] {
  const [first, last]: { step: Step; there: string }[][] = [[], []];
  const above = (id: string) => {
    const step = tree.get(id)!.up!;
    return { step, other: step.from === id ? step.to : step.from };
  };
  let [a, b] = [from, to];
  while (a !== b)
    if (tree.get(a)!.depth >= tree.get(b)!.depth) {
      const { step, other } = above(a);
      first!.push({ step, there: other });
      a = other;
    } else {
      const { step, other } = above(b);
      last!.unshift({ step, there: b });
      b = other;
    }
  return [...first!, ...last!];
}

/** Stations of a loop at which it leaves a rail or reaches one. */
function cornersOf(way: readonly string[]): string[] {
  const closed = way[way.length - 1] === way[0] ? way.slice(0, -1) : [...way];
  const railOf = (label: string) => label.slice(0, label.lastIndexOf(':'));
  const n = closed.length;
  const corners = closed.filter(
    (label, i) =>
      railOf(label) !== railOf(closed[(i + n - 1) % n]!) || railOf(label) !== railOf(closed[(i + 1) % n]!),
  );
  return corners.length > 0 ? corners : [closed[0]!, closed[n >> 1]!];
}
