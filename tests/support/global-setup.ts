/** All temporary folders of a test run are in one, which goes when the run ends; then the cost of the files, if asked for. */
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

export default function setup(): (() => void) | undefined {
  // Each project of vitest.config.ts calls this; the first call is for the whole run.
  if (process.env['WAYSHEET_TEST_RUN'] !== undefined) return undefined;
  const folder = mkdtempSync(join(tmpdir(), 'waysheet-test-run-'));
  process.env['TMPDIR'] = folder;
  process.env['WAYSHEET_TEST_RUN'] = folder;
  const cost = join(folder, 'cost.jsonl');
  if (process.env['WAYSHEET_COST'] !== undefined) process.env['WAYSHEET_COST'] = cost;
  return () => {
    if (existsSync(cost)) console.log(costTable(readFileSync(cost, 'utf8')));
    rmSync(folder, { recursive: true, force: true });
  };
}

function costTable(lines: string): string {
  const files = lines
    .trimEnd()
    .split('\n')
    .map((line) => JSON.parse(line) as { file: string; seconds: number; megabytes: number })
    .sort((a, b) => b.seconds - a.seconds);
  const total = files.reduce((sum, { seconds }) => sum + seconds, 0);
  return [
    `${total.toFixed(0).padStart(7)} s of processor time in ${files.length} files`,
    ...files.map(({ file, seconds }) => `${seconds.toFixed(1).padStart(7)} s  ${file}`),
    `  ${Math.max(...files.map(({ megabytes }) => megabytes))} MB, the largest process after a file`,
  ].join('\n');
}
