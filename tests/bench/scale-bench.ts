/**
 * `npm run bench -- scale [largest]`: how processor time and memory of one whole report without PDF grow with stations, rails, passes,
 * set-ups and characteristics, as exponents fitted from job to job. 1: in proportion. Each job is a folder of files, reported by the built
 * program in a process of its own.
 */
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { normal, seeded } from '../support/jobs.js';
import { costOf } from '../support/processor-time.js';
import { program } from '../support/program.js';

interface Size {
  readonly stations: number;
  readonly rails: number;
  readonly passes: number;
  readonly setups: number;
  /** Limits, of lengths that differ, on one rail. */
  readonly limits: number;
}

const SMALL: Size = { stations: 41, rails: 2, passes: 2, setups: 1, limits: 6 };
/** Along each way the small job grows, and by what its cost is divided. */
const WAYS: readonly {
  readonly name: keyof Size;
  readonly at: readonly number[];
  readonly from?: Partial<Size>;
}[] = [
  { name: 'stations', at: [50, 160, 500, 1600, 5000], from: { passes: 10 } },
  { name: 'passes', at: [3, 10, 30, 100, 300] },
  { name: 'rails', at: [6, 20, 60] },
  { name: 'setups', at: [6, 20, 60, 200], from: { stations: 201 } },
  { name: 'limits', at: [20, 60, 200, 600, 2000], from: { stations: 201 } },
];

/** Legs: each set-up reads its own part of every rail and one station of the part before it. Two monuments are read from all. */
function writeJob(folder: string, { stations, rails, passes, setups, limits }: Size): number {
  const next = seeded(stations + rails + passes + setups + limits);
  const SPACING = 100;
  const ids = Array.from({ length: rails }, (_, k) => `R${k + 1}`);
  const perLeg = Math.ceil(stations / setups);
  const legs = Array.from({ length: setups }, (_, k) => ({ id: `S${k + 1}`, first: k * perLeg }));
  const lines = ['setup,rail,station,target,pass,vertical,horizontal'];
  for (const leg of legs)
    for (let pass = 1; pass <= passes; pass++)
      for (const [r, rail] of ids.entries())
        for (let k = Math.max(0, leg.first - 2); k < Math.min(stations, leg.first + perLeg); k++) {
          const shape = (phase: number) => 2 * Math.sin(k / 3 + r + phase);
          const u = Math.hypot(1.5, 0.03 * (0.5 + (k * SPACING) / 1000));
          const [v, h] = [shape(0) + u * normal(next), shape(1) + u * normal(next)];
          lines.push(`${leg.id},${rail},${k + 1},T1,${pass},${v.toFixed(1)},${h.toFixed(1)}`);
        }
  const length = (stations - 1) * SPACING;
  const overs = Array.from({ length: Math.max(0, limits - 6) }, (_, k) => ({
    what: 'straightness-vertical',
    rail: ids[0],
    over: Math.round(length / 4 + (k * length) / 4 / limits),
    limit: 30,
    unit: 'um',
  }));
  const job = {
    format: 'waysheet-job/1',
    id: 'SCALE',
    units: { length: 'mm', reading: 'um' },
    rails: ids.map((id, k) => ({
      id,
      ...(k === 0 && { datum: true }),
      across: k * 1300,
      stations: { first: 0, spacing: SPACING, count: stations },
    })),
    instruments: [
      {
        id: 'L1',
        reading: { u: 1.5, perMetre: 0.03, unit: 'um' },
        level: { u: 1, unit: 'arcsec' },
      },
    ],
    setups: legs.map(({ id, first }) => ({
      id,
      instrument: 'L1',
      along: first * SPACING - 500,
      across: 650,
      levelled: true,
      plus: { vertical: 'up', horizontal: 'left' },
    })),
    readings: [{ file: 'readings/as-left.csv', phase: 'as-left' }],
    tolerances: [
      ...['straightness-vertical', 'straightness-horizontal'].map((what) => ({
        what,
        limit: 30,
        unit: 'um',
      })),
      ...['parallelism-vertical', 'parallelism-horizontal'].map((what) => ({
        ...{ what, rail: ids[1], limit: 40, unit: 'um' },
      })),
      ...overs,
    ],
  };
  mkdirSync(join(folder, 'readings'), { recursive: true });
  writeFileSync(join(folder, 'job.json'), JSON.stringify(job, null, 1));
  writeFileSync(join(folder, 'readings/as-left.csv'), `${lines.join('\n')}\n`);
  return 2 * (lines.length - 1);
}

const exponent = (x: readonly number[], y: readonly number[]): string =>
  x.length < 2 ? '–' : (Math.log(y.at(-1)! / y.at(-2)!) / Math.log(x.at(-1)! / x.at(-2)!)).toFixed(2);

const largest = Number(process.argv[2] ?? Infinity);
const place = mkdtempSync(join(tmpdir(), 'waysheet-bench-'));
try {
  for (const { name, at, from = {} } of WAYS) {
    console.log(`\n${name.padEnd(12)}readings  core-s     exponent  MB         exponent`);
    const [sizes, times, memory]: [number[], number[], number[]] = [[], [], []];
    for (const of of at.filter((n) => n <= largest)) {
      const folder = join(place, 'job');
      const readings = writeJob(folder, { ...SMALL, ...from, [name]: of });
      const { node: seconds, peakMb: megabytes } = await costOf([
        ...[program(), 'report', folder, '--out', join(place, 'out'), '--no-pdf'],
      ]);
      sizes.push(name === 'limits' ? of : readings);
      times.push(seconds);
      memory.push(megabytes);
      const cells = [
        of,
        readings,
        seconds.toFixed(1),
        exponent(sizes, times),
        megabytes.toFixed(0),
        exponent(sizes, memory),
      ];
      console.log(cells.map((cell, k) => String(cell).padEnd(k === 0 ? 12 : 10)).join(''));
      rmSync(folder, { recursive: true });
    }
  }
} finally {
  rmSync(place, { recursive: true, force: true });
}
