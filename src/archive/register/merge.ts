/** Joins the registers of several parts. It checks that every part and every job is there once, each with its report. */
import { groupBy } from '../../base/lists.js';
import { readdir, readFile } from 'node:fs/promises';
import { join, relative, resolve, sep } from 'node:path';
import { buildRegister, registerSchema, type Register, type RegisterRow } from './register.js';

export interface Expected {
  /** Job ids that must be there. */
  readonly ids: readonly string[];
  /** Folders of jobs that must be there, as batch names them. */
  readonly folders: readonly string[];
}

export interface Merged {
  readonly register: Register;
  /** Why it is not a complete register; empty: it is. */
  readonly problems: readonly string[];
}

interface Part {
  readonly path: string;
  /** The output folder to which its links are relative. */
  readonly folder: string;
  readonly register: Register;
}

/**
 * @param outs Output folders, each with the registers of its parts, or with one register of its own.
 * @param target Where the merged register will be; its links are relative to it.
 * @throws {Error} an output folder has no register that this version can read.
 */
export async function mergeRegisters(
  outs: readonly string[],
  target: string,
  expected: Expected,
): Promise<Merged> {
  const parts = (await Promise.all(outs.map(readParts))).flat();
  const problems = [...problemsOfParts(parts)];
  const rows = parts.flatMap((part) => part.register.jobs.map((row) => ({ row, part })));
  problems.push(...repeated(rows));
  for (const { row, part } of rows) {
    const problem = await problemOfReport(row, part);
    if (problem !== null) problems.push(problem);
  }
  const all = rows.map(({ row, part }) => moved(row, relative(resolve(target), resolve(part.folder))));
  problems.push(...missing(all, expected));
  const { software, ...about } = parts[0]!.register;
  return { register: buildRegister(all, software, null, about), problems };
}

async function readParts(folder: string): Promise<Part[]> {
  const names = (await readdir(folder)).sort();
  const ofParts = names.filter((name) => /^register-\d+-of-\d+\.json$/.test(name));
  // A merged register next to its parts is made from them.
  const used = ofParts.length > 0 ? ofParts : names.filter((name) => name === 'register.json');
  if (used.length === 0) throw new Error(`${folder} holds no register`);
  return Promise.all(
    used.map(async (name) => {
      const path = join(folder, name);
      const parsed = registerSchema.safeParse(JSON.parse(await readFile(path, 'utf8')));
      if (!parsed.success) throw new Error(`${path} is not a register that this version reads`);
      return { path, folder, register: parsed.data };
    }),
  );
}

/** All parts must be of one archive and made by one version, and all must be there. */
function problemsOfParts(parts: readonly Part[]): string[] {
  const problems: string[] = [];
  const versions = new Set(
    parts.map(({ register: { software } }) => `${software.version}, method ${software.method}`),
  );
  if (versions.size > 1)
    problems.push(`the parts were made by different versions: ${[...versions].join('; ')}`);
  if (new Set(parts.map(({ register: { whatIf } }) => whatIf?.sha256)).size > 1)
    problems.push('the parts were judged by different tolerance sets');
  const shards = parts.flatMap(({ register }) => register.shard ?? []);
  const counts = new Set(shards.map((shard) => Number(shard.split('/')[1])));
  if (counts.size > 1)
    problems.push(
      `the parts are of different divisions: into ${[...counts].sort((a, b) => a - b).join(' and into ')}`,
    );
  for (const of of counts) {
    for (let index = 1; index <= of; index++) {
      const times = shards.filter((shard) => shard === `${index}/${of}`).length;
      if (times === 0) problems.push(`part ${index}/${of} is missing`);
      if (times > 1) problems.push(`part ${index}/${of} is there ${times} times`);
    }
  }
  return problems;
}

function repeated(rows: readonly { row: RegisterRow; part: Part }[]): string[] {
  const several = (what: string, nameOf: (row: RegisterRow) => string | null) =>
    [...groupBy(rows, ({ row }) => nameOf(row))]
      .filter(([, list]) => list.length > 1)
      .map(([name, list]) => `${what} ${name} is in ${list.map(({ part }) => part.path).join(' and ')}`);
  const jobs = several('job', (row) => (row.status === 'reported' ? row.job : null));
  return jobs.length > 0 ? jobs : several('folder', ({ folder }) => folder);
}

/** The report of a row must exist, and be the one that was registered. */
async function problemOfReport(row: RegisterRow, { folder, path }: Part): Promise<string | null> {
  if (row.status === 'not-done') return `job ${row.job ?? row.folder} was not reached (${path})`;
  if (row.status !== 'reported') return null;
  const text = await readFile(join(folder, row.links.manifest), 'utf8').catch(() => null);
  if (text === null) return `job ${row.job} has no report in ${folder}`;
  try {
    const { key } = JSON.parse(text) as { key?: string };
    return key === row.key
      ? null
      : `the report of job ${row.job} in ${folder} is not the one that is registered`;
  } catch {
    return `the report of job ${row.job} in ${folder} is damaged`;
  }
}

function missing(rows: readonly RegisterRow[], { ids, folders }: Expected): string[] {
  const haveIds = new Set(rows.map(({ job }) => job));
  const haveFolders = new Set(rows.map(({ folder }) => folder));
  return [
    ...ids.filter((id) => !haveIds.has(id)).map((id) => `job ${id} is missing`),
    ...folders
      .filter((folder) => !haveFolders.has(folder))
      .map((folder) => `the job in ${folder} is missing`),
  ];
}

function moved(row: RegisterRow, from: string): RegisterRow {
  if (row.status !== 'reported' || from === '') return row;
  const base = from.split(sep).join('/');
  const links = Object.entries(row.links).map(([name, path]) => [name, path && `${base}/${path}`]);
  return { ...row, links: Object.fromEntries(links) as typeof row.links };
}
