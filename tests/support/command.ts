/** The command as a person or a script calls it. */
import { program } from './program.js';
import { execFile } from 'node:child_process';

export interface Ran {
  readonly status: number;
  readonly out: string;
  readonly err: string;
}

/** dist/ is what `npm test` builds first. */
export function waysheet(...args: string[]): Promise<Ran> {
  return new Promise((resolve) => {
    execFile(process.execPath, [program, ...args], { maxBuffer: 1e8 }, (error, out, err) =>
      resolve({ status: error === null ? 0 : Number(error.code), out, err }),
    );
  });
}
