/** Fills in the readings of a new job folder as a crew would have: made-up rails, set-ups a little out, seeded noise as large as the job states. */
import { readFile, readdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { JobInput } from '../../../src/survey/job/job-schema.js';
import { toMm, type LengthUnit } from '../../../src/base/units/units.js';
import { LASER, LEVEL, SPAN_GAUGE } from '../../../src/cli/new/planned-job.js';
import { normal, seeded } from '../../support/jobs.js';

/** Height and offset of a rail, µm, at a place along, m. */
export const truth = {
  height: (rail: string, x: number): number =>
    (rail === 'A' ? 0 : 25) + 12 * Math.sin(0.8 * x + rail.charCodeAt(0)),
  offset: (rail: string, x: number): number =>
    (rail === 'A' ? 0 : 60) + 9 * Math.cos(0.6 * x + rail.charCodeAt(0)),
};

const states: Record<string, { h: number; p: number; q: number; yaw: number; d: number; c: number }> = {
  S1: { h: -15, p: 2, q: -1, yaw: 4, d: 6, c: -20 },
  S2: { h: 22, p: -1, q: 3, yaw: -3, d: -9, c: 31 },
};
const monumentsAlong: Record<string, number> = { M1: 30, M2: -12 };

/** Only the planned cells: what a row does not plan stays blank. */
export async function fillIn(folder: string, seed = 1): Promise<void> {
  const job = JSON.parse(await readFile(join(folder, 'job.json'), 'utf8')) as JobInput;
  const unit = job.units.length;
  const metres = (value: number) => toMm(value, unit) / 1000;
  const next = seeded(seed);
  const places = stationPlaces(job, metres);
  const inReadingUnit = (um: number) => (um / (toMm(1, job.units.reading) * 1000)).toFixed(4);
  for (const file of await readdir(join(folder, 'readings'))) {
    const path = join(folder, 'readings', file);
    const [header, ...rows] = (await readFile(path, 'utf8')).trimEnd().split('\n');
    const names = header!.split(',');
    const filled = rows.map((line) => {
      const row = Object.fromEntries(line.split(',').map((cell, i) => [names[i]!, cell]));
      if ('slope' in row) row['slope'] = slopeOf(row, places, statedSlope(job) * normal(next), job);
      else if ('span' in row)
        row['span'] = spanOf(row, places, unit, statedUm(job, SPAN_GAUGE, 0) * normal(next));
      else
        Object.assign(
          row,
          offsetsOf(row, job, places, metres, inReadingUnit, (m) => statedUm(job, LASER, m) * normal(next)),
        );
      return names.map((name) => row[name]).join(',');
    });
    await writeFile(path, `${[header, ...filled].join('\n')}\n`);
  }
}

/** Standard uncertainty of one reading, µm, as the job states it. */
function statedUm(job: JobInput, id: string, metresAway: number): number {
  const { u, perMetre = 0, unit } = job.instruments.find((instrument) => instrument.id === id)!.reading;
  return toMm(Math.hypot(u, perMetre * metresAway), unit as LengthUnit) * 1000;
}

type Row = Record<string, string | undefined>;
type Places = Map<string, { across: number; along: number[] }>;

function stationPlaces(job: JobInput, metres: (value: number) => number): Places {
  return new Map(
    job.rails.map(({ id, across, stations }) => {
      const { first = 0, spacing = 0, count = 0, at } = stations;
      const along = at ?? Array.from({ length: count }, (_, k) => first + k * spacing);
      return [id, { across: metres(across!), along: along.map(metres) }];
    }),
  );
}

function spanOf(row: Row, places: Places, unit: LengthUnit, noise: number): string {
  const [from, to] = [places.get(row['rail']!)!, places.get(row['other']!)!];
  const x = from.along[Number(row['station']) - 1]!;
  const um = truth.offset(row['other']!, x) - truth.offset(row['rail']!, x) + noise;
  return (((to.across - from.across) * 1000 + um / 1000) / toMm(1, unit)).toFixed(6);
}

function offsetsOf(
  row: Row,
  job: JobInput,
  places: Places,
  metres: (value: number) => number,
  text: (um: number) => string,
  noise: (metresAway: number) => number,
): Row {
  const setup = job.setups!.find(({ id }) => id === row['setup'])!;
  const { h, p, q, yaw, d, c } = states[setup.id]!;
  const [xs, ys] = [metres(setup.along), metres(setup.across)];
  const move = (axis: string) =>
    row['check'] === '' ? 0 : row['check']!.startsWith(axis) ? movedUm(unitOf(job)) : 0;
  if (row['monument'] !== '') {
    const monument = job.monuments!.find(({ id }) => id === row['monument'])!;
    const [dx, dy] = [metres(monument.along) - xs, metres(monument.across) - ys];
    return {
      along: text(
        monumentsAlong[row['monument']!]! - d + yaw * dy + move('ahead') + noise(Math.hypot(dx, dy)),
      ),
    };
  }
  const rail = row['rail']!;
  const { across, along } = places.get(rail)!;
  const [dx, dy] = [along[Number(row['station']) - 1]! - xs, across - ys];
  const away = Math.hypot(dx, dy);
  const vertical = text(truth.height(rail, xs + dx) + 40 - h - p * dx - q * dy + move('up') + noise(away));
  if (row['note'] === 'height carried over' || row['check']!.startsWith('up')) return { vertical };
  const horizontal = text(truth.offset(rail, xs + dx) - c - yaw * dx + move('left') + noise(away));
  return row['check'] === '' ? { vertical, horizontal } : { horizontal };
}

const unitOf = (job: JobInput): LengthUnit => job.units.length;
/** As planned-rows.ts has it. */
const movedUm = (unit: LengthUnit): number => (unit === 'mm' ? 1000 : 50 * 25.4);

/** Standard uncertainty of a level, in its own unit. */
const statedSlope = (job: JobInput): number => job.instruments.find(({ id }) => id === LEVEL)!.reading.u;

function slopeOf(row: Row, places: Places, noise: number, job: JobInput): string {
  const end = (side: 'from' | 'to') => {
    const rail = row[`${side}_rail`]!;
    const { across, along } = places.get(rail)!;
    const x = along[Number(row[`${side}_station`]) - 1]!;
    return { x, y: across, z: truth.height(rail, x) };
  };
  const [from, to] = [end('from'), end('to')];
  const umPerM = (to.z - from.z) / Math.hypot(to.x - from.x, to.y - from.y);
  // thou/ft: 25.4 µm over 0.3048 m.
  return (umPerM / (unitOf(job) === 'mm' ? 1 : 25.4 / 0.3048) + noise).toFixed(4);
}
