/** How direction and height were carried from one set-up to the next, with their uncertainties. */
import { pointLabel } from '../survey/readings/point-label.js';
import type { Job, Place2D } from '../survey/job/job.js';
import { placeOfPoint } from '../survey/readings/place-of-point.js';
import type { OffsetReading } from '../survey/readings/readings.js';
import type { Adjustment, Functional } from '../solution/solve/adjustment.js';
import { keyOf } from '../solution/solve/network.js';
import { quantityOf } from './quantity.js';
import type { Explainer } from '../solution/solve/explain.js';
import type { TieResult } from './results-schema.js';

type Common = Place2D & { readonly label: string };

/** Readings of each set-up and axis: one per point and target assembly, by their names. */
type Looks = ReadonlyMap<string, ReadonlyMap<string, OffsetReading>>;

/** Source of the direction and the height of each set-up after the first. */
export function tiesSection(job: Job, adjustment: Adjustment, explain: Explainer): TieResult[] {
  const looks = new Map<string, Map<string, OffsetReading>>();
  const seen = new Set<string>();
  for (const o of adjustment.network.observations) {
    if (o.kind !== 'offset') continue;
    seen.add(o.setup);
    const key = looksKey(o.setup, o.axis);
    let from = looks.get(key);
    if (from === undefined) looks.set(key, (from = new Map<string, OffsetReading>()));
    from.set(`${pointLabel(o.point)}\u0000${o.target}`, o);
  }
  const used = job.setups.filter((s) => seen.has(s.id));
  return used.flatMap((to, k) =>
    used
      .slice(0, k)
      .flatMap((from): TieResult[] => [
        ...directionTie(job, adjustment, looks, from.id, to.id, explain),
        ...heightTie(job, adjustment, looks, from.id, to.id, explain),
      ]),
  );
}

const looksKey = (setup: string, axis: OffsetReading['axis']): string => `${axis}\u0000${setup}`;

function directionTie(
  job: Job,
  adjustment: Adjustment,
  looks: Looks,
  from: string,
  to: string,
  explain: Explainer,
): TieResult[] {
  const square = commonPoints(job, looks, from, to, 'along');
  const running = commonPoints(job, looks, from, to, 'horizontal');
  const across = extent(square.map((p) => p.acrossMm));
  const along = extent(running.map((p) => p.alongMm));
  const bySquare = square.length >= 2 && across > 0;
  const byRunning = running.length >= 2 && along > 0;
  if (!bySquare && !byRunning) return [];
  const one = adjustment.network.find(keyOf.setup('yaw', from))!;
  const two = adjustment.network.find(keyOf.setup('yaw', to))!;
  return [
    {
      what: 'direction',
      from,
      to,
      by: [...(bySquare ? labels(square) : []), ...(byRunning ? labels(running) : [])],
      baselineMm: Math.max(bySquare ? across : 0, byRunning ? along : 0),
      difference: quantityOf(adjustment, { index: [two, one], weight: [1, -1] }, explain),
    },
  ];
}

/** The planes are compared at the carrying points: there the carry-over is the reading of the target. */
function heightTie(
  job: Job,
  adjustment: Adjustment,
  looks: Looks,
  from: string,
  to: string,
  explain: Explainer,
): TieResult[] {
  const common = commonPoints(job, looks, from, to, 'vertical');
  if (common.length === 0) return [];
  const alongM = common.reduce((sum, p) => sum + p.alongMm / common.length, 0) / 1000;
  const acrossM = common.reduce((sum, p) => sum + p.acrossMm / common.length, 0) / 1000;
  const plane = (id: string): [number, number][] => {
    const setup = job.setups.find((s) => s.id === id)!;
    return [
      [adjustment.network.find(keyOf.setup('plane-height', id))!, 1],
      [adjustment.network.find(keyOf.setup('pitch', id))!, alongM - setup.alongMm / 1000],
      [adjustment.network.find(keyOf.setup('roll', id))!, acrossM - setup.acrossMm / 1000],
    ];
  };
  const terms = [...plane(to), ...plane(from).map(([i, w]): [number, number] => [i, -w])];
  const f: Functional = { index: terms.map(([i]) => i), weight: terms.map(([, w]) => w) };
  return [
    {
      what: 'height',
      from,
      to,
      by: labels(common),
      baselineMm: null,
      difference: quantityOf(adjustment, f, explain),
    },
  ];
}

/** Points read from both set-ups in one axis with the same target assembly. */
function commonPoints(
  job: Job,
  looks: Looks,
  from: string,
  to: string,
  axis: OffsetReading['axis'],
): Common[] {
  const first = looks.get(looksKey(from, axis));
  const second = looks.get(looksKey(to, axis));
  if (first === undefined || second === undefined) return [];
  return [...second]
    .filter(([key]) => first.has(key))
    .map(([, o]) => ({ label: `${pointLabel(o.point)} (target ${o.target})`, ...placeOfPoint(job, o.point) }))
    .sort((a, b) => (a.label < b.label ? -1 : 1));
}

const extent = (values: readonly number[]): number =>
  values.length === 0
    ? 0
    : values.reduce((m, v) => Math.max(m, v), -Infinity) - values.reduce((m, v) => Math.min(m, v), Infinity);

/** A long list of common stations is shortened to its ends. */
function labels(points: readonly Common[]): string[] {
  const all = points.map((p) => p.label);
  return all.length <= 4 ? all : [all[0]!, `… ${all.length - 2} more …`, all[all.length - 1]!];
}
