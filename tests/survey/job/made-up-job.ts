/** A sound job folder, invented, for tests to change one thing at a time; and folders on disk. */
import { mkdir, mkdtemp, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import type { JobInput } from '../../../src/survey/job/job-schema.js';

const plusOf = (horizontal: 'left' | 'right') => ({ vertical: 'up', horizontal, along: 'ahead' }) as const;

/** Two rails, a cross rail, two monuments, one laser, one level, one tape, two set-ups. */
export const madeUpJob = (): JobInput => ({
  format: 'waysheet-job/1',
  id: 'T-1',
  units: { length: 'mm', reading: 'um' },
  rails: [
    { id: 'A', datum: true, across: 0, stations: { first: 0, spacing: 500, count: 21 } },
    { id: 'B', across: 3200, stations: { at: [0, 500, 1000, 1500] } },
    { id: 'C', direction: 'across', along: 10500, stations: { first: 0, spacing: 800, count: 5 } },
  ],
  monuments: [
    { id: 'M1', along: 11200, across: 700 },
    { id: 'M2', along: 11200, across: 2600 },
  ],
  instruments: [
    {
      id: 'L1',
      reading: { u: 1.5, perMetre: 0.3, unit: 'um' },
      level: { u: 1, unit: 'arcsec' },
      square: { u: 1, unit: 'arcsec' },
      range: { limit: 12.7, unit: 'mm' },
    },
    { id: 'E1', reading: { u: 2, unit: 'um/m' } },
    { id: 'T1', reading: { u: 0.02, perMetre: 0.01, unit: 'mm' } },
  ],
  setups: [
    { id: 'S1', instrument: 'L1', along: -600, across: 400, levelled: true, plus: plusOf('left') },
    { id: 'S2', instrument: 'L1', along: -600, across: 2800, levelled: true, plus: plusOf('right') },
  ],
  readings: [{ file: 'readings/as-left.csv', phase: 'as-left' }],
  tolerances: [{ what: 'straightness-vertical', rail: 'A', limit: 40, unit: 'um' }],
});

export const HEADER = 'setup,rail,station,monument,target,pass,time,vertical,horizontal,along,use,note';

/** Rows that read every set-up, as a usual job has them. */
export const ROWS = [
  'S1,A,1,,T1,1,2026-03-14T08:12,3.1,-1.2,,,',
  'S1,,,M1,T3,1,2026-03-14T09:40,,,0.0,,',
  'S2,A,1,,T1,1,2026-03-14T10:31,0.2,,,,height carried over',
  'S2,B,1,,T1,1,2026-03-14T10:36,-4.0,99.1,,,',
];
export const CSV = `${[HEADER, ...ROWS].join('\n')}\n`;

/** Writes files under a new temporary folder and returns its path. */
export async function folderOf(files: Readonly<Record<string, string | Uint8Array>>): Promise<string> {
  const folder = await mkdtemp(join(tmpdir(), 'waysheet-test-'));
  for (const [path, content] of Object.entries(files)) {
    await mkdir(dirname(join(folder, path)), { recursive: true });
    await writeFile(join(folder, path), content);
  }
  return folder;
}

/** A job folder: the made-up job, changed, with one readings file. */
export async function jobFolder(
  csv: string | Uint8Array = CSV,
  change: (job: JobInput) => void = () => undefined,
): Promise<string> {
  const job = madeUpJob();
  change(job);
  return folderOf({ 'job.json': JSON.stringify(job, null, 2), 'readings/as-left.csv': csv });
}
