/** A resolved job and its offset and slope readings as the files of a job folder, so that a simulated survey goes through the front door. */
import { fromUm, type LengthUnit } from '../../src/base/units/units.js';
import type { PhaseName } from '../../src/survey/job/job-schema.js';
import { axes, type Axis, type Job, type Rail } from '../../src/survey/job/job.js';
import type { OffsetReading, Reading, SlopeReading } from '../../src/survey/readings/readings.js';

const SIDES: Readonly<Record<Axis, readonly [plus: string, minus: string]>> = {
  vertical: ['up', 'down'],
  horizontal: ['left', 'right'],
  along: ['ahead', 'back'],
};

const u = (value: number | null, unit: string) => (value === null ? undefined : { u: value, unit });

const railOf = ({ id, datum, stations }: Rail) => ({
  id,
  ...(datum && { datum }),
  across: stations[0]!.acrossMm,
  stations: { at: stations.map(({ alongMm }) => alongMm) },
});

/** With limits that such rails meet, so that what is not read can be asked about. */
const jobJson = (job: Job, readings: readonly object[]): object => ({
  format: 'waysheet-job/1',
  id: job.id,
  units: { length: 'mm', reading: job.readingUnit },
  surveyed: { by: 'the test', on: '2031-05-06' },
  rails: job.rails.map(railOf),
  monuments: job.monuments.map(({ id, alongMm, acrossMm }) => ({ id, along: alongMm, across: acrossMm })),
  instruments: job.instruments.map((i) => {
    const isSlope = i.measures === 'slope';
    return {
      id: i.id,
      reading: {
        u: i.readingU,
        ...(!isSlope && { perMetre: i.perMetreU }),
        unit: isSlope ? 'um/m' : 'um',
      },
      ...(i.levelU !== null && { level: { u: i.levelU, unit: 'um/m', zero: u(i.levelZeroU, 'um/m') } }),
      square: u(i.squareU, 'um/m'),
      cone: u(i.coneU, 'um/m'),
    };
  }),
  ...(job.targets !== null && {
    targets: job.targets.map(({ id, scaleU, seatU }) => ({
      id,
      scale: u(scaleU === null ? null : 100 * scaleU, '%'),
      seat: u(seatU, 'um'),
    })),
  }),
  setups: job.setups.map((s) => ({
    id: s.id,
    instrument: s.instrument,
    along: s.alongMm,
    across: s.acrossMm,
    levelled: s.levelled,
    heading: s.headingDeg,
    plus: Object.fromEntries(axes.map((axis) => [axis, SIDES[axis][s.sign[axis] === 1 ? 0 : 1]])),
    ...(s.air[0]?.vertical && {
      air: { vertical: { gradient: s.air[0].vertical.value, u: s.air[0].vertical.u, unit: 'K/m' } },
    }),
  })),
  readings,
  tolerances: [{ what: 'straightness-vertical', limit: 300, unit: 'um' }],
});

const shown = (value: number, unit: LengthUnit = 'um') => String(Number(fromUm(value, unit).toPrecision(10)));

/** One line per row number and point: the axes that were read there together. */
function offsetCsv(list: readonly OffsetReading[], unit: LengthUnit): string {
  const lines = new Map<string, readonly OffsetReading[]>();
  for (const r of [...list].sort((a, b) => a.source.row - b.source.row)) {
    const key = JSON.stringify([r.source.row, r.setup, r.point, r.target, r.pass]);
    lines.set(key, [...(lines.get(key) ?? []), r]);
  }
  const rows = [...lines.values()].map((cells) => {
    const [{ setup, point, target, pass, time }] = cells as [OffsetReading, ...OffsetReading[]];
    const place = point.kind === 'station' ? [point.rail, point.station, ''] : ['', '', point.monument];
    const values = axes.map((axis) => {
      const cell = cells.find((r) => r.axis === axis);
      return cell === undefined ? '' : shown(cell.um, unit);
    });
    return [setup, ...place, target, pass, time ?? '', ...values].join(',');
  });
  return `setup,rail,station,monument,target,pass,time,vertical,horizontal,along\n${rows.join('\n')}\n`;
}

function slopeCsv(list: readonly SlopeReading[]): string {
  const rows = list.map(({ from, to, axis, umPerM, pass }) =>
    [from.rail, from.station, to.rail, to.station, axis, shown(umPerM), pass].join(','),
  );
  return `from_rail,from_station,to_rail,to_station,axis,slope,pass\n${rows.join('\n')}\n`;
}

export function filesOf(
  job: Job,
  phases: ReadonlyMap<PhaseName, readonly Reading[]>,
): Record<string, string> {
  const files: Record<string, string> = {};
  const entries: object[] = [];
  for (const [phase, list] of phases)
    for (const file of new Set(list.map(({ source }) => source.file))) {
      const own = list.filter(({ source }) => source.file === file);
      const slopes = own.filter((r) => r.kind === 'slope');
      const isSlope = slopes.length > 0;
      files[file] = isSlope
        ? slopeCsv(slopes)
        : offsetCsv(
            own.filter((r) => r.kind === 'offset'),
            job.readingUnit,
          );
      const [slope] = slopes;
      entries.push({
        file,
        phase,
        ...(slope !== undefined && { kind: 'slope', instrument: slope.instrument, unit: 'um/m' }),
      });
    }
  return { ...files, 'job.json': JSON.stringify(jobJson(job, entries), null, 2) };
}
