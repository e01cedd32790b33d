/**
 * `npm run bench -- archive [jobs]`: a batch with PDF that is watched while it runs: memory of its programs and browsers by jobs
 * done. Then the same archive once more, with nothing changed: its time and its first line of progress, against hashing the same bytes.
 */
import { spawn } from 'node:child_process';
import { mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { availableParallelism, tmpdir } from 'node:os';
import { join } from 'node:path';
import { hashAll } from './hash-all.js';
import { makeArchive } from './make-archive.js';
import { memoryOfTree } from '../support/process-tree.js';
import { program } from '../support/program.js';

const count = Number(process.argv[2] ?? 3000);
const folder = mkdtempSync(join(tmpdir(), 'waysheet-bench-'));
const [jobs, out] = [join(folder, 'jobs'), join(folder, 'out')];
makeArchive(jobs, count);

/** Runs a batch. @param watch Called with the process's id until it has ended. @returns Seconds, and those until its first output. */
function batch(watch: (pid: number) => void = () => undefined): Promise<{ all: number; first: number }> {
  const began = performance.now();
  const since = () => (performance.now() - began) / 1000;
  const child = spawn(process.execPath, [program(), 'batch', jobs, '--out', out], {
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let first: number | null = null;
  for (const stream of [child.stdout, child.stderr]) stream.on('data', () => (first ??= since()));
  const timer = setInterval(() => watch(child.pid!), 500);
  return new Promise((resolve, reject) =>
    child.once('exit', (status) => {
      clearInterval(timer);
      if (status === 0) resolve({ all: since(), first: first ?? since() });
      else reject(new Error(`batch ended with status ${status}`));
    }),
  );
}

/** Folders of reports that are whole. */
const done = (): number => {
  try {
    return readdirSync(out).filter((name) => /^K-\d+$/.test(name)).length;
  } catch {
    return 0;
  }
};

const line = (...cells: readonly (string | number)[]) =>
  console.log(cells.map((cell) => String(cell).padStart(14)).join(''));

try {
  console.log(`${count} jobs of two rails with 41 stations, with PDF, ${availableParallelism()} cores\n`);
  line('jobs done', 'programs MB', 'browsers MB', 'all MB');
  let next = 25;
  let most = { node: 0, browser: 0 };
  const { all } = await batch((pid) => {
    const is = memoryOfTree(pid);
    // The most since the line before: what a batch holds between two jobs says little.
    if (is.node + is.browser > most.node + most.browser) most = is;
    const now = done();
    if (now < next) return;
    line(now, most.node.toFixed(0), most.browser.toFixed(0), (most.node + most.browser).toFixed(0));
    while (next <= now) next = next < 100 ? next * 2 : next + 100;
    most = { node: 0, browser: 0 };
  });
  console.log(`${(count / all).toFixed(2)} reports/s\n`);

  line('unchanged jobs', 'batch s', 'first line s', 'hashing s', 'ratio');
  const again = await batch();
  const hashing = hashAll(jobs, out);
  line(
    count,
    again.all.toFixed(2),
    again.first.toFixed(2),
    hashing.toFixed(2),
    (again.all / hashing).toFixed(2),
  );
} finally {
  rmSync(folder, { recursive: true, force: true });
}
