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

export interface MergeOptions {
  readonly out: string;
  /** The folder of jobs: every job folder below it must be there. */
  readonly of: string | undefined;
  /** A text file with the id of every job that must be there, one per line. */
  readonly list: string | undefined;
  readonly pdf: boolean;
  readonly json: boolean;
  readonly console: Console;
}

/** Exit status: 1 when anything is missing (then nothing is written), 3 when a job was refused, else 0. */
export async function merge(outs: readonly string[], options: MergeOptions): Promise<ExitCode> {
  const { out, of, list, pdf, json, console } = options;
  const { register, problems } = await mergeRegisters(outs, out, {
    ids: list === undefined ? [] : linesOf(await readFile(list, 'utf8')),
    folders:
      of === undefined
        ? []
        : (
            await findJobs(
              of,
              outs.map((o) => resolve(o)),
            )
          ).folders,
  });
  const { counts, jobs } = register;
  if (problems.length === 0) {
    const wantsPdf = pdf && jobs.some((r) => r.status === 'reported' && r.links.pdf !== null);
    const printer = wantsPdf ? lazyPrinter() : null;
    const lock = await lockFolder(out);
    try {
      await writeRegister(out, register, null, printer?.open ?? null);
    } finally {
      await printer?.close();
      await lock.release();
    }
  }
  if (json) console.out(`${JSON.stringify({ counts, problems }, null, 2)}\n`);
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
