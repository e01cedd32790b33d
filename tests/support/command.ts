/** The command as a person or a script calls it. */
import { execFile } from 'node:child_process';
import { join } from 'node:path';
import { runProgram } from '../../src/cli/program.js';
import { root } from './folders.js';
import { workersHere } from './in-process.js';
import { program } from './program.js';

export interface Ran {
  readonly status: number;
  readonly out: string;
  readonly err: string;
}

// What the program tells people to type next is what they would type to call the build.
process.argv[1] = join(root, 'dist/cli.js');

/** The program within this process, from its sources. */
export async function waysheet(...args: string[]): Promise<Ran> {
  workersHere();
  let [out, err] = ['', ''];
  const console = {
    out: (text: string) => void (out += text),
    err: (text: string) => void (err += text),
    isInteractive: false,
  };
  const status = await runProgram(args, console);
  return { status, out, err };
}

/** The built program as a process of its own: for what only a process has, such as an end, a signal, rights, two at once. */
export function waysheetProcess(args: readonly string[], env: NodeJS.ProcessEnv = {}): Promise<Ran> {
  return new Promise((resolve) => {
    execFile(
      process.execPath,
      [program(), ...args],
      { maxBuffer: 1e8, env: { ...process.env, ...env } },
      (error, out, err) => resolve({ status: error === null ? 0 : Number(error.code), out, err }),
    );
  });
}
