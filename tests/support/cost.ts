/** `WAYSHEET_COST=1 npx vitest run …`: processor seconds of each test file, those of ended child processes too. Linux. */
import { appendFileSync, readFileSync } from 'node:fs';
import { afterAll, expect } from 'vitest';
import { root } from './folders.js';

const shared = globalThis as { waysheetCostSoFar?: number };

/** @see proc(5), /proc/pid/stat: utime, stime, cutime, cstime in ticks of 0.01 s. */
function secondsSoFar(): number {
  const stat = readFileSync('/proc/self/stat', 'latin1');
  const fields = stat.slice(stat.lastIndexOf(')') + 2).split(' ');
  return fields.slice(11, 15).reduce((sum, ticks) => sum + Number(ticks) / 100, 0);
}

// After all hooks of the file itself, which begin later. The first file of a process pays for its start.
afterAll(() => {
  const now = secondsSoFar();
  const seconds = now - (shared.waysheetCostSoFar ?? 0);
  shared.waysheetCostSoFar = now;
  const file = expect.getState().testPath!.slice(root.length);
  const megabytes = Math.round(process.memoryUsage.rss() / 1e6);
  appendFileSync(process.env['WAYSHEET_COST']!, `${JSON.stringify({ file, seconds, megabytes })}\n`);
});
