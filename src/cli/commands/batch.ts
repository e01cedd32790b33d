import { availableParallelism } from 'node:os';
import * as z from 'zod';
import { parseShard } from '../../archive/shard.js';
import { command, refusedStatus, UsageError } from '../command.js';
import { flag, language, text, textOr, whole } from '../options.js';

export const batchCommand = command({
  name: 'batch',
  summary: 'Report every job folder under a folder that changed, and write a register',
  arguments: [{ name: 'DIR', what: 'folder of jobs' }],
  options: z.object({
    out: textOr('out', 'DIR', 'Folder for the reports and the register.'),
    jobs: whole('a number of processes', 256, 'N', 'Worker processes. Default: one per core.').optional(),
    shard: text('i/n', 'Report only part i of n of the archive; merge joins the parts.'),
    'no-pdf': flag('Make no PDF.'),
    limit: whole('a number of seconds', 86_400, 'SECONDS', 'Time that one job may take.').default(300),
    anew: flag('Report also what did not change.'),
    language: language(),
    tolerances: text('FILE', 'Judge every job by this tolerance set in place of its own: what-if reports.'),
    against: text(
      'OLD-OUT',
      'List what differs from the reports there, and why: changes.html, .csv, .json, .pdf.',
    ),
    brand: text(
      'DIR',
      'The look of an office (brand.json: logo, colours, letterhead, footer, terms, font). Default: the folder brand in DIR, if there is one.',
    ),
  }),
  examples: ['batch jobs --out out', 'batch jobs --tolerances stricter.json --out what-if --against out'],
  statuses: { ...refusedStatus, 3: 'at least one job was refused' },
  async run({ arguments: [root], options, json, console }) {
    const { jobs = availableParallelism(), limit, out, anew, language, tolerances, brand, against } = options;
    const shard = options.shard === undefined ? null : parseShard(options.shard);
    if (options.shard !== undefined && shard === null)
      throw new UsageError(`--shard takes i/n with i from 1 to n, not '${options.shard}'`);
    if (shard !== null && against !== undefined)
      throw new UsageError(
        '--against compares a whole archive: report its parts first, then run without --shard, which leaves them as they are',
      );
    const { batch } = await import('../batch.js');
    const pdf = !options['no-pdf'];
    return batch(root!, {
      ...{ out, workers: jobs, limit, shard, pdf, anew, language },
      ...{ tolerances, brand, against, json, console },
    });
  },
});
