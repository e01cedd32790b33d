import * as z from 'zod';
import { command, refusedStatus, UsageError } from '../command.js';
import { flag, text } from '../options.js';

export const mergeCommand = command({
  name: 'merge',
  summary: 'Join the registers of several parts of an archive into one',
  arguments: [{ name: 'OUT', what: 'output folder', repeats: true }],
  options: z.object({
    out: text('DIR', 'Folder for the joined register. Default: the one OUT.'),
    of: text('DIR', 'Folder of jobs: every job folder under it must be there.'),
    list: text('FILE', 'Text file with the id of every job that must be there, one per line.'),
    'no-pdf': flag('Make no PDF of the register.'),
  }),
  examples: ['merge out-1 out-2 --out out --of jobs'],
  statuses: { ...refusedStatus, 1: 'a job is missing, nothing was written; or failed' },
  async run({ arguments: outs, options: { out, of, list, ...rest }, json, console }) {
    if (outs.length > 1 && out === undefined)
      throw new UsageError('of several output folders, --out says where the merged register goes');
    const { merge } = await import('../merge.js');
    return merge(outs, { out: out ?? outs[0]!, of, list, pdf: !rest['no-pdf'], json, console });
  },
});
