#!/usr/bin/env node
/** The command line as a process: its streams and its exit status. What it does is in cli/program.ts. */
import './base/machine-code.js';
import { processConsole } from './cli/console.js';
import { exitCodes } from './cli/exit-codes.js';
import { runProgram } from './cli/program.js';

// A full disk, or a reader that has gone: what cannot be written now cannot be written later either.
for (const [stream, name] of [
  [process.stdout, 'output'],
  [process.stderr, 'error'],
] as const)
  stream.on('error', (error) => {
    if (stream === process.stdout)
      process.stderr.write(`waysheet: standard ${name} cannot be written to: ${error.message}\n`);
    process.exit(exitCodes.failed);
  });

process.exitCode = await runProgram(process.argv.slice(2), processConsole);
