/**
 * `tsx tests/bench/batch-bench.ts [jobs]`: what a batch costs, as ratios within one run. Against the same finished
 * pages printed by a bare browser loop (the limit of this route), and an unchanged archive against hashing its bytes.
 */
import { spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { availableParallelism, tmpdir } from 'node:os';
import { join } from 'node:path';
import { openPress } from '../../src/report/browser/print-html.js';
import { root } from '../support/folders.js';
import { memoryOfTree } from '../support/process-tree.js';
import { makeArchive } from './make-archive.js';

const count = Number(process.argv[2] ?? 60);
const cores = availableParallelism();
const folder = mkdtempSync(join(tmpdir(), 'waysheet-bench-'));
const jobs = join(folder, 'jobs');
const out = join(folder, 'out');
makeArchive(jobs, count);

interface Ran {
  readonly seconds: number;
  /** Most memory of program and workers, and of the browsers, MB; 0 where the system does not tell. */
  readonly nodeMb: number;
  readonly browserMb: number;
}

function batch(...more: string[]): Promise<Ran> {
  const began = performance.now();
  const child = spawn(process.execPath, [join(root, 'dist/cli.js'), 'batch', jobs, '--out', out, ...more], {
    stdio: ['ignore', 'ignore', 'inherit'],
  });
  let [nodeMb, browserMb] = [0, 0];
  const timer = setInterval(() => {
    const { node, browser } = memoryOfTree(child.pid!);
    nodeMb = Math.max(nodeMb, node);
    browserMb = Math.max(browserMb, browser);
  }, 250);
  return new Promise((resolve, reject) =>
    child.once('exit', (status) => {
      clearInterval(timer);
      if (status === 0) resolve({ seconds: (performance.now() - began) / 1000, nodeMb, browserMb });
      else reject(new Error(`batch ended with status ${status}`));
    }),
  );
}

/** The finished pages, printed and thrown away. */
async function bareLoop(): Promise<number> {
  const pages = readdirSync(out)
    .filter((name) => name.startsWith('K-'))
    .map((id) => readFileSync(join(out, id, 'report.html'), 'utf8'));
  const press = await openPress({ pages: cores });
  const print = (html: string) =>
    press.print({ html, paper: 'A4', timeoutMs: 60_000, onNote: () => undefined });
  await Promise.all(pages.slice(0, cores).map(print));
  const began = performance.now();
  await Promise.all(pages.map(print));
  const seconds = (performance.now() - began) / 1000;
  await press.close();
  return pages.length / seconds;
}

function hashAll(): number {
  const began = performance.now();
  for (const base of [jobs, out])
    for (const entry of readdirSync(base, { recursive: true, withFileTypes: true }))
      if (entry.isFile())
        createHash('sha256')
          .update(readFileSync(join(entry.parentPath, entry.name)))
          .digest();
  return (performance.now() - began) / 1000;
}

try {
  const cold = await batch('--no-pdf');
  const whole = await batch();
  const bare = await bareLoop();
  const same = await batch();
  const hashing = hashAll();
  const rate = count / whole.seconds;
  const line = (what: string, value: string) => console.log(`${what.padEnd(66)}${value}`);
  console.log(`${count} jobs of two rails with 41 stations, ${cores} cores\n`);
  line('batch without PDF, start included', `${(count / cold.seconds).toFixed(2)} reports/s`);
  line('batch with PDF, start included', `${rate.toFixed(2)} reports/s`);
  line('bare loop over the same finished pages', `${bare.toFixed(2)} prints/s`);
  line('ratio', (rate / bare).toFixed(2));
  line('unchanged archive', `${same.seconds.toFixed(2)} s`);
  line('hashing the same bytes, one thread', `${hashing.toFixed(2)} s`);
  line('ratio', (same.seconds / hashing).toFixed(2));
  line('most memory, program and workers', `${whole.nodeMb.toFixed(0)} MB`);
  line('most memory, browsers', `${whole.browserMb.toFixed(0)} MB`);
} finally {
  rmSync(folder, { recursive: true, force: true });
}
