/**
 * `npm run bench -- language [pairs]`: what a German report costs, as a multiple of the English one. Whole processes in turn,
 * without the PDF; processor time, user and system; median of the pairs.
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { median } from '../../src/survey/readings/suspicions/series.js';

const pairs = Number(process.argv[2] ?? 12);
const out = mkdtempSync(join(tmpdir(), 'waysheet-language-'));

/** The report in a process of this one's, which tells its own processor time, µs. */
const TIMED = `process.on('exit', () => { const { user, system } = process.cpuUsage(); process._rawDebug('cpu ' + (user + system)); });`;

function costOf(job: string, language: string): number {
  const args = ['report', `samples/${job}`, '--no-pdf', '--language', language, '--out', join(out, language)];
  const { stderr, status } = spawnSync(
    process.execPath,
    ['--import', `data:text/javascript,${encodeURIComponent(TIMED)}`, 'dist/cli.js', ...args],
    { encoding: 'utf8' },
  );
  const cpu = /^cpu (\d+)$/m.exec(stderr)?.[1];
  if (status !== 0 || cpu === undefined) throw new Error(`${args.join(' ')}: ${stderr}`);
  return Number(cpu);
}

console.log(`A German report against an English one, ${pairs} pairs\n`);
console.log('job        en ms   de ms   ratio');
for (const job of ['TH-2031', 'TH-0412']) {
  for (const language of ['en', 'de']) costOf(job, language);
  const costs = Array.from({ length: pairs }, () => [costOf(job, 'en'), costOf(job, 'de')] as const);
  const ms = [0, 1].map((k) => median(costs.map((pair) => pair[k]!)) / 1000);
  const ratio = median(costs.map(([en, de]) => de / en));
  const cells = [ms[0]!.toFixed(0), ms[1]!.toFixed(0), ratio.toFixed(3)];
  console.log(`${job}${cells.map((cell) => cell.padStart(8)).join('')}`);
}
rmSync(out, { recursive: true });
