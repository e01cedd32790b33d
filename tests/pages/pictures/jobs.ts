/**
 * The reports whose pages are kept as pictures: the samples, and reports that are hard to lay out. Each one ends in the
 * bytes of a PDF; the days and names in it are fixed.
 */
import { cp, readFile, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { waysheet } from '../../support/command.js';
import {
  changeJob,
  changeRows,
  copyOf,
  levelledShot,
  loadConfirmed,
  makeJob,
  sample,
  temporary,
} from '../../support/folders.js';

export interface KeptReport {
  readonly id: string;
  readonly make: () => Promise<Uint8Array>;
}

const samples = ['TH-0412', 'TH-1175', 'TH-2031', 'TH-3318', 'TH-4520'];

export const keptReports: readonly KeptReport[] = [
  ...samples.map((id) => ({ id, make: async () => reportOf(sample(id)) })),
  { id: 'one-rail-of-four-stations', make: async () => reportOf(await wave(['A'], 4)) },
  { id: 'two-rails-of-120-stations', make: async () => reportOf(await wave(['A', 'B'], 120)) },
  { id: 'many-undecided', make: async () => reportOf(await limitsAtTheValues()) },
  { id: 'not-determined', make: async () => reportOf(await withoutMonuments()) },
  { id: 'no-limit', make: async () => reportOf(await changed('TH-0412', (job) => delete job.tolerances)) },
  { id: 'what-if', make: whatIf },
  { id: 'amended', make: amended },
  { id: 'brand-in-german', make: async () => branded('de') },
  { id: 'letter-in-french', make: async () => reportOf(await onLetter(), '--language', 'fr') },
];

async function run(...args: string[]): Promise<void> {
  const { status, err } = await waysheet(...args);
  if (status !== 0) throw new Error(err);
}

async function reportOf(folder: string, ...options: string[]): Promise<Uint8Array> {
  const out = await temporary();
  await run('report', folder, '--out', out, ...options);
  const { id } = JSON.parse(await readFile(join(folder, 'job.json'), 'utf8')) as { id: string };
  const pdf = await readFile(join(out, id, 'report.pdf'));
  await rm(out, { recursive: true });
  return pdf;
}

/* eslint-disable @typescript-eslint/no-explicit-any -- as changeJob has it */
async function changed(id: string, change: (job: any) => void): Promise<string> {
  const folder = await copyOf(id);
  await changeJob(folder, change);
  return folder;
}

/** Rails of a smooth invented shape, read once from one set-up; of limits one conforms and one does not. */
async function wave(rails: readonly string[], stations: number): Promise<string> {
  const shape = (rail: number, k: number) =>
    Math.round(200 * Math.sin((7 * k) / stations + rail) + 40 * Math.sin(k + 2 * rail)) / 10;
  const rows = rails.flatMap((rail, r) =>
    Array.from({ length: stations }, (_, k) => `S1,${rail},${k + 1},T1,${shape(r, k)},${shape(r + 3, k)}`),
  );
  const folder = await makeJob(
    {
      ...levelledShot('as-found', 1, 2),
      confirmed: [],
      id: `wave-${stations}`,
      rails: rails.map((id, r) => ({
        id,
        across: 2000 * r,
        stations: { first: 0, count: stations, spacing: 250 },
        ...(r === 0 && { datum: true }),
      })),
      targets: [{ id: 'T1' }],
      // A long list of moves, without the search for the fewest of them.
      ...(stations > 100 && { corrections: { want: 'straight', least: { value: 19, unit: 'um' } } }),
      tolerances: [
        { what: 'straightness-vertical', limit: 60, unit: 'um' },
        { what: 'straightness-horizontal', limit: 30, unit: 'um' },
        { what: 'level-along', limit: 20, unit: 'um/m' },
      ],
    },
    { 'r.csv': ['setup,rail,station,target,vertical,horizontal', ...rows, ''].join('\n') },
  );
  await loadConfirmed(folder);
  return folder;
}

/** Each limit of TH-2031 at the value that its rails have. */
async function limitsAtTheValues(): Promise<string> {
  const folder = await copyOf('TH-2031');
  const path = join(folder, 'tolerances/bed-rails.json');
  const set = JSON.parse(await readFile(path, 'utf8'));
  const at: Record<string, number> = {
    'straightness-vertical': 19,
    'straightness-horizontal': 17,
    'parallelism-vertical': 21,
    'parallelism-horizontal': 24,
    twist: 7,
  };
  for (const tolerance of set.tolerances)
    if (tolerance.what in at) {
      tolerance.limit = at[tolerance.what];
      delete tolerance.perLength;
    }
  await writeFile(path, JSON.stringify(set, null, 2));
  return folder;
}

/** TH-2031 without the rows of its monuments: direction is not carried over. */
async function withoutMonuments(): Promise<string> {
  const folder = await copyOf('TH-2031');
  for (const file of ['readings/as-found.csv', 'readings/as-left.csv'])
    await changeRows(folder, file, (header, rows) =>
      rows.filter((row) => (row[header.indexOf('monument')] ?? '') === ''),
    );
  await loadConfirmed(folder);
  return folder;
}

async function whatIf(): Promise<Uint8Array> {
  const folder = await copyOf('TH-2031');
  const set = JSON.parse(await readFile(join(folder, 'tolerances/bed-rails.json'), 'utf8'));
  for (const tolerance of set.tolerances) if (typeof tolerance.limit === 'number') tolerance.limit /= 2;
  const path = join(await temporary(), 'half.json');
  await writeFile(path, JSON.stringify({ ...set, name: 'Half of each limit (invented)' }));
  return reportOf(folder, '--tolerances', path);
}

/** Issued, then issued again with a lower limit. */
async function amended(): Promise<Uint8Array> {
  const [folder, out] = [await copyOf('TH-0412'), await temporary()];
  const issue = (report: string, on: string, ...more: string[]) =>
    run('issue', report, '--by', 'O. Tressel', '--on', on, '--without', 'approver', ...more);
  await run('report', folder, '--out', out);
  await issue(join(out, 'TH-0412'), '2026-03-20');
  await changeJob(folder, (job) => {
    for (const tolerance of job.tolerances)
      if (tolerance.what === 'straightness-vertical') tolerance.limit = 9;
  });
  const again = join(out, 'drafts');
  await run('report', folder, '--out', again);
  await issue(
    join(again, 'TH-0412'),
    '2026-03-27',
    ...['--amends', 'TH-0412-1', '--because', 'The customer stated another limit.'],
  );
  return readFile(join(out, 'TH-0412', 'report.pdf'));
}

async function branded(language: string): Promise<Uint8Array> {
  const brand = join(await temporary(), 'brand');
  await cp(sample('office-brand'), brand, { recursive: true });
  return reportOf(await copyOf('TH-2031'), '--brand', brand, '--language', language);
}

const onLetter = (): Promise<string> =>
  changed('TH-2031', (job) => {
    job.report = { ...job.report, paper: 'Letter' };
  });
