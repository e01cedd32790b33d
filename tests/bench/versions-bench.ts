/**
 * `npm run bench -- versions [jobs] [worktree…]`: core-seconds per report, user and system time of all processes with the
 * browser; of this version and of others that are built in the worktrees named, in turn within one run; and where this
 * version spends them.
 */
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { root } from '../support/folders.js';
import { costOf, type Cost } from '../support/processor-time.js';
import { makeArchive } from './make-archive.js';

const ROUNDS = 2;
const [count, worktrees] = [Number(process.argv[2] ?? 40), process.argv.slice(3)];
const place = mkdtempSync(join(tmpdir(), 'waysheet-bench-'));
const jobs = join(place, 'jobs');

const batch = (version: string, more: readonly string[], env: Record<string, string> = {}): Promise<Cost> => {
  const out = join(place, 'out');
  rmSync(out, { recursive: true, force: true });
  return costOf([join(version, 'dist/cli.js'), 'batch', jobs, '--out', out, ...more], env);
};
const nameOf = (version: string): string =>
  (JSON.parse(readFileSync(join(version, 'package.json'), 'utf8')) as { version: string }).version;
const total = ({ node, browser }: Cost) => node + browser;
const line = (cells: readonly (string | number)[]) =>
  console.log(
    cells
      .map((cell, k) => (typeof cell === 'number' ? cell.toFixed(3) : cell).padEnd(k === 0 ? 24 : 12))
      .join(''),
  );

try {
  makeArchive(jobs, count);
  const versions = [...worktrees, root];
  const least = new Map<string, Cost>();
  for (let k = 0; k < ROUNDS; k++)
    for (const version of versions) {
      const cost = await batch(version, []);
      if (total(cost) < total(least.get(version) ?? { node: Infinity, browser: 0, wall: 0, peakMb: 0 }))
        least.set(version, cost);
    }
  console.log(`${count} jobs of two rails with 41 stations; core-seconds per report, least of ${ROUNDS}\n`);
  line(['version', 'program', 'browser', 'together', 'to first', 'reports/s']);
  const first = total(least.get(versions[0]!)!);
  for (const version of versions) {
    const cost = least.get(version)!;
    line([
      nameOf(version),
      ...[cost.node, cost.browser, total(cost)].map((seconds) => seconds / count),
      total(cost) / first,
      (count / cost.wall).toFixed(2),
    ]);
  }
  const folder = join(place, 'stages');
  mkdirSync(folder);
  const { node, browser } = await batch(root, [], { WAYSHEET_STAGES: folder });
  const sums = new Map<string, number>();
  for (const name of readdirSync(folder))
    for (const [stage, seconds] of Object.entries(
      JSON.parse(readFileSync(join(folder, name), 'utf8')) as Record<string, number>,
    ))
      sums.set(stage, (sums.get(stage) ?? 0) + seconds);
  const measured = [...sums.values()].reduce((a, b) => a + b, 0);
  sums.set('threads, not measured', Math.max(0, node - measured));
  sums.set('browser', browser);
  console.log('\nstage                   core-ms per report');
  for (const [stage, seconds] of sums) line([stage, ((1000 * seconds) / count).toFixed(0)]);
} finally {
  rmSync(place, { recursive: true, force: true });
}
