/**
 * `tsx tests/bench/interrupted-archive.ts [jobs] [--no-pdf]`: an archive in which one job of 20 is broken, reported
 * at one go and again with three kills at random moments; both must be the same, byte for byte, and every broken
 * job refused. 1000 jobs by default, which takes a while.
 */
import { spawn, type ChildProcess } from 'node:child_process';
import { createHash } from 'node:crypto';
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Register } from '../../src/archive/register/register.js';
import { root } from '../support/folders.js';
import { makeArchive } from './make-archive.js';

const count = Number(process.argv[2] ?? 1000);
const more = process.argv.slice(3);
const folder = mkdtempSync(join(tmpdir(), 'waysheet-interrupted-'));
const jobs = join(folder, 'jobs');

function start(out: string): { child: ChildProcess; ended: Promise<number | null> } {
  const args = [join(root, 'dist/cli.js'), 'batch', jobs, '--out', out, ...more];
  const child = spawn(process.execPath, args, { stdio: 'ignore' });
  return { child, ended: new Promise((resolve) => child.once('exit', (status) => resolve(status))) };
}

/** SHA-256 of every file below a folder, PDFs and manifests too. */
function fingerprint(of: string): Record<string, string> {
  const entries = readdirSync(of, { recursive: true, withFileTypes: true }).filter((entry) => entry.isFile());
  const paths = entries.map((entry) => join(entry.parentPath, entry.name));
  const hash = (path: string) => createHash('sha256').update(readFileSync(path)).digest('hex');
  return Object.fromEntries(paths.map((path) => [path.slice(of.length + 1), hash(path)]));
}

const countOf = (files: Record<string, string>) =>
  Object.keys(files).filter((path) => path.endsWith('/results.json')).length;

try {
  const broken = makeArchive(jobs, count, 20);
  const whole = join(folder, 'whole');
  const began = performance.now();
  const status = await start(whole).ended;
  const seconds = (performance.now() - began) / 1000;
  console.log(`at one go: status ${status}, ${seconds.toFixed(0)} s`);
  const out = join(folder, 'interrupted');
  for (let k = 0; k < 3; k++) {
    const { child, ended } = start(out);
    const after = (0.05 + 0.3 * Math.random()) * seconds;
    const timer = setTimeout(() => child.kill('SIGKILL'), after * 1000);
    await ended;
    clearTimeout(timer);
    console.log(`killed after ${after.toFixed(1)} s: ${countOf(fingerprint(out))} reports stand`);
  }
  console.log(`to the end: status ${await start(out).ended}`);
  const [one, other] = [fingerprint(whole), fingerprint(out)];
  const differing = [...new Set([...Object.keys(one), ...Object.keys(other)])].filter(
    (p) => one[p] !== other[p],
  );
  const { counts, jobs: rows } = JSON.parse(readFileSync(join(out, 'register.json'), 'utf8')) as Register;
  console.log(
    `${Object.keys(one).length} files, ${differing.length} differ ${differing.slice(0, 5).join(' ')}`,
  );
  console.log(`reported ${counts.reported} of ${count - broken}, refused ${counts.refused} of ${broken}`);
  const codes = rows.flatMap((row) => (row.status === 'refused' ? row.problems[0]!.code : []));
  console.log(`refused for: ${[...new Set(codes)].sort().join(', ')}`);
  const isRight = differing.length === 0 && counts.refused === broken && counts.reported === count - broken;
  console.log(isRight ? 'right' : 'WRONG');
  process.exitCode = isRight ? 0 : 1;
} finally {
  rmSync(folder, { recursive: true, force: true });
}
