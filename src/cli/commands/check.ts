import { z } from 'zod';
import { command, refusedStatus, UsageError } from '../command.js';
import type { ExitCode } from '../exit-codes.js';
import { text } from '../options.js';

export const checkCommand = command({
  name: 'check',
  summary: 'Name every problem of a job with file, row and column, without making a report',
  arguments: [{ name: 'JOB', what: 'job folder', repeats: true }],
  options: z.object({
    page: text(
      'FILE.html',
      'Write the problems of the one job as a page, to send to whoever took the readings.',
    ),
  }),
  examples: ['check samples/TH-2031', 'check MY-JOB --page problems.html'],
  statuses: refusedStatus,
  async run({ arguments: folders, options: { page }, json }) {
    if (page !== undefined && folders.length !== 1) throw new UsageError('--page is for one job');
    const { runCheck } = await import('../check.js');
    const { stdout, stderr } = process;
    return (await runCheck(folders, { json, page, stdout, stderr })) as ExitCode;
  },
});
