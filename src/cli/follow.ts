/**
 * `waysheet follow JOB`: a page on this machine that renews itself as readings are saved. It is served to this machine alone
 * and renewed in place; the same page is also a file, which loads itself again every few seconds.
 */
import { counted } from '../base/diagnostics/counted.js';
import { verdictWords } from './verdict-words.js';
import type { Dirent } from 'node:fs';
import { readdir, stat } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { Worker } from 'node:worker_threads';
import { setTimeout as sleep } from 'node:timers/promises';
import { writeFileAt } from '../archive/write-whole.js';
import { visible } from '../base/diagnostics/messages.js';
import { exitCodes, type ExitCode } from './exit-codes.js';
import { startFollowServer, type FollowServer } from './follow-server.js';
import type { Console } from './console.js';
import { lookedAt, type LookedAt } from './follow-look.js';
import type { Asked } from './follow-worker.js';

export interface FollowOptions {
  /** Where to write the page; null: follow.html in the job folder. */
  readonly page: string | null;
  /** Makes the page once, and ends. */
  readonly once: boolean;
  /** Serves the page to this machine. */
  readonly server: boolean;
  readonly pollMs: number;
  readonly json: boolean;
  readonly console: Console;
}

export async function runFollow(folder: string, options: FollowOptions): Promise<ExitCode> {
  const { console, once, pollMs, json } = options;
  const page = options.page ?? join(folder, 'follow.html');
  await stat(folder);
  const server: FollowServer | null = options.server && !once ? await startFollowServer() : null;
  const show = async (text: string) => {
    await writeFileAt(page, Buffer.from(text));
    server?.show(text);
  };
  const worker = server === null ? null : new Worker(new URL('./follow-worker.js', import.meta.url));
  const worked = (asked: Asked): Promise<LookedAt> =>
    worker === null ? lookedAt(asked.folder, asked.saved, asked.withPlan) : answerOf(worker, asked);
  let shown = '';
  let hasEnded = false;
  const end = () => (hasEnded = true);
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.once(signal, end);
  if (!once && !json)
    console.err(
      `${server?.address ?? visible(page)}: open it in a browser on this machine; it renews itself as readings are saved. Ctrl-C ends it.\n`,
    );
  else if (server !== null) console.err(`${server.address}\n`);
  try {
    for (;;) {
      const state = await stateOf(folder, page);
      if (state.key !== shown) {
        shown = state.key;
        let made = await worked({ folder, saved: state.saved, withPlan: false });
        await show(made.page);
        // The readings are shown before the search for moves has ended.
        if (made.isPlanWanted) {
          made = await worked({ folder, saved: state.saved, withPlan: true });
          await show(made.page);
        }
        sayLine(made.line, options);
      }
      if (once || hasEnded) return exitCodes.done;
      await sleep(pollMs);
      if (hasEnded) return exitCodes.done;
    }
  } finally {
    await worker?.terminate();
    await server?.close();
  }
}

function sayLine(line: LookedAt['line'], { json, console }: FollowOptions): void {
  if (json) console.out(`${JSON.stringify(line)}\n`);
  else {
    const verdict = line.verdict === null ? 'not to be worked out yet' : verdictWords[line.verdict];
    console.err(`${verdict}; ${counted(line.errors, 'problem')}, ${counted(line.notes, 'note')}\n`);
  }
}

/** State of the folder, as a text that changes when any file changes, and the time when the last file was saved. */
async function stateOf(folder: string, page: string): Promise<{ key: string; saved: string }> {
  const own = resolve(page);
  const lines: string[] = [];
  let last = 0;
  for (const entry of await entriesIn(folder)) {
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

/** All files in a folder, at any depth. A folder that may not be read counts as empty; the check reports its files. */
async function entriesIn(folder: string): Promise<Dirent[]> {
  const own = await readdir(folder, { withFileTypes: true }).catch(() => []);
  const inner = own.filter((entry) => entry.isDirectory());
  return [...own, ...(await Promise.all(inner.map(({ name }) => entriesIn(join(folder, name))))).flat()];
}

/** @throws {Error} what the look threw. */
const answerOf = (worker: Worker, asked: Asked): Promise<LookedAt> =>
  new Promise((resolve, reject) => {
    worker.once('error', reject);
    worker.once('message', ({ made, error }: { made?: LookedAt; error?: string }) => {
      worker.off('error', reject);
      if (made === undefined) reject(new Error(error));
      else resolve(made);
    });
    worker.postMessage(asked);
  });
