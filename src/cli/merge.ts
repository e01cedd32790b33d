/** `waysheet merge OUT…`: the registers of several parts of an archive as one. */
import { readFile } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { findJobs } from '../archive/batch/find-jobs.js';
import { lazyPrinter } from '../archive/batch/lazy-printer.js';
import { lockFolder } from '../archive/batch/lock.js';
import { mergeRegisters } from '../archive/register/merge.js';
import { writeRegister } from '../archive/register/write-register.js';
import { visible } from '../base/diagnostics/messages.js';
import { exitCodes, type ExitCode } from './exit-codes.js';
import type { Console } from './console.js';

/** As parseArgs takes them. */
export const mergeOptions = {
  /** Where the merged register goes; by default into the one OUT. */
  out: { type: 'string' },
  /** A text file with the id of every job that must be there, one a line. */
  list: { type: 'string' },
  /** The folder of jobs: every job folder below it must be there. */
  of: { type: 'string' },
  'no-pdf': { type: 'boolean' },
} as const;

export interface MergeArguments {
  readonly values: {
    readonly out?: string | undefined;
    readonly list?: string | undefined;
    readonly of?: string | undefined;
    readonly 'no-pdf'?: boolean | undefined;
    readonly json?: boolean | undefined;
  };
  readonly console: Console;
}

/** Exit status: 1 when anything is missing (then nothing is written), 3 when a job was refused, else 0. */
export async function merge(outs: readonly string[], { values, console }: MergeArguments): Promise<ExitCode> {
  const out = values.out ?? outs[0]!;
  if (outs.length > 1 && values.out === undefined) {
    console.err('waysheet: of several output folders, --out says where the merged register goes\n');
    return exitCodes.usage;
  }
  const { register, problems } = await mergeRegisters(outs, out, {
    ids: values.list === undefined ? [] : linesOf(await readFile(values.list, 'utf8')),
    folders:
      values.of === undefined
        ? []
        : (
            await findJobs(
              values.of,
              outs.map((o) => resolve(o)),
            )
          ).folders,
  });
  const { counts, jobs } = register;
  if (problems.length === 0) {
    const wantsPdf =
      values['no-pdf'] !== true && jobs.some((r) => r.status === 'reported' && r.links.pdf !== null);
    const printer = wantsPdf ? lazyPrinter() : null;
    const lock = await lockFolder(out);
    try {
      await writeRegister(out, register, null, printer?.open ?? null);
    } finally {
      await printer?.close();
      await lock.release();
    }
  }
  if (values.json === true) console.out(`${JSON.stringify({ counts, problems }, null, 2)}\n`);
  else if (problems.length > 0)
    console.err(
      `${problems.map(visible).join('\n')}\nwaysheet: the register is not whole, and was not written\n`,
    );
  else
    console.out(
      `${counts.jobs} jobs: ${counts.reported} reported, ${counts.refused} refused, ${counts.failed} failed.\n${visible(join(out, 'register.html'))}\n`,
    );
  if (problems.length > 0) return exitCodes.failed;
  return counts.refused > 0 ? exitCodes.refused : counts.failed > 0 ? exitCodes.failed : exitCodes.done;
}

const linesOf = (text: string): string[] =>
  text
    .split(/\r?\n/)
    .map((line) => line.trim())
    .filter((line) => line !== '');
