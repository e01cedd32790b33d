/** How direction and height were carried from one set-up to the next, and how well. */
import type { Job } from '../job/job.js';
import type { OffsetReading, PointRef } from '../readings/readings.js';
import type { Adjustment, Functional } from '../solve/adjustment.js';
import { keyOf } from '../solve/network.js';
import { quantityOf, type Explain } from './quantity.js';
import type { TieResult } from './results-schema.js';

interface Common {
  readonly label: string;
  readonly alongMm: number;
  readonly acrossMm: number;
}

export function tiesSection(job: Job, adjustment: Adjustment, explain: Explain): TieResult[] {
  const offsets = adjustment.network.observations.filter((o): o is OffsetReading => o.kind === 'offset');
  const used = job.setups.filter((s) => offsets.some((o) => o.setup === s.id));
  return used.flatMap((to, k) =>
    used
      .slice(0, k)
      .flatMap((from): TieResult[] => [
        ...directionTie(job, adjustment, offsets, from.id, to.id, explain),
        ...heightTie(job, adjustment, offsets, from.id, to.id, explain),
      ]),
  );
}

function directionTie(
  job: Job,
  adjustment: Adjustment,
  offsets: readonly OffsetReading[],
  from: string,
  to: string,
  explain: Explain,
): TieResult[] {
  const square = commonPoints(job, offsets, from, to, 'along');
  const running = commonPoints(job, offsets, from, to, 'horizontal');
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

/** The planes are compared where the carrying points stand: there the carry-over is what the target read. */
function heightTie(
  job: Job,
  adjustment: Adjustment,
  offsets: readonly OffsetReading[],
  from: string,
  to: string,
  explain: Explain,
): TieResult[] {
  const common = commonPoints(job, offsets, from, to, 'vertical');
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
  offsets: readonly OffsetReading[],
  from: string,
  to: string,
  axis: OffsetReading['axis'],
): Common[] {
  const seen = (setup: string) =>
    new Map(
      offsets
        .filter((o) => o.setup === setup && o.axis === axis)
        .map((o) => [`${pointLabel(o.point)}\u0000${o.target}`, o]),
    );
  const first = seen(from);
  return [...seen(to)]
    .filter(([key]) => first.has(key))
    .map(([, o]) => ({ label: `${pointLabel(o.point)} (target ${o.target})`, ...placeOf(job, o.point) }))
    .sort((a, b) => (a.label < b.label ? -1 : 1));
}

const pointLabel = (p: PointRef): string => (p.kind === 'station' ? `${p.rail}:${p.station}` : p.monument);

const placeOf = (job: Job, p: PointRef): { alongMm: number; acrossMm: number } => {
  const place =
    p.kind === 'station'
      ? job.rails.find((r) => r.id === p.rail)!.stations[p.station - 1]!
      : job.monuments.find((m) => m.id === p.monument)!;
  return { alongMm: place.alongMm, acrossMm: place.acrossMm };
};

const extent = (values: readonly number[]): number =>
  values.length === 0
    ? 0
    : values.reduce((m, v) => Math.max(m, v), -Infinity) - values.reduce((m, v) => Math.min(m, v), Infinity);

/** A long list of common stations is told by its ends. */
function labels(points: readonly Common[]): string[] {
  const all = points.map((p) => p.label);
  return all.length <= 4 ? all : [all[0]!, `… ${all.length - 2} more …`, all[all.length - 1]!];
}
