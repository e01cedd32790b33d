/**
 * `npm run bench -- language [pairs]`: what a German report costs, as a multiple of the English one. Whole processes in turn,
 * without the PDF; processor time, user and system, in steps of 10 ms; median of the pairs.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { median } from '../../src/survey/readings/suspicions/series.js';
import { root } from '../support/folders.js';
import { costOf } from '../support/processor-time.js';
import { program } from '../support/program.js';

const pairs = Number(process.argv[2] ?? 12);
const out = mkdtempSync(join(tmpdir(), 'waysheet-language-'));

/** Processor time of the program and of all that it starts, s. */
async function secondsOf(job: string, language: string): Promise<number> {
  const args = ['report', join(root, 'samples', job), '--no-pdf', '--language', language];
  return (await costOf([program(), ...args, '--out', join(out, language)])).node;
}

console.log(`A German report against an English one, ${pairs} pairs\n`);
console.log('job        en ms   de ms   ratio');
try {
  for (const job of ['TH-2031', 'TH-0412']) {
    for (const language of ['en', 'de']) await secondsOf(job, language);
    const costs: (readonly [number, number])[] = [];
    for (let k = 0; k < pairs; k++) costs.push([await secondsOf(job, 'en'), await secondsOf(job, 'de')]);
    const ms = [0, 1].map((k) => 1000 * median(costs.map((pair) => pair[k]!)));
    const cells = [ms[0]!.toFixed(0), ms[1]!.toFixed(0), median(costs.map(([en, de]) => de / en)).toFixed(3)];
    console.log(`${job}${cells.map((cell) => cell.padStart(8)).join('')}`);
  }
} finally {
  rmSync(out, { recursive: true });
}
