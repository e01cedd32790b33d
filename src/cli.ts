#!/usr/bin/env node
/** The command line: finds the command and calls it. Each command's own code is loaded when it is called. */
import { VERSION } from './base/version.js';
import { calledAs } from './cli/called-as.js';
import { helpOf, UsageError, usageOf } from './cli/command.js';
import { commands } from './cli/commands.js';
import { processConsole } from './cli/console.js';
import { exitCodes, type ExitCode } from './cli/exit-codes.js';

const help = (): string =>
  [
    `waysheet ${VERSION}: rail-alignment readings to acceptance reports`,
    '',
    ...commands.flatMap((command) => [`  ${usageOf(command)}`, `      ${command.summary}.`]),
    '',
    'waysheet COMMAND --help prints the page of one command. --version prints the version.',
    'JOB is a folder with a job.json. --json: machine-readable output on standard output.',
    'Exit status: 0 done, 2 wrong usage, 3 input refused, 4 an audit found a difference,',
    '5 nothing differs, but not everything was compared, 1 anything else.',
    'WAYSHEET_BROWSER names a Chrome or Chromium to print with, in place of the packed one.',
    '',
  ].join('\n');

async function main(argv: readonly string[]): Promise<ExitCode> {
  const [first, ...rest] = argv;
  if (first === '--version' || first === '-v') {
    processConsole.out(`${VERSION}\n`);
    return exitCodes.done;
  }
  const asksForHelp = first === '--help' || first === '-h' || first === 'help';
  const name = asksForHelp ? rest[0] : first;
  if (name === undefined) {
    (asksForHelp ? processConsole.out : processConsole.err)(help());
    return asksForHelp ? exitCodes.done : exitCodes.usage;
  }
  const command = commands.find((known) => known.name === name);
  if (command === undefined)
    throw new UsageError(`no command '${name}'; there are ${commands.map((c) => c.name).join(', ')}`);
  if (asksForHelp || rest.includes('--help') || rest.includes('-h')) {
    processConsole.out(helpOf(command));
    return exitCodes.done;
  }
  return command.call(rest, processConsole).catch((error: unknown) => {
    if (error instanceof UsageError)
      throw new UsageError(`${error.message}\n${calledAs()} ${name} --help says how it is called.`);
    throw error;
  });
}

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

main(process.argv.slice(2)).then(
  (status) => {
    process.exitCode = status;
  },
  (error: unknown) => {
    const isUsage = error instanceof UsageError;
    processConsole.err(`waysheet: ${error instanceof Error ? error.message : String(error)}\n`);
    if (!isUsage && process.env['WAYSHEET_DEBUG'] !== undefined && error instanceof Error)
      processConsole.err(`${error.stack ?? ''}\n`);
    process.exitCode = isUsage ? exitCodes.usage : exitCodes.failed;
  },
);
