/** Processor time of a program and of all that it starts, browsers too. Linux. */
import { spawn } from 'node:child_process';
import { readdirSync } from 'node:fs';
import { textOf } from './folders.js';

export interface Cost {
  /** Processor time, user and system, of the program and its workers; of browsers, s. */
  readonly node: number;
  readonly browser: number;
  /** By the clock, s. */
  readonly wall: number;
  /** The greatest resident memory of the largest process of the program, MB; browsers are not counted. */
  readonly peakMb: number;
}

const TICKS = 100;
const LOOK_MS = 100;

/** @throws {Error} it ends with another status than 0. @see proc(5), /proc/pid/stat, /proc/pid/status (VmHWM). */
export async function costOf(args: readonly string[], env: Record<string, string> = {}): Promise<Cost> {
  const began = performance.now();
  const child = spawn(process.execPath, args, {
    env: { ...process.env, ...env },
    stdio: ['ignore', 'ignore', 'inherit'],
  });
  /** What each process had used when it was last seen: one that has ended is not asked any more. */
  const used = new Map<number, { isNode: boolean; seconds: number }>();
  let peakMb = 0;
  const look = (pid: number): void => {
    const stat = textOf(`/proc/${pid}/stat`);
    if (stat === '') return;
    const fields = stat.slice(stat.lastIndexOf(')') + 2).split(' ');
    // The main thread of newer versions of Node has another name than the program.
    const isNode = /^\(?(node|MainThread)/.test(stat.slice(stat.indexOf('(') + 1));
    if (isNode)
      peakMb = Math.max(
        peakMb,
        Number(/^VmHWM:\s+(\d+)/m.exec(textOf(`/proc/${pid}/status`))?.[1]) / 1024 || 0,
      );
    used.set(pid, { isNode, seconds: (Number(fields[11]) + Number(fields[12])) / TICKS });
    for (const thread of threadsOf(pid))
      textOf(`/proc/${pid}/task/${thread}/children`).split(' ').filter(Boolean).map(Number).forEach(look);
  };
  const timer = setInterval(() => look(child.pid!), LOOK_MS);
  const status = await new Promise((resolve) => child.once('exit', resolve));
  clearInterval(timer);
  if (status !== 0) throw new Error(`${args.join(' ')} ended with status ${String(status)}`);
  const sum = (of: boolean) =>
    [...used.values()].reduce((total, { isNode, seconds }) => total + (isNode === of ? seconds : 0), 0);
  return { node: sum(true), browser: sum(false), wall: (performance.now() - began) / 1000, peakMb };
}

function threadsOf(pid: number): string[] {
  try {
    return readdirSync(`/proc/${pid}/task`);
  } catch {
    return [];
  }
}
