/**
 * Threads that verify issued reports. Threads rather than the worker processes of a batch: they start in a moment, and
 * only read; what they cannot read or cannot make sense of is simply not verified.
 */
import type { ReportedRow } from '../register/register.js';
import { starters, type WorkerThread } from './starters.js';
import type { Claim } from './unchanged.js';

export interface Question {
  readonly claim: Claim;
  /** Of whom to make a line of the register; null: it is known. */
  readonly row: {
    readonly folder: string;
    readonly key: string;
    readonly pdf: boolean;
    readonly place: string;
  } | null;
}

export interface Verified {
  /** Every file is as the report claims. */
  readonly stands: boolean;
  /** null: not asked for, or the report does not stand. */
  readonly row: ReportedRow | null;
}

export interface Verifiers {
  /** Never rejects. */
  ask(question: Question): Promise<Verified>;
  /** What is not answered yet does not stand. */
  end(): void;
}

type Answer = (verified: Verified) => void;

const NOT: Verified = { stands: false, row: null };

/** @param most Threads; each is started with the first question that finds the others busy. */
export function startVerifiers(most: number): Verifiers {
  const waiting: { readonly question: Question; readonly answer: Answer }[] = [];
  const idle: WorkerThread[] = [];
  const busy = new Map<WorkerThread, Answer>();
  let hasEnded = false;

  function hire(): WorkerThread {
    const thread = starters.thread(new URL('./verify-thread.js', import.meta.url));
    thread.on('message', (verified: Verified) => {
      const answer = busy.get(thread);
      busy.delete(thread);
      idle.push(thread);
      answer?.(verified);
      assign();
    });
    // Results of a shape that nobody expects, or no memory left. The job's turn comes again in a worker process.
    thread.on('error', () => undefined);
    thread.on('exit', () => {
      const answer = busy.get(thread);
      busy.delete(thread);
      const at = idle.indexOf(thread);
      if (at >= 0) idle.splice(at, 1);
      answer?.(NOT);
      if (!hasEnded) assign();
    });
    return thread;
  }

  function assign(): void {
    while (waiting.length > 0 && (idle.length > 0 || busy.size < most)) {
      const { question, answer } = waiting.shift()!;
      const thread = idle.pop() ?? hire();
      busy.set(thread, answer);
      thread.postMessage(question);
    }
  }

  return {
    ask: (question) =>
      new Promise((answer) => {
        if (hasEnded) return answer(NOT);
        waiting.push({ question, answer });
        assign();
      }),
    end() {
      hasEnded = true;
      for (const { answer } of waiting.splice(0)) answer(NOT);
      for (const thread of [...idle, ...busy.keys()]) void thread.terminate();
    },
  };
}
