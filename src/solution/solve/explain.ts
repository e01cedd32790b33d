/**
 * Says in the words of a crew what is missing to determine a quantity. The free motions that change it are known exactly.
 * Each thing that a crew could have done (level a set-up, carry a direction, read a target on both rails …) would stop some
 * of them. The smallest number of such things that stops all of them is what is missing.
 */
import { groupBy } from '../../base/lists.js';
import type { Job } from '../../survey/job/job.js';
import { dot, type Adjustment, type Functional } from './adjustment.js';
import { keyOf, type Network } from './network.js';
import { effectOf, isPoint, type Unknown } from './unknowns.js';
import { reason, type Reason } from '../reasons/reason.js';

/** One thing a crew could do, as the functionals it would determine. */
interface Remedy {
  readonly rows: readonly Functional[];
  readonly reason: Reason;
  /** Among equally good remedies, the more usual first. */
  readonly usual: number;
}

/** Says what is missing to determine some functionals: at least one reason. */
export type Explainer = (moved: readonly Functional[]) => readonly Reason[];

/** What a remedy would determine, in the coordinates of the free motions. */
interface Option {
  readonly remedy: Remedy;
  readonly rows: readonly number[][];
}

/** Calculates nothing before the first call of the explainer. */
export function explainer(job: Job, adjustment: Adjustment): Explainer {
  const motions = adjustment.freeMotions;
  const vector = (f: Functional) => motions.map((m) => dot(f, m));
  let options: Option[] | null = null;
  return (moved) => {
    // A remedy that stops no motion is left out.
    options ??= remedies(job, adjustment.network)
      .map((remedy) => ({ remedy, rows: remedy.rows.map(vector) }))
      .filter(({ rows }) => orthonormal(rows).length > 0);
    const found = fewestRemedies(moved.map(vector), options);
    return found.length === 0 ? [reason('nothing-ties-it', {})] : found.map((remedy) => remedy.reason);
  };
}

/** Stops the motions one remedy at a time, always with the one that stops most of the remaining motions. */
function fewestRemedies(moved: readonly number[][], all: readonly Option[]): Remedy[] {
  let left = [...moved];
  let options = all;
  const chosen: Remedy[] = [];
  const size = (vs: readonly number[][]) => vs.reduce((sum, v) => sum + v.reduce((s, c) => s + c * c, 0), 0);
  const start = size(left);
  while (size(left) > 1e-12 * start && chosen.length < 6) {
    let best: { gain: number; option: Option; basis: number[][] } | null = null;
    for (const option of options) {
      const basis = orthonormal(option.rows);
      if (basis.length === 0) continue;
      const gain = size(left) - size(left.map((v) => without(v, basis)));
      const better = best === null || gain > best.gain * (1 + 1e-6) + 1e-12 * start;
      const equalButUsual =
        best !== null &&
        Math.abs(gain - best.gain) <= 1e-6 * best.gain &&
        option.remedy.usual < best.option.remedy.usual;
      if (gain > 1e-9 * start && (better || equalButUsual)) best = { gain, option, basis };
    }
    if (best === null) break;
    const { basis, option } = best;
    chosen.push(option.remedy);
    left = left.map((v) => without(v, basis));
    options = options.map(({ remedy, rows }) => ({ remedy, rows: rows.map((v) => without(v, basis)) }));
  }
  return chosen;
}

function orthonormal(rows: readonly number[][]): number[][] {
  const basis: number[][] = [];
  for (const row of rows) {
    const rest = without(row, basis);
    const length = Math.hypot(...rest);
    if (length > 1e-9) basis.push(rest.map((c) => c / length));
  }
  return basis;
}

function without(v: readonly number[], basis: readonly number[][]): number[] {
  let rest = [...v];
  for (const b of basis) {
    const along = rest.reduce((sum, c, k) => sum + c * b[k]!, 0);
    rest = rest.map((c, k) => c - along * b[k]!);
  }
  return rest;
}

