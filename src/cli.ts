#!/usr/bin/env node
/** The command line: which command, with which options. Each command's own code is loaded when it is called. */
import { parseArgs, type ParseArgsConfig } from 'node:util';
import { calledAs } from './cli/called-as.js';
import { processConsole } from './cli/console.js';
import { wholeNumber } from './cli/whole-number.js';
import { exitCodes, type ExitCode } from './cli/exit-codes.js';
import { VERSION } from './base/version.js';

const help = `waysheet ${VERSION}: rail-alignment readings to acceptance reports

  waysheet report JOB… [--out DIR] [--no-pdf] [--limit SECONDS] [--tolerances FILE]
                                                one folder of deliverables a job (default --out out)
  waysheet check JOB… [--all] [--fix] [--page FILE.html]
                                                validation alone, on one screen; --all: every finding; --fix: asks
                                                before each change of job.json, and who confirms what is right;
                                                --page: to send to the crew
  waysheet batch DIR [--out DIR] [--jobs N] [--shard i/n] [--no-pdf] [--limit SECONDS] [--anew] [--tolerances FILE]
                     [--against OLD-OUT]
                                                every job folder under DIR that changed, and a register
  waysheet merge OUT… [--out DIR] [--of DIR]    the registers of several shards as one
  waysheet watch DIR [--out DIR] [--no-pdf] [--poll SECONDS] [--settle SECONDS] [--once]
                                                an inbox: folders and zips dropped into DIR are reported as they
                                                arrive, and moved to DIR/done or DIR/refused
  waysheet audit PATH… [--job DIR] [--no-print] [--trust DIR] [--head HASH] [--sample [--seed N]] [--report FILE]
                                                does a report still follow from its readings, and do its pages say
                                                so? PATH: a report's folder, its PDF, or an output folder with its log
  waysheet issue OUT/JOB --by NAME [--number N] [--on DAY] [--key FILE.pem]
                                                a draft becomes an issued report, entered into OUT/issued.jsonl;
                                                --amends N --because TEXT: in place of an issued one;
                                                --withdraw --because TEXT: it counts no more
  waysheet trace REPORT WHAT [RAIL] [--phase PHASE] [--reference LINE] [--job DIR] [--page FILE.html]
                                                from a printed figure back to the cells it came from
  waysheet new DIR                              a job folder to fill in, with a field sheet (asks, or takes flags)
  waysheet form JOB [--page FILE.html]          job.json as a page to fill in, in a browser, offline
  waysheet follow JOB [--page FILE.html] [--poll SECONDS] [--once]
                                                a page that renews itself as readings are saved: how far the survey
                                                is, what is wrong so far, what the readings say by now
  waysheet plan JOB [--phase PHASE]             what the planned survey will be able to tell, and what would help
  waysheet aim --near 14in --travel 96in --far 0.012in
                                                the set point that makes a beam run true to a rail

  --key FILE.pem      signs the manifest with an Ed25519 key (PKCS #8); WAYSHEET_SIGNING_KEY may hold it instead
  --certificate FILE.pem --certificate-key FILE.pem
                      signs the PDF (PAdES baseline B) with the office's RSA certificate, its issuers behind it
  --trust DIR         public keys (*.pem) that signatures are held against; --head: SHA-256 of the log's last line as
                      it was noted elsewhere; --no-print: the pages are not printed again, nor compared;
                      --sample: as many reports of an archive as ISO 2859-1 asks for, drawn with a seed, and what they
                      say of the whole; --report FILE.html or FILE.pdf: what was audited, and what differs
  --tolerances FILE   a tolerance set in place of the jobs' own: what-if reports, in a folder of their own
  --against OLD-OUT   lists what changed against the reports there, and why: changes.html, .csv, .json, .pdf
  --json          machine-readable output on standard output
  --help, --version

JOB is a folder with a job.json. Examples:
  waysheet check samples/TH-2031
  waysheet report samples/* --out out

Exit status: 0 done, 2 wrong usage, 3 input refused, 4 audit found a difference,
5 nothing differs, but not everything was compared, 1 anything else.
WAYSHEET_BROWSER names a Chrome or Chromium to print with, in place of the packed one.
`;

