import * as z from 'zod';
import { command, refusedStatus, UsageError } from '../command.js';
import { columnNames, columns } from '../../survey/job/columns.js';
import type { ExitCode } from '../exit-codes.js';
import { flag, text } from '../options.js';

export const checkCommand = command({
  name: 'check',
  summary: 'Name every problem of a job with file, row and column, without making a report',
  arguments: [{ name: 'JOB', what: 'job folder', repeats: true }],
  options: z.object({
    all: flag('Print every finding; without it the screen has the worst ten lines.'),
    fix: flag('Ask about each change of job.json that ends a finding, and about each confirmation.'),
    leave: flag('May the crew go? What is read, what to read again, which tolerances are decided.'),
    page: text(
      'FILE.html',
      'Write the problems of the one job as a page, to send to whoever took the readings.',
    ),
  }),
  lists: {
    'Columns of readings files, with the kinds of files that have them': columnNames.map((name) => [
      name,
      `${columns[name].meaning} (${columns[name].kinds.join(', ')})`,
    ]),
  },
  examples: [
    'check samples/TH-2031',
    'check MY-JOB --fix',
    'check MY-JOB --leave',
    'check MY-JOB --page problems.html',
  ],
  statuses: refusedStatus,
  async run({ arguments: folders, options: { all, fix, leave, page }, json, console }) {
    const { stdin, stdout } = process;
    if (page !== undefined && folders.length !== 1) throw new UsageError('--page is for one job');
    if (leave && (all || fix || page !== undefined))
      throw new UsageError('--leave is a screen of its own: without --all, --fix and --page');
    if (fix && json) throw new UsageError('--fix asks, so it cannot be used with --json');
    if (fix && !(stdin.isTTY === true && stdout.isTTY === true))
      throw new UsageError('--fix asks before it changes job.json, so it needs a terminal');
    const { runCheck } = await import('../check.js');
    const terminal = fix ? { input: stdin, output: stdout } : null;
    const { out, err, columns } = console;
    const sinks = { stdout: { write: out, columns }, stderr: { write: err } };
    return (await runCheck(folders, { json, all, leave, fix: terminal, page, ...sinks })) as ExitCode;
  },
});
