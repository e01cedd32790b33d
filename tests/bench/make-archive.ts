/** Archives of any size for the bench: two rails of 41 stations, two passes; every job with readings of its own. */
import { mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { root } from '../support/folders.js';
import { normal, seeded } from '../support/jobs.js';

const STATIONS = 41;

/**
 * @param broken One in so many jobs is broken, in one of ten ways; 0: none.
 * @returns How many are broken.
 */
export function makeArchive(folder: string, count: number, broken = 0): number {
  const base = JSON.parse(readFileSync(join(root, 'samples/TH-0412/job.json'), 'utf8')) as Record<
    string,
    unknown
  >;
  const stations = { first: 0, spacing: 250, count: STATIONS };
  const rails = (base['rails'] as object[]).map((rail) => ({ ...rail, stations }));
  const tolerances = (base['tolerances'] as { limit: number }[]).map((of) => ({
    ...of,
    limit: 2 * of.limit,
  }));
  let spoilt = 0;
  for (let k = 0; k < count; k++) {
    const id = `K-${String(k).padStart(5, '0')}`;
    const job = join(folder, `site ${k % 7}`, id);
    mkdirSync(join(job, 'readings'), { recursive: true });
    const machine = { name: `Machine ${k >> 1}`, serial: `S-${k >> 1}` };
    writeFileSync(
      join(job, 'job.json'),
      JSON.stringify({ ...base, id, rails, machine, tolerances }, null, 1),
    );
    writeFileSync(join(job, 'readings/as-left.csv'), readingsOf(k));
    if (broken > 0 && k % broken === broken - 1) spoil[spoilt++ % spoil.length]!(job);
  }
  return spoilt;
}

function readingsOf(seed: number): string {
  const next = seeded(seed + 1);
  const lines = ['setup,rail,station,target,pass,vertical,horizontal'];
  for (const pass of [1, 2])
    for (const rail of ['A', 'B'])
      for (let station = 1; station <= STATIONS; station++) {
        // Each rail and direction has a shape of its own, so that none can be taken for another; well within the limits, so
        // that no moves are searched for (`npm run bench -- corrections`).
        const shape = (k: number) => 2 * Math.sin(station / (3 + k) + seed * k);
        const [first, second] = rail === 'A' ? [1, 2] : [3, 4];
        // Scatter as the job states it: 1.5 µm, and 0.3 µm per metre from the set-up half a metre before the rails.
        const u = Math.hypot(1.5, 0.3 * (0.5 + 0.25 * (station - 1)));
        const [v, h] = [shape(first) + u * normal(next), shape(second) + u * normal(next)];
        lines.push(`S1,${rail},${station},T1,${pass},${v.toFixed(1)},${h.toFixed(1)}`);
      }
  return `${lines.join('\n')}\n`;
}

const change = (path: string, how: (text: string) => string) =>
  writeFileSync(path, how(readFileSync(path, 'utf8')));

/** Each leaves a folder that still looks like a job. */
const spoil: readonly ((job: string) => void)[] = [
  (job) => change(join(job, 'job.json'), (text) => text.slice(0, -20)),
  (job) => rmSync(join(job, 'readings/as-left.csv')),
  (job) => change(join(job, 'readings/as-left.csv'), (text) => text.replace(/,-?\d+\.\d\n/, ',o.4\n')),
  (job) => change(join(job, 'readings/as-left.csv'), (text) => text.replace('S1,A,41', 'S1,A,42')),
  (job) => change(join(job, 'job.json'), (text) => text.replace('"datum": true', '"datum": false')),
  (job) => change(join(job, 'job.json'), (text) => text.replace('"rails"', '"rials"')),
  (job) => change(join(job, 'job.json'), (text) => text.replace('waysheet-job/1', 'waysheet-job/9')),
  (job) => writeFileSync(join(job, 'readings/as-left.csv'), Buffer.from([0x50, 0x4b, 3, 4, 0, 0])),
  (job) => writeFileSync(join(job, 'readings/as-left.csv'), ''),
  (job) => change(join(job, 'job.json'), (text) => text.replace(/"id": "K-/, '"id": "../K-')),
];