class UsageError extends Error {}

type Options = NonNullable<ParseArgsConfig['options']>;

/** Values that begin with a minus and a digit belong to the option before them. */
const joinNegatives = (args: readonly string[]): string[] =>
  args.reduce<string[]>((joined, arg) => {
    const before = joined[joined.length - 1];
    if (/^-[\d.]/.test(arg) && before !== undefined && /^--[a-z]+$/.test(before))
      joined[joined.length - 1] = `${before}=${arg}`;
    else joined.push(arg);
    return joined;
  }, []);

function parse<O extends Options>(args: readonly string[], options: O) {
  try {
    return parseArgs({
      args: joinNegatives(args),
      options: { ...options, json: { type: 'boolean' } },
      allowPositionals: true,
      strict: true,
    });
  } catch (cause) {
    throw new UsageError((cause as Error).message.split('. ')[0]!, { cause });
  }
}

const isDay = (text: string): boolean =>
  /^\d{4}-\d{2}-\d{2}$/.test(text) &&
  !Number.isNaN(Date.parse(text)) &&
  new Date(text).toISOString().startsWith(text);

function one(positionals: readonly string[], what: string): string {
  if (positionals.length !== 1) throw new UsageError(`name one ${what}`);
  return positionals[0]!;
}

function some(positionals: readonly string[], what: string): readonly string[] {
  if (positionals.length === 0) throw new UsageError(`name at least one ${what}`);
  return positionals;
}

/** @throws {UsageError} for a value that is none of them. */
function oneOf<T extends string>(known: readonly T[], value: unknown, option: string): T | null {
  if (value === undefined) return null;
  const found = known.find((k) => k === value);
  if (found === undefined)
    throw new UsageError(`${option} is one of ${known.join(', ')}, not '${String(value)}'`);
  return found;
}

function none(positionals: readonly string[]): void {
  if (positionals.length > 0) throw new UsageError(`unexpected '${positionals[0]}'`);
}

