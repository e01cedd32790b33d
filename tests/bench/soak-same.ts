/**
 * `npm run soak -- same [--no-pdf] [paths of other Node binaries]`: reports and audits of all samples, made alone, next to
 * 16 busy loops, in other time zones and languages, in another folder, by one and by two workers, and on every Node of
 * 20, 22 and 24 that is named or on the path (`node20`, `node22`, `node24`). Every byte of every file, and every byte that
 * an audit says of it, must be the same, and all must be proven. Prints a table; exit status 1 when anything differs.
 *
 * Other versions of Node come from the package registry, for example: `npm install --prefix FOLDER node@22`, and then
 * `npm run soak -- same FOLDER/node_modules/node/bin/node`.
 */
import { execFileSync, spawn, type ChildProcess } from 'node:child_process';
import { createHash } from 'node:crypto';
import { cpSync, existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { constants, tmpdir } from 'node:os';
import { delimiter, join } from 'node:path';
import { root } from '../support/folders.js';

const SAMPLES = ['TH-0412', 'TH-1175', 'TH-2031', 'TH-3318', 'TH-4520'];
const VERSIONS = [20, 22, 24];
const BUSY_LOOPS = 16;
/** Of lower priority, or one run takes an hour; they still take the processor away again and again. */
const BUSY = `require('os').setPriority(${constants.priority.PRIORITY_BELOW_NORMAL}); for (;;) Math.sqrt(2)`;

interface Run {
  readonly name: string;
  readonly node?: string;
  readonly env?: Record<string, string>;
  readonly workers?: number;
  /** Name of the folder that holds jobs and reports. */
  readonly folder?: string;
  readonly loops?: number;
}

const given = process.argv.slice(3);
const more = given.filter((part) => part.startsWith('--'));
const versionOf = (node: string): string => execFileSync(node, ['--version'], { encoding: 'utf8' }).trim();

/** Given, or on the path as node20, node22, node24; this one is the first of all. */
const others = [
  ...given.filter((part) => !part.startsWith('--')),
  ...VERSIONS.flatMap((version) =>
    (process.env['PATH'] ?? '').split(delimiter).map((folder) => join(folder, `node${version}`)),
  ).filter((path) => existsSync(path)),
];

const turkish = { TZ: 'Pacific/Kiritimati', LANG: 'tr_TR.UTF-8', LC_ALL: 'tr_TR.UTF-8' };
const arabic = { TZ: 'America/St_Johns', LANG: 'ar_EG.UTF-8', LC_ALL: 'ar_EG.UTF-8' };

/** Each differs from the first in several ways: as long as all bytes are the same, no way has to be tried by itself. */
const runs: readonly Run[] = [
  { name: 'alone' },
  { name: 'Kiritimati, Turkish, folder', env: turkish, folder: 'Prüf stelle, 2' },
  ...(others.length === 0 ? [{ name: 'St John’s, Arabic', env: arabic }] : []),
  ...others.map((node) => ({ name: `Node ${versionOf(node)}, St John’s, Arabic`, node, env: arabic })),
  { name: `${BUSY_LOOPS} busy loops, two workers`, loops: BUSY_LOOPS, workers: 2 },
];

const base = mkdtempSync(join(tmpdir(), 'waysheet-same-'));

/** SHA-256 of every file below a folder. */
function hashes(of: string): Map<string, string> {
  const entries = readdirSync(of, { recursive: true, withFileTypes: true }).filter((entry) => entry.isFile());
  const paths = entries.map((entry) => join(entry.parentPath, entry.name)).sort();
  return new Map(
    paths.map((path) => [
      path.slice(of.length + 1),
      createHash('sha256').update(readFileSync(path)).digest('hex'),
    ]),
  );
}

const ended = (child: ChildProcess): Promise<string> =>
  new Promise((resolve) => {
    let [text, trouble] = ['', ''];
    child.stdout?.on('data', (part: Buffer) => (text += part.toString()));
    child.stderr?.on('data', (part: Buffer) => (trouble += part.toString()));
    child.once('close', (status) => {
      // Why a job has no report.
      if (status !== 0) console.log(trouble.slice(-2000));
      resolve(`${text}status ${status ?? 'killed'}`);
    });
  });

/** What a run leaves: files of each report, and what an audit of each says. */
async function made({ node = process.execPath, env = {}, workers = 1, folder = 'a', loops = 0 }: Run) {
  const place = join(mkdtempSync(join(base, 'run-')), folder);
  const jobs = join(place, 'jobs');
  mkdirSync(jobs, { recursive: true });
  for (const sample of SAMPLES)
    cpSync(join(root, 'samples', sample), join(jobs, sample), { recursive: true });
  const busy = Array.from({ length: loops }, () =>
    spawn(process.execPath, ['-e', BUSY], { stdio: 'ignore' }),
  );
  const call = (...args: string[]) =>
    ended(
      spawn(node, [join(root, 'dist/cli.js'), ...args], {
        cwd: place,
        env: { ...process.env, ...env },
        stdio: ['ignore', 'pipe', 'pipe'],
      }),
    );
  try {
    const status = await call(
      'batch',
      'jobs',
      '--out',
      'out',
      '--jobs',
      String(workers),
      '--limit',
      '3600',
      ...more,
    );
    // The register and its pages, too.
    const files = hashes(join(place, 'out'));
    // All in one call, the register too; the inputs are those that the PDFs carry.
    const said = await call('audit', 'out', '--json');
    // The day of the audit, by the calendar of the place.
    const audits = auditsOf(said.replaceAll(/"day": "[-\d]+"/g, '"day": ""'));
    return { said: status, files, audits };
  } finally {
    for (const child of busy) child.kill('SIGKILL');
    rmSync(place, { recursive: true, force: true });
  }
}

/** What is said of each report, and last the exit status. */
function auditsOf(said: string): Map<string, string> {
  const at = said.lastIndexOf('status ');
  const entries = JSON.parse(said.slice(0, at)) as { readonly report: string }[];
  return new Map([
    ...entries.map((entry): [string, string] => [entry.report, JSON.stringify(entry)]),
    ['all', said.slice(at)],
  ]);
}

const differing = (a: ReadonlyMap<string, string>, b: ReadonlyMap<string, string>): string[] =>
  [...new Set([...a.keys(), ...b.keys()])].filter((key) => a.get(key) !== b.get(key)).sort();

let first: Awaited<ReturnType<typeof made>> | null = null;
let isWrong = false;
console.log('run                                   files  other bytes  audits  other answers');
for (const run of runs) {
  const found = await made(run);
  first ??= found;
  const [files, audits] = [differing(first.files, found.files), differing(first.audits, found.audits)];
  const column = (value: string | number, width: number) => String(value).padStart(width);
  console.log(
    `${run.name.padEnd(36)}${column(found.files.size, 7)}${column(files.length, 13)}${column(found.audits.size, 8)}${column(audits.length, 15)}`,
  );
  for (const path of files) console.log(`  differs: ${path}`);
  if (files.length > 0) console.log(found.said);
  for (const sample of audits)
    console.log(`  audit of ${sample} differs: ${found.audits.get(sample)?.slice(-200)}`);
  // Without PDFs nothing carries the inputs, and the figures are not compared.
  const wanted = more.includes('--no-pdf') ? 'status 5' : 'status 0';
  const isProven = found.audits.get('all') === wanted;
  if (!isProven) console.log(`  the audit ends with ${found.audits.get('all')}`);
  isWrong ||= !isProven || files.length > 0 || audits.length > 0 || found.audits.size <= SAMPLES.length;
}
rmSync(base, { recursive: true, force: true });
console.log(isWrong ? 'NOT the same' : 'the same bytes everywhere');
process.exit(isWrong ? 1 : 0);