function remedies(job: Job, network: Network): Remedy[] {
  const list = inOrder(job, network);
  const of = <K extends Unknown['kind']>(kind: K) =>
    list.filter((e): e is [number, Unknown & { readonly kind: K }] => e[1].kind === kind);
  return [
    ...levelling(of('pitch'), of('roll')),
    ...heightTies(job, network, of('plane-height')),
    ...targetTies(of('rod-height'), 'vertical'),
    ...targetTies(of('bracket-across'), 'horizontal'),
    ...directionTies(job, of('yaw')),
    ...runningTies(of('running-offset')),
    ...spanTies(list),
    ...sightTies(of('sight')),
    ...benchmarkTie(job, of('height')),
    ...stepTies(list, network),
    ...of('squareness').map(([index, { instrument }]) => ({
      rows: [unit(index)],
      reason: reason('squareness-not-known', { instrument }),
      usual: 5,
    })),
  ];
}

/** Unknowns with their indices: set-ups in the order of the job, all others by name, independent of the order of rows. */
function inOrder(job: Job, network: Network): [number, Unknown][] {
  const place = new Map(job.setups.map((s, k) => [s.id, k]));
  const placeOf = (u: Unknown) => ('setup' in u ? place.get(u.setup)! : 0);
  const { keys } = network;
  return [...network.unknowns.entries()].sort(
    ([a, u], [b, v]) => placeOf(u) - placeOf(v) || (keys[a]! < keys[b]! ? -1 : 1),
  );
}

const unit = (index: number): Functional => ({ index: [index], weight: [1] });
const less = (a: number, b: number): Functional => ({ index: [a, b], weight: [1, -1] });

type Entries<K extends Unknown['kind']> = readonly (readonly [number, Unknown & { readonly kind: K }])[];

const levelling = (pitches: Entries<'pitch'>, rolls: Entries<'roll'>): Remedy[] =>
  pitches.map(([pitch, { setup }]) => {
    const roll = rolls.find(([, r]) => r.setup === setup);
    const rows = [unit(pitch), ...(roll ? [unit(roll[0])] : [])];
    return { rows, reason: reason('not-levelled', { setup }), usual: 2 };
  });

function heightTies(job: Job, network: Network, planes: Entries<'plane-height'>): Remedy[] {
  return pairs(planes).map(([[h1, { setup: s1 }], [h2, { setup: s2 }]]) => {
    const point = job.datum.stations[0]!;
    const plane = (setup: string, h: number): Functional => {
      const place = job.setups.find((s) => s.id === setup)!;
      const terms: [number, number][] = [[h, 1]];
      const pitch = network.find(keyOf.setup('pitch', setup));
      const roll = network.find(keyOf.setup('roll', setup));
      if (pitch !== undefined) terms.push([pitch, (point.alongMm - place.alongMm) / 1000]);
      if (roll !== undefined) terms.push([roll, (point.acrossMm - place.acrossMm) / 1000]);
      return { index: terms.map(([i]) => i), weight: terms.map(([, w]) => w) };
    };
    const [one, two] = [plane(s1, h1), plane(s2, h2)];
    const row = {
      index: [...Array.from(two.index), ...Array.from(one.index)],
      weight: [...Array.from(two.weight), ...Array.from(one.weight, (w) => -w)],
    };
    return { rows: [row], reason: reason('height-not-carried', { from: s1, to: s2 }), usual: 1 };
  });
}

/** Two unknowns whose difference a reading would give. */
const tied = (one: number, other: number, why: Reason, usual: number): Remedy => ({
  rows: [less(other, one)],
  reason: why,
  usual,
});

const targetTies = (
  targets: Entries<'rod-height'> | Entries<'bracket-across'>,
  plane: 'vertical' | 'horizontal',
): Remedy[] =>
  pairs(targets as readonly (readonly [number, { target: string }])[]).map(
    ([[k1, { target: first }], [k2, { target: second }]]) =>
      tied(k1, k2, reason('targets-not-compared', { first, second, plane }), 0),
  );

function directionTies(job: Job, yaws: Entries<'yaw'>): Remedy[] {
  const [m1, m2] = job.monuments;
  const monuments = m1 && m2 ? ([m1.id, m2.id] as const) : null;
  return pairs(yaws).map(([[y1, { setup: from }], [y2, { setup: to }]]) =>
    tied(y1, y2, reason('direction-not-carried', { from, to, monuments }), 0),
  );
}