const commands: Readonly<Record<string, (args: readonly string[]) => Promise<ExitCode>>> = {
  async report(args) {
    const { values, positionals } = parse(args, {
      out: { type: 'string' },
      'no-pdf': { type: 'boolean' },
      tolerances: { type: 'string' },
      limit: { type: 'string' },
    });
    const limit = wholeNumber(values.limit as string | undefined, 300, 86_400);
    if (limit === null)
      throw new UsageError(
        `--limit takes a number of seconds from 1 to 86400, not '${values.limit as string}'`,
      );
    const { runReport } = await import('./cli/report.js');
    return runReport(some(positionals, 'job folder'), {
      out: (values.out as string | undefined) ?? 'out',
      pdf: values['no-pdf'] !== true,
      tolerances: (values.tolerances as string | undefined) ?? null,
      limit,
      json: values.json === true,
      console: processConsole,
    });
  },
  async check(args) {
    const { values, positionals } = parse(args, {
      page: { type: 'string' },
      all: { type: 'boolean' },
      fix: { type: 'boolean' },
    });
    const page = values.page as string | undefined;
    if (page !== undefined && positionals.length !== 1) throw new UsageError('--page is of one job');
    const isTerminal = process.stdin.isTTY === true && process.stdout.isTTY === true;
    if (values.fix === true && values.json === true)
      throw new UsageError('--fix asks, so it cannot be used with --json');
    if (values.fix === true && !isTerminal)
      throw new UsageError('--fix asks before it changes job.json, so it needs a terminal');
    const { runCheck } = await import('./cli/check.js');
    const status = await runCheck(some(positionals, 'job folder'), {
      json: values.json === true,
      all: values.all === true,
      fix: values.fix === true ? { input: process.stdin, output: process.stdout } : null,
      page,
      stdout: process.stdout,
      stderr: process.stderr,
    });
    return status as ExitCode;
  },
  async new(args) {
    const { newFlags, runNew } = await import('./cli/new.js');
    const { values, positionals } = parse(args, newFlags);
    const isTerminal = process.stdin.isTTY === true && process.stderr.isTTY === true;
    return runNew(one(positionals, 'folder to make'), {
      flags: values,
      terminal: isTerminal ? { input: process.stdin, output: process.stderr } : null,
      json: values['json'] === true,
      today: new Date().toISOString().slice(0, 10),
      console: processConsole,
    });
  },
  async form(args) {
    const { values, positionals } = parse(args, { page: { type: 'string' } });
    const { runForm } = await import('./cli/form.js');
    return runForm(one(positionals, 'job folder'), {
      page: values.page as string | undefined,
      json: values.json === true,
      console: processConsole,
    });
  },
  async audit(args) {
    const { values, positionals } = parse(args, {
      job: { type: 'string' },
      tolerances: { type: 'string' },
      trust: { type: 'string' },
      head: { type: 'string' },
      'no-print': { type: 'boolean' },
      report: { type: 'string' },
      sample: { type: 'boolean' },
      seed: { type: 'string' },
    });
    const seed = wholeNumber(values.seed as string | undefined, 1, 999_999_999);
    if (seed === null) throw new UsageError(`--seed wants a whole number, not '${String(values.seed)}'`);
    const { runAudit } = await import('./cli/audit.js');
    return runAudit(some(positionals, 'issued report'), {
      job: (values.job as string | undefined) ?? null,
      tolerances: (values.tolerances as string | undefined) ?? null,
      trust: (values.trust as string | undefined) ?? null,
      head: (values.head as string | undefined) ?? null,
      print: values['no-print'] !== true,
      report: (values.report as string | undefined) ?? null,
      sample: values.sample === true ? seed : null,
      json: values.json === true,
      console: processConsole,
    });
  },
  async issue(args) {
    const { values, positionals } = parse(args, {
      by: { type: 'string' },
      on: { type: 'string' },
      number: { type: 'string' },
      amends: { type: 'string' },
      because: { type: 'string' },
      withdraw: { type: 'boolean' },
      key: { type: 'string' },
      certificate: { type: 'string' },
      'certificate-key': { type: 'string' },
      job: { type: 'string' },
    });
    const text = (name: keyof typeof values) => (values[name] as string | undefined) ?? null;
    const by = text('by');
    if (by === null || by.trim() === '') throw new UsageError('say who issues it: --by NAME');
    const on = text('on');
    if (on !== null && !isDay(on)) throw new UsageError(`--on wants a day such as 2026-03-16, not '${on}'`);
    if (values.withdraw === true && text('because') === null)
      throw new UsageError('say why it is withdrawn: --because "…"');
    const number = text('number');
    if (number !== null && !/^[\w][\w.-]{0,79}$/.test(number))
      throw new UsageError(`--number wants letters, digits, dots and hyphens, not '${number}'`);
    const [certificate, keyFile] = [text('certificate'), text('certificate-key')];
    if ((certificate === null) !== (keyFile === null))
      throw new UsageError('--certificate and --certificate-key belong together');
    const { runIssue } = await import('./cli/issue.js');
    return runIssue(one(positionals, 'folder of a draft report'), {
      by,
      on,
      number,
      amends: text('amends'),
      because: text('because'),
      withdraw: values.withdraw === true,
      keyFile: text('key'),
      certificate: certificate === null ? null : { file: certificate, keyFile: keyFile! },
      job: text('job'),
      json: values.json === true,
      console: processConsole,
    });
  },
  async follow(args) {
    const { values, positionals } = parse(args, {
      page: { type: 'string' },
      once: { type: 'boolean' },
      poll: { type: 'string' },
    });
    const poll = wholeNumber(values.poll as string | undefined, 1, 3600);
    if (poll === null) throw new UsageError(`--poll wants whole seconds, not '${String(values.poll)}'`);
    const { runFollow } = await import('./cli/follow.js');
    return runFollow(one(positionals, 'job folder'), {
      page: (values.page as string | undefined) ?? null,
      once: values.once === true,
      pollMs: 1000 * poll,
      json: values.json === true,
      console: processConsole,
    });
  },
  async trace(args) {
    const { values, positionals } = parse(args, {
      phase: { type: 'string' },
      reference: { type: 'string' },
      job: { type: 'string' },
      page: { type: 'string' },
    });
    const [report, what, rail, ...more] = positionals;
    none(more);
    if (report === undefined || what === undefined)
      throw new UsageError('name a report and a characteristic, such as straightness-vertical A');
    const { referenceNames } = await import('./survey/job/job-schema.js');
    const { runTrace } = await import('./cli/trace.js');
    return runTrace(report, {
      what,
      rail: rail ?? null,
      phase: (values.phase as string | undefined) ?? null,
      reference: oneOf(referenceNames, values.reference, '--reference'),
      job: (values.job as string | undefined) ?? null,
      page: (values.page as string | undefined) ?? null,
      json: values.json === true,
      console: processConsole,
    });
  },
  async batch(args) {
    const { batch, batchOptions } = await import('./cli/batch.js');
    const { values, positionals } = parse(args, batchOptions);
    return batch(one(positionals, 'folder of jobs'), { values, console: processConsole });
  },
  async watch(args) {
    const { watch, watchOptions } = await import('./cli/watch.js');
    const { values, positionals } = parse(args, watchOptions);
    return watch(one(positionals, 'folder that jobs are dropped into'), { values, console: processConsole });
  },
  async merge(args) {
    const { merge, mergeOptions } = await import('./cli/merge.js');
    const { values, positionals } = parse(args, mergeOptions);
    return merge(some(positionals, 'output folder'), { values, console: processConsole });
  },
  async plan(args) {
    const { values, positionals } = parse(args, { phase: { type: 'string' } });
    const { runPlan } = await import('./cli/plan.js');
    return runPlan(one(positionals, 'job folder'), {
      phase: (values.phase as string | undefined) ?? null,
      json: values.json === true,
      console: processConsole,
    });
  },
  async aim(args) {
    const { values, positionals } = parse(args, {
      near: { type: 'string' },
      travel: { type: 'string' },
      far: { type: 'string' },
    });
    none(positionals);
    const { near, travel, far } = values as Record<string, string | undefined>;
    if (near === undefined || travel === undefined || far === undefined)
      throw new UsageError('aim needs --near, --travel and --far');
    const { runAim } = await import('./cli/aim.js');
    return runAim({ near, travel, far, json: values.json === true, console: processConsole });
  },
};

