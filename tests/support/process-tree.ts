/** Memory of a process and of all that it started, by what it is. Linux. */
import { readdirSync } from 'node:fs';
import { textOf } from './folders.js';

export interface TreeMemory {
  /** Program and workers, and browsers, MB. */
  readonly node: number;
  readonly browser: number;
}

/** Proportional set sizes: what is shared counts once. */
export function memoryOfTree(pid: number): TreeMemory {
  const sum = { node: 0, browser: 0 };
  const walk = (p: number): void => {
    const mb = Number(/^Pss: +(\d+)/m.exec(textOf(`/proc/${p}/smaps_rollup`))?.[1] ?? 0) / 1024;
    sum[textOf(`/proc/${p}/comm`).startsWith('node') ? 'node' : 'browser'] += mb;
    for (const thread of threadsOf(p))
      textOf(`/proc/${p}/task/${thread}/children`).split(' ').filter(Boolean).map(Number).forEach(walk);
  };
  walk(pid);
  return sum;
}

function threadsOf(pid: number): string[] {
  try {
    return readdirSync(`/proc/${pid}/task`);
  } catch {
    return [];
  }
}
