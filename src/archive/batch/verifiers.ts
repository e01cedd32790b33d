/**
 * Threads that verify issued reports. Threads are used, not the worker processes of a batch, because they start quickly and
 * only read. A report that they cannot read is not verified, and a worker process makes it again.
 */
import type { ReportedRow } from '../register/register.js';
import type { AboutReport } from '../register/register-row.js';
import { starters, type WorkerThread } from './starters.js';
import type { Claim } from './unchanged.js';

export interface Question {
  readonly claim: Claim;
  /** What the line of the register is made from; null: the line is known. */
  readonly row: AboutReport | null;
}

export interface Verified {
  /** Every file is as the report claims. */
  readonly stands: boolean;
  /** null: not asked for, or the report is not as it claims. */
  readonly row: ReportedRow | null;
}

export interface Verifiers {
  /** Never rejects. */
  ask(question: Question): Promise<Verified>;
  /** Questions without an answer count as not verified. */
  end(): void;
}

type Answer = (verified: Verified) => void;

const UNVERIFIED: Verified = { stands: false, row: null };

/** @param most Number of threads; a thread is started when a question finds the others busy. */
export function startVerifiers(most: number): Verifiers {
  const waiting: { readonly question: Question; readonly answer: Answer }[] = [];
  const idle: WorkerThread[] = [];
  const busy = new Map<WorkerThread, Answer>();
  let hasEnded = false;

  function startThread(): WorkerThread {
    const thread = starters.thread(new URL('./verify-thread.js', import.meta.url));
    thread.on('message', (verified: Verified) => {
      const answer = busy.get(thread);
      busy.delete(thread);
      idle.push(thread);
      answer?.(verified);
      assign();
    });
    // Results of an unknown shape, or no memory left. A worker process takes the job later.
    thread.on('error', () => undefined);
    thread.on('exit', () => {
      const answer = busy.get(thread);
      busy.delete(thread);
      const at = idle.indexOf(thread);
      if (at >= 0) idle.splice(at, 1);
      answer?.(UNVERIFIED);
      if (!hasEnded) assign();
    });
    return thread;
  }

  function assign(): void {
    while (waiting.length > 0 && (idle.length > 0 || busy.size < most)) {
      const { question, answer } = waiting.shift()!;
      const thread = idle.pop() ?? startThread();
      busy.set(thread, answer);
      thread.postMessage(question);
    }
  }

  return {
    ask: (question) =>
      new Promise((answer) => {
        if (hasEnded) return answer(UNVERIFIED);
        waiting.push({ question, answer });
        assign();
      }),
    end() {
      hasEnded = true;
      for (const { answer } of waiting.splice(0)) answer(UNVERIFIED);
      for (const thread of [...idle, ...busy.keys()]) void thread.terminate();
    },
  };
}
