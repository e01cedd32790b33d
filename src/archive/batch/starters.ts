/**
 * How worker processes and threads are started. A test that is not about processes replaces them by functions of its own process (tests/support/in-process.ts).
 */
import { fork, type ChildProcess } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { Worker } from 'node:worker_threads';

/**
 * `max-semi-space-size`: MB for new objects in memory, instead of 16. A job makes a few hundred MB that are not needed after
 * it. Objects that are collected while they are in use must be copied: a tenth of all work on charts and pages. `min`: from
 * the start, for one report is done before the space has grown; a twentieth of its processor time.
 * `single-threaded-gc`: with as many workers as cores, no core is free to help with collecting. Helper threads that wait for
 * each other took a third of the processor time of a solution. `expose-gc`: for serve-tasks.ts.
 */
const MEMORY_FLAGS = [
  '--max-semi-space-size=32',
  '--min-semi-space-size=16',
  '--single-threaded-gc',
  '--expose-gc',
];

/** What a pool needs of a process, and verifiers of a thread. */
export type WorkerProcess = Pick<
  ChildProcess,
  'pid' | 'connected' | 'stderr' | 'send' | 'disconnect' | 'kill' | 'on' | 'once'
>;
export type WorkerThread = Pick<Worker, 'on' | 'postMessage' | 'terminate'>;

interface Starters {
  /** What a worker process runs; a test that runs from the sources names that of the build. */
  entry: URL;
  /** @param module Exports `worker` (serve-tasks.ts). */
  process(module: URL): WorkerProcess;
  thread(module: URL): WorkerThread;
}

/** The ones of the program. */
export const asProcesses: Starters = {
  entry: new URL('./worker-process.js', import.meta.url),
  process: (module) =>
    fork(fileURLToPath(starters.entry), [module.href], {
      stdio: ['ignore', 'ignore', 'pipe', 'ipc'],
      execArgv: [...process.execArgv, ...MEMORY_FLAGS],
    }),
  thread: (module) => new Worker(module),
};

export const starters: Starters = { ...asProcesses };
