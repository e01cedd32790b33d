/**
 * `npm run soak -- [jobs] [options of batch …]`: an archive in which one job of 20 is broken, reported at one go and
 * again with three kills at random moments, of the program or of everything that it started. Both must be the same,
 * byte for byte, every broken job refused, and memory must not grow with the number of jobs. 1000 jobs by default,
 * which takes a while. Exit status 1 when anything is wrong. `npm run soak -- rewritings`, `npm run soak -- forgeries` and
 * `npm run soak -- same`: soak-rewritings.ts, soak-forgeries.ts, soak-same.ts.
 */
import { program } from '../support/program.js';
import { spawn, type ChildProcess } from 'node:child_process';
import { createHash } from 'node:crypto';
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Register } from '../../src/archive/register/register.js';
import { memoryOfTree } from '../support/process-tree.js';
import { makeArchive } from './make-archive.js';

const KILLS = 3;
/** Most that memory at the end may be above that of the first half. */
const MOST_GROWTH = 1.3;

if (process.argv[2] === 'rewritings') {
  await import('./soak-rewritings.js');
  process.exit();
}
if (process.argv[2] === 'forgeries') {
  await import('./soak-forgeries.js');
  process.exit();
}
if (process.argv[2] === 'same') {
  await import('./soak-same.js');
  process.exit();
}
const count = Number(process.argv[2] ?? 1000);
const more = process.argv.slice(3);
const folder = mkdtempSync(join(tmpdir(), 'waysheet-soak-'));
const jobs = join(folder, 'jobs');
const complaints: string[] = [];
const complain = (isWrong: boolean, text: string): void => {
  if (isWrong) complaints.push(text);
};

function start(out: string): { child: ChildProcess; ended: Promise<number | null> } {
  const args = [program(), 'batch', jobs, '--out', out, ...more];
  const child = spawn(process.execPath, args, { stdio: ['ignore', 'ignore', 'ignore'] });
  return { child, ended: new Promise((resolve) => child.once('exit', (status) => resolve(status))) };
}

/** SHA-256 of every file below a folder, names that begin with a point too. */
function fingerprint(of: string): Record<string, string> {
  const entries = readdirSync(of, { recursive: true, withFileTypes: true }).filter((entry) => entry.isFile());
  const paths = entries.map((entry) => join(entry.parentPath, entry.name));
  const hash = (path: string) => createHash('sha256').update(readFileSync(path)).digest('hex');
  return Object.fromEntries(paths.map((path) => [path.slice(of.length + 1), hash(path)]));
}

const reportsIn = (out: string): number =>
  readdirSync(out, { withFileTypes: true }).filter((e) => e.isDirectory() && !e.name.startsWith('.')).length;

/** The run that nothing disturbs, with its memory a second. */
async function undisturbed(out: string): Promise<number> {
  const began = performance.now();
  const { child, ended } = start(out);
  const samples: number[] = [];
  const timer = setInterval(() => {
    const { node, browser } = memoryOfTree(child.pid!);
    samples.push(node + browser);
  }, 1_000);
  const status = await ended;
  clearInterval(timer);
  const seconds = (performance.now() - began) / 1000;
  complain(status !== 3, `at one go: status ${status}`);
  // Start and end, where workers come and go, and the register is printed, are no measure.
  const working = samples.slice(Math.ceil(samples.length * 0.1), Math.floor(samples.length * 0.9));
  const half = working.length >> 1;
  const [early, late] = [Math.max(...working.slice(0, half)), Math.max(...working.slice(half))];
  console.log(
    `at one go: ${seconds.toFixed(0)} s; most memory ${early.toFixed(0)} MB in the first half, ${late.toFixed(0)} MB in the second`,
  );
  // A short run says nothing about growth: workers take what they are given before they collect.
  complain(count >= 500 && late > early * MOST_GROWTH, 'memory grows');
  return seconds;
}

/** Kills what works while it works; the browsers' own processes among it, every second time. */
async function killed(out: string, afterSeconds: number, withBrowsers: boolean): Promise<void> {
  const { child, ended } = start(out);
  const timer = setTimeout(() => {
    const processes = withBrowsers ? descendants(child.pid!) : [];
    for (const pid of [child.pid!, ...processes]) {
      try {
        process.kill(pid, 'SIGKILL');
      } catch {
        continue; // it ended first
      }
    }
  }, afterSeconds * 1000);
  await ended;
  clearTimeout(timer);
  const what = withBrowsers ? 'with all its processes' : 'alone';
  console.log(`killed ${what} after ${afterSeconds.toFixed(1)} s: ${reportsIn(out)} reports stand`);
}

function descendants(pid: number): number[] {
  const children = readdirSync(`/proc/${pid}/task`).flatMap((thread) =>
    readFileSync(`/proc/${pid}/task/${thread}/children`, 'utf8').split(' ').filter(Boolean).map(Number),
  );
  return children.flatMap((child) => [child, ...descendants(child)]);
}

try {
  const broken = makeArchive(jobs, count, 20);
  const [whole, out] = [join(folder, 'whole'), join(folder, 'interrupted')];
  const seconds = await undisturbed(whole);
  for (let k = 0; k < KILLS; k++) await killed(out, (0.05 + 0.25 * Math.random()) * seconds, k % 2 === 1);
  const status = await start(out).ended;
  complain(status !== 3, `to the end: status ${status}`);
  const [one, other] = [fingerprint(whole), fingerprint(out)];
  const all = new Set([...Object.keys(one), ...Object.keys(other)]);
  const differing = [...all].filter((path) => one[path] !== other[path]);
  console.log(`${all.size} files, ${differing.length} differ`);
  complain(differing.length > 0, `different: ${differing.slice(0, 5).join(', ')}`);
  const { counts, jobs: rows } = JSON.parse(readFileSync(join(out, 'register.json'), 'utf8')) as Register;
  console.log(`reported ${counts.reported} of ${count - broken}, refused ${counts.refused} of ${broken}`);
  complain(counts.refused !== broken || counts.reported !== count - broken, 'not every job has its end');
  const codes = rows.flatMap((row) => (row.status === 'refused' ? row.problems[0]!.code : []));
  console.log(`refused for: ${[...new Set(codes)].sort().join(', ')}`);
} finally {
  rmSync(folder, { recursive: true, force: true });
}
console.log(complaints.length === 0 ? 'right' : `WRONG: ${complaints.join('; ')}`);
process.exitCode = complaints.length === 0 ? 0 : 1;
