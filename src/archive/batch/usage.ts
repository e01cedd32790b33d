/** Resource use of a process, measured from outside. */
import { readFileSync } from 'node:fs';
import { execFileSync } from 'node:child_process';

export interface Usage {
  /** Processor time since its start, s. */
  readonly cpuS: number;
  /** Memory that it holds now, bytes. */
  readonly bytes: number;
}

/** Clock ticks per second and bytes per page on Linux, without large pages. */
const [TICKS, PAGE] = [100, 4096];

/** @returns null: it has ended, or the system gives no figures. @see proc(5), /proc/pid/stat; POSIX, ps. */
export function usageOf(pid: number): Usage | null {
  try {
    if (process.platform === 'linux') {
      const stat = readFileSync(`/proc/${pid}/stat`, 'latin1');
      // The name of the program may contain spaces and brackets.
      const fields = stat.slice(stat.lastIndexOf(')') + 2).split(' ');
      return { cpuS: (Number(fields[11]) + Number(fields[12])) / TICKS, bytes: Number(fields[21]) * PAGE };
    }
    const said = execFileSync('ps', ['-o', 'rss=,time=', '-p', String(pid)], { encoding: 'latin1' }).trim();
    const [kilobytes, time] = said.split(/\s+/) as [string, string];
    const cpuS = time.split(/[-:]/).reduce((sum, part) => sum * 60 + Number(part), 0);
    return { cpuS, bytes: Number(kilobytes) * 1024 };
  } catch {
    return null;
  }
}

/** @returns The exceeded limit, in words; null: none. */
export function excessOf(before: Usage | null, now: Usage | null, { cpuS, bytes }: Usage): string | null {
  if (before === null || now === null) return null;
  if (now.bytes > bytes) return `it needed more than ${Math.round(bytes / 1e6)} MB of memory`;
  return now.cpuS - before.cpuS > cpuS ? `it took more than ${cpuS} s of processor time` : null;
}
