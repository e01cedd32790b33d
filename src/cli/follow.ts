/**
 * `waysheet follow JOB`: a page on this machine that renews itself as readings are saved. A file, not a server: it is
 * written anew whenever a file of the job was saved, and a browser that shows it looks again every few seconds.
 */
import { readdir, stat } from 'node:fs/promises';
import { basename, dirname, join, resolve } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { writeFileWhole } from '../archive/write-whole.js';
import { visible } from '../base/diagnostics/messages.js';
import { exitCodes, type ExitCode } from './exit-codes.js';
import { inspectJob } from '../solution/intake/load-job.js';
import { readWords } from '../survey/readings/what-was-read.js';
import { DEFAULT_LIMIT_S } from '../solution/intake/size.js';
import { drawCharts, solve } from '../pipeline.js';
import { followPage, type Followed } from '../pages/report/follow-page.js';
import type { Console } from './console.js';

export interface FollowOptions {
  /** Where to write the page; null: follow.html in the job folder. */
  readonly page: string | null;
  /** Makes the page once, and ends. */
  readonly once: boolean;
  readonly pollMs: number;
  readonly json: boolean;
  readonly console: Console;
}

export async function runFollow(folder: string, options: FollowOptions): Promise<ExitCode> {
  const { console, once, pollMs, json } = options;
  const page = options.page ?? join(folder, 'follow.html');
  await stat(folder);
  let shown = '';
  let hasEnded = false;
  const end = () => (hasEnded = true);
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.once(signal, end);
  if (!once && !json)
    console.err(
      `${visible(page)}: open it in a browser; it renews itself as readings are saved. Ctrl-C ends it.\n`,
    );
  for (;;) {
    const state = await stateOf(folder, page);
    if (state.key !== shown) {
      shown = state.key;
      const followed = await look(folder, state.saved);
      await writeFileWhole(dirname(page), basename(page), Buffer.from(followPage(followed)));
      const line = lineOf(followed);
      if (json) console.out(`${JSON.stringify(line)}\n`);
      else
        console.err(
          `${line.verdict ?? 'not to be worked out yet'}; ${line.errors} errors, ${line.notes} notes\n`,
        );
    }
    if (once || hasEnded) return exitCodes.done;
    await sleep(pollMs);
    if (hasEnded) return exitCodes.done;
  }
}

const lineOf = ({ job, results, diagnostics }: Followed) => ({
  job,
  verdict: results?.verdict ?? null,
  errors: diagnostics.filter(({ severity }) => severity !== 'warning').length,
  notes: diagnostics.filter(({ severity }) => severity === 'warning').length,
});

/** What is there, as one text that changes with any file, and when the last of them was saved. */
async function stateOf(folder: string, page: string): Promise<{ key: string; saved: string }> {
  const entries = await readdir(folder, { recursive: true, withFileTypes: true });
  const own = resolve(page);
  const lines: string[] = [];
  let last = 0;
  for (const entry of entries) {
    const path = join(entry.parentPath, entry.name);
    if (!entry.isFile() || entry.name.startsWith('.') || resolve(path) === own) continue;
    if (!/\.(json|csv|txt)$/i.test(entry.name)) continue;
    const found = await stat(path).catch(() => null);
    if (found === null) continue;
    lines.push(`${path} ${found.size} ${found.mtimeMs}`);
    last = Math.max(last, found.mtimeMs);
  }
  const saved = last === 0 ? '' : new Date(last).toTimeString().slice(0, 8);
  return { key: lines.sort().join('\n') || 'nothing', saved };
}

/** A file may be half-written when it is looked at: the next look mends that. */
export async function look(folder: string, saved: string): Promise<Followed> {
  const {
    id,
    soFar: loaded,
    diagnostics,
    ...found
  } = await inspectJob(folder, null, { limit: DEFAULT_LIMIT_S });
  const job = id ?? basename(resolve(folder));
  const read = new Map([...(found.read ?? [])].map(([phase, own]) => [phase, readWords(own)] as const));
  if (loaded === null) return { job, saved, results: null, charts: [], diagnostics, read };
  const results = await solve(loaded, diagnostics);
  const charts = (await drawCharts(results)).filter(({ section }) =>
    ['straightness', 'parallelism', 'cross-level'].includes(section),
  );
  return { job, saved, results, charts, diagnostics, read };
}
