/** One call of the program: finds the command and calls it. Each command's own code is loaded when it is called. */
import { VERSION } from '../base/version.js';
import { calledAs } from './called-as.js';
import { helpOf, UsageError, usageOf } from './command.js';
import { commands } from './commands.js';
import type { Console } from './console.js';
import { exitCodes, type ExitCode } from './exit-codes.js';

/**
 * @param argv Words after the program's name.
 * @returns The exit status. What goes wrong is said on the console; nothing is thrown.
 */
export async function runProgram(argv: readonly string[], console: Console): Promise<ExitCode> {
  try {
    return await call(argv, console);
  } catch (error) {
    const isUsage = error instanceof UsageError;
    console.err(`waysheet: ${error instanceof Error ? error.message : String(error)}\n`);
    if (!isUsage && process.env['WAYSHEET_DEBUG'] !== undefined && error instanceof Error)
      console.err(`${error.stack ?? ''}\n`);
    return isUsage ? exitCodes.usage : exitCodes.failed;
  }
}

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

async function call(argv: readonly string[], console: Console): Promise<ExitCode> {
  const [first, ...rest] = argv;
  if (first === '--version' || first === '-v') {
    console.out(`${VERSION}\n`);
    return exitCodes.done;
  }
  const asksForHelp = first === '--help' || first === '-h' || first === 'help';
  const name = asksForHelp ? rest[0] : first;
  if (name === undefined) {
    (asksForHelp ? console.out : console.err)(help());
    return asksForHelp ? exitCodes.done : exitCodes.usage;
  }
  const command = commands.find((known) => known.name === name);
  if (command === undefined)
    throw new UsageError(`no command '${name}'; there are ${commands.map((c) => c.name).join(', ')}`);
  if (asksForHelp || rest.includes('--help') || rest.includes('-h')) {
    console.out(helpOf(command));
    return exitCodes.done;
  }
  return command.call(rest, console).catch((error: unknown) => {
    if (error instanceof UsageError)
      throw new UsageError(`${error.message}\n${calledAs()} ${name} --help says how it is called.`);
    throw error;
  });
}