async function main(argv: readonly string[]): Promise<ExitCode> {
  const [name, ...rest] = argv;
  if (name === '--version' || name === '-v') {
    processConsole.out(`${VERSION}\n`);
    return exitCodes.done;
  }
  if (
    name === undefined ||
    name === '--help' ||
    name === '-h' ||
    name === 'help' ||
    rest.includes('--help')
  ) {
    (name === undefined ? processConsole.err : processConsole.out)(help);
    return name === undefined ? exitCodes.usage : exitCodes.done;
  }
  const command = Object.hasOwn(commands, name) ? commands[name] : undefined;
  if (command === undefined)
    throw new UsageError(`no command '${name}'; there are ${Object.keys(commands).join(', ')}`);
  return command(rest);
}

// A full disk, or a reader that has gone: whatever is not written cannot be mended by going on.
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
    const message = error instanceof Error ? error.message : String(error);
    processConsole.err(
      `waysheet: ${message}${isUsage ? `\n${calledAs()} --help says how it is called.` : ''}\n`,
    );
    if (!isUsage && process.env['WAYSHEET_DEBUG'] !== undefined && error instanceof Error)
      processConsole.err(`${error.stack ?? ''}\n`);
    process.exitCode = isUsage ? exitCodes.usage : exitCodes.failed;
  },
);