const runningTies = (offsets: Entries<'running-offset'>): Remedy[] =>
  [...groupBy(offsets, ([, { rail }]) => rail).values()]
    .flatMap((own) => pairs(own))
    .map(([[c1, { setup: from, rail }], [c2, { setup: to }]]) =>
      tied(c1, c2, reason('part-not-tied', { rail, from, to }), 1),
    );

function spanTies(list: readonly (readonly [number, Unknown])[]): Remedy[] {
  const first = new Map<string, number>();
  for (const [index, u] of list) if (u.kind === 'offset' && !first.has(u.rail)) first.set(u.rail, index);
  return pairs([...first]).map(([[rail, y1], [other, y2]]) =>
    tied(y1, y2, reason('span-not-measured', { rail, other }), 3),
  );
}

/** Only for elevations is the height above everything that was surveyed asked. */
const benchmarkTie = (job: Job, heights: Entries<'height'>): Remedy[] =>
  job.toleranceSet.tolerances.some(({ what }) => what === 'elevation')
    ? heights
        .slice(0, 1)
        .map(([index]) => ({ rows: [unit(index)], reason: reason('no-benchmark', {}), usual: 7 }))
    : [];

const sightTies = (sights: Entries<'sight'>): Remedy[] =>
  sights.map(([index, { sight }]) => ({
    rows: [unit(index)],
    reason: reason('sight-free', { sight: sightWords(sight) }),
    usual: 4,
  }));

const sightWords = (sight: string): string => sight.split('|')[0]!;

/** Neighbouring points of one rail that no reading joins: the rail was read in parts. */
function stepTies(list: readonly (readonly [number, Unknown])[], network: Network): Remedy[] {
  const stations = list.flatMap(([index, u]) =>
    isPoint(u) && 'rail' in u ? [{ kind: u.kind, rail: u.rail, index, station: u.station }] : [],
  );
  const partOf = partsOf(network);
  return [...groupBy(stations, ({ kind, rail }) => `${kind}\u0000${rail}`).values()].flatMap((own) => {
    const { rail } = own[0]!;
    const sorted = own.sort((a, b) => a.station - b.station);
    return sorted.slice(1).flatMap((next, k): Remedy[] => {
      const last = sorted[k]!;
      if (partOf(next.index) === partOf(last.index)) return [];
      const why = reason('step-not-read', { rail, from: last.station, to: next.station });
      return [tied(last.index, next.index, why, 6)];
    });
  });
}

/** Unknowns that readings at different places share, but that do not tie these places to each other. */
const JOINS_NOTHING: ReadonlySet<Unknown['kind']> = new Set<Unknown['kind']>([
  'rod-height',
  'bracket-across',
  'bracket-along',
]);

/** Unknowns that a chain of observations joins are one part. A target assembly alone does not join. */
function partsOf(network: Network): (index: number) => number {
  const { unknowns, start, column } = network;
  const parent = Int32Array.from(unknowns.keys());
  const find = (i: number): number => {
    while (parent[i] !== i) i = parent[i] = parent[parent[i]!]!;
    return i;
  };
  for (let row = 0; row + 1 < start.length; row++) {
    let first = -1;
    for (let k = start[row]!; k < start[row + 1]!; k++) {
      const i = column[k]!;
      const unknown = unknowns[i]!;
      if (JOINS_NOTHING.has(unknown.kind) || effectOf(unknown)?.joins === false) continue;
      if (first < 0) first = find(i);
      else parent[find(i)] = first;
    }
  }
  return find;
}

/** With more items than this, a crew ties each to its neighbour or to the first. */
const MAX_ITEMS_ALL_PAIRS = 12;

/** Every pair, the earlier item first; if there are many, each item with the next one and with the first one. */
function pairs<T>(items: readonly T[]): [T, T][] {
  if (items.length > MAX_ITEMS_ALL_PAIRS) {
    const first = items[0]!;
    return items.flatMap((a, i): [T, T][] => [
      ...(i + 1 < items.length ? [[a, items[i + 1]!] as [T, T]] : []),
      ...(i > 1 ? [[first, a] as [T, T]] : []),
    ]);
  }
  return items.flatMap((a, i) => items.slice(i + 1).map((b): [T, T] => [a, b]));
}
