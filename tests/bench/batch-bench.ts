/**
 * `npm run bench -- batch [jobs]`: what a batch costs, as ratios within one run. Against the same finished pages
 * printed by a bare browser loop, exactly what the batch hands to the browser (the limit of this route); one report
 * from a cold start against process and browser alone; an unchanged archive against hashing its bytes; peak memory.
 */
import { program } from '../support/program.js';
import { spawn } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { availableParallelism, tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { openPress, type Press } from '../../src/pages/report/browser/print-html.js';
import type { Register } from '../../src/archive/register/register.js';
import type { Printer } from '../../src/pages/report/pdf.js';
import type { PrintJob } from '../../src/pages/report/print-job.js';
import { makeDeliverables } from '../../src/pipeline.js';
import { loadJob } from '../../src/solution/intake/load-job.js';
import { root } from '../support/folders.js';
import { memoryOfTree } from '../support/process-tree.js';
import { costOf } from '../support/processor-time.js';
import { hashAll } from './hash-all.js';
import { makeArchive } from './make-archive.js';

const count = Number(process.argv[2] ?? 400);
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

/** @param watched Reads its memory as it runs, which takes time of its own. */
function batch(more: readonly string[] = [], watched = false): Promise<Ran> {
  const began = performance.now();
  const child = spawn(process.execPath, [program(), 'batch', jobs, '--out', out, ...more], {
    stdio: ['ignore', 'ignore', 'inherit'],
  });
  let [nodeMb, browserMb] = [0, 0];
  const timer = setInterval(() => {
    if (!watched) return;
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

/** What a batch hands to its printer, of every job. */
async function printJobs(): Promise<PrintJob[]> {
  const handed: PrintJob[] = [];
  const printer: Printer = {
    ...{ browser: '', notes: [] },
    print: (job) => {
      handed.push(job);
      return Promise.resolve(new Uint8Array());
    },
    close: () => Promise.resolve(),
  };
  for (const { folder } of (JSON.parse(readFileSync(join(out, 'register.json'), 'utf8')) as Register).jobs) {
    const loaded = await loadJob(join(jobs, folder));
    if (loaded.ok)
      await makeDeliverables(join(jobs, folder), loaded.value, loaded.diagnostics, Promise.resolve(printer));
  }
  return handed;
}

/** Pages printed and thrown away. @param browsers Of one page each, as a batch has them. @returns Prints a second. */
async function bareLoop(pages: readonly PrintJob[], browsers: number): Promise<number> {
  const presses = await Promise.all(Array.from({ length: browsers }, () => openPress({ pages: 1 })));
  const print = (press: Press, { html, fontless = html }: PrintJob) =>
    press.print({ html, fontless, paper: 'A4', timeoutMs: 60_000, onNote: () => undefined });
  await Promise.all(presses.map((press) => print(press, pages[0]!)));
  const began = performance.now();
  let next = 0;
  await Promise.all(
    presses.map(async (press) => {
      while (next < pages.length) await print(press, pages[next++]!);
    }),
  );
  const seconds = (performance.now() - began) / 1000;
  await Promise.all(presses.map((press) => press.close()));
  return pages.length / seconds;
}

/** Processor time of a fresh process and its browser, s: the least of three, after one that fills the disk's cache. */
async function leastCostOf(args: readonly string[]): Promise<number> {
  let least = Infinity;
  for (let k = 0; k < 4; k++) {
    const { node, browser } = await costOf(args);
    if (k > 0) least = Math.min(least, node + browser);
  }
  return least;
}

const startBrowser = `
const { describeBrowser } = await import(${JSON.stringify(pathToFileURL(join(root, 'dist/pages/report/browser/launch-browser.js')).href)});
await describeBrowser();`;

try {
  const first = join(jobs, 'site 0', 'K-00000');
  const single = await leastCostOf([program(), 'report', first, '--out', join(folder, 'single')]);
  const start = await leastCostOf(['--input-type=module', '-e', startBrowser]);
  const withoutPdf = await batch(['--no-pdf']);
  const whole = await batch();
  const pages = await printJobs();
  const bare = await bareLoop(pages, cores);
  const same = await batch();
  const hashing = hashAll(jobs, out);
  const { nodeMb, browserMb } = await batch(['--anew'], true);
  const rate = count / whole.seconds;
  const line = (what: string, value: string) => console.log(`${what.padEnd(66)}${value}`);
  console.log(`${count} jobs of two rails with 41 stations, ${cores} cores\n`);
  line('batch without PDF, start included', `${(count / withoutPdf.seconds).toFixed(2)} reports/s`);
  line('batch with PDF, start included', `${rate.toFixed(2)} reports/s`);
  line('bare loop over what the batch prints', `${bare.toFixed(2)} prints/s`);
  line('batch to bare loop (at least 0.6 wanted on 2 cores)', (rate / bare).toFixed(2));
  line('one report, cold, processor time', `${single.toFixed(2)} s`);
  line('process and browser, started and ended, the same', `${start.toFixed(2)} s`);
  line('one report to process and browser', (single / start).toFixed(2));
  line('unchanged archive', `${same.seconds.toFixed(2)} s`);
  line('hashing the same bytes, one thread', `${hashing.toFixed(2)} s`);
  line('unchanged to hashing (at most 2 wanted)', (same.seconds / hashing).toFixed(2));
  line('most memory, program and workers', `${nodeMb.toFixed(0)} MB`);
  line('most memory, browsers', `${browserMb.toFixed(0)} MB`);
} finally {
  rmSync(folder, { recursive: true, force: true });
}
