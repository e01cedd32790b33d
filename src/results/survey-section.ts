/** The survey as it was planned and set up: rails, monuments, instruments, set-ups and the points that they read. */
import { axes, type Job } from '../survey/job/job.js';
import type { PhaseRead, RailRead } from '../survey/readings/what-was-read.js';
import type { Readings } from '../survey/readings/readings.js';
import type { Results } from './results-schema.js';

const positive = {
  vertical: ['up', 'down'],
  horizontal: ['left', 'right'],
  along: ['ahead', 'back'],
} as const;

/** What the job declares, in mm and µm. */
export function surveySection(
  job: Job,
  readings: Readings,
  lastDay: string | null,
  read: PhaseRead | undefined,
): Results['survey'] {
  const readOf = new Map(read?.rails.map((rail) => [rail.rail, rail]));
  return {
    rails: job.rails.map(({ id, name, datum, direction, stations, jointsMm, nominal }) => ({
      id,
      name,
      datum,
      direction,
      ...(readOf.has(id) && { read: declaredAndRead(readOf.get(id)!) }),
      ...(jointsMm.length > 0 && { joints: [...jointsMm] }),
      ...(nominal !== null && {
        nominal: (['vertical', 'horizontal'] as const).flatMap((plane) =>
          nominal[plane] === null
            ? []
            : [{ plane, points: nominal[plane].map(({ atMm, um }) => ({ along: atMm, offset: um })) }],
        ),
      }),
      stations: stations.map(({ number, alongMm, acrossMm }) => ({
        station: number,
        along: alongMm,
        across: acrossMm,
      })),
    })),
    monuments: job.monuments.map(({ id, alongMm, acrossMm }) => ({ id, along: alongMm, across: acrossMm })),
    instruments: job.instruments.map(({ levelZeroU, coneU, calibrated, resolution, ...i }) => ({
      ...i,
      ...((calibrated.by ?? calibrated.on) !== null && { calibrated }),
      ...(levelZeroU !== null && { levelZeroU }),
      ...(coneU !== null && { coneU }),
      ...(resolution !== null && { resolution }),
      overdue: i.calibrationDue === null || lastDay === null ? null : i.calibrationDue < lastDay,
    })),
    setups: job.setups.map((s) => ({
      id: s.id,
      instrument: s.instrument,
      along: s.alongMm,
      across: s.acrossMm,
      levelled: s.levelled,
      plus: Object.fromEntries(
        axes.map((axis) => [axis, positive[axis][s.sign[axis] === 1 ? 0 : 1]]),
      ) as Results['survey']['setups'][number]['plus'],
      ...(s.headingDeg !== 0 && { headingDeg: s.headingDeg }),
      ...(s.air.length > 0 && { air: s.air.map((air) => ({ ...air })) }),
      note: s.note,
      sights: sightsFrom(job, readings, s.id),
    })),
  };
}

const declaredAndRead = ({ declared, read, unread }: RailRead) => ({ declared, read, unread });

/** First and last station that was read of each rail, and each monument, once. */
function sightsFrom(
  job: Job,
  readings: Readings,
  setup: string,
): Results['survey']['setups'][number]['sights'] {
  const monuments = new Set<string>();
  const ends = new Map<string, { first: number; last: number }>();
  for (const list of readings.phases.values()) {
    for (const r of list) {
      if (r.kind !== 'offset' || r.setup !== setup) continue;
      if (r.point.kind === 'monument') {
        monuments.add(r.point.monument);
        continue;
      }
      const { rail, station } = r.point;
      const seen = ends.get(rail) ?? { first: station, last: station };
      ends.set(rail, { first: Math.min(seen.first, station), last: Math.max(seen.last, station) });
    }
  }
  const rails = job.rails.flatMap((rail) => {
    const seen = ends.get(rail.id);
    if (seen === undefined) return [];
    return [...new Set([seen.first, seen.last])].map((number) => {
      const { alongMm, acrossMm } = rail.stations[number - 1]!;
      return { rail: rail.id, monument: null, along: alongMm, across: acrossMm };
    });
  });
  return [
    ...rails,
    ...job.monuments
      .filter((m) => monuments.has(m.id))
      .map((m) => ({ rail: null, monument: m.id, along: m.alongMm, across: m.acrossMm })),
  ];
}
