import * as z from 'zod';
import { command, refusedStatus } from '../command.js';
import { flag, language, text, textOr, whole } from '../options.js';

export const reportCommand = command({
  name: 'report',
  summary: 'Make the acceptance report of each job: one folder of deliverables per job',
  arguments: [{ name: 'JOB', what: 'job folder', repeats: true }],
  options: z.object({
    out: textOr('out', 'DIR', 'Folder for the reports.'),
    'no-pdf': flag('Make no PDF; everything else is made.'),
    limit: whole('a number of seconds', 86_400, 'SECONDS', 'Time that one job may take.').default(300),
    language: language(),
    tolerances: text(
      'FILE',
      'Judge the jobs by this tolerance set in place of their own. The reports are marked as what-if reports and need an output folder of their own.',
    ),
    brand: text(
      'DIR',
      'The look of an office (brand.json: logo, colours, letterhead, footer, terms, font). Default: the folder brand next to the first job, if there is one.',
    ),
  }),
  examples: [
    'report samples/TH-2031',
    'report samples/* --out out',
    'report JOB --language de',
    'report JOB --tolerances stricter.json --out what-if',
  ],
  statuses: refusedStatus,
  async run({ arguments: folders, options, json, console }) {
    const { runReport } = await import('../report.js');
    const { out, limit, language, tolerances = null, brand } = options;
    const pdf = !options['no-pdf'];
    return runReport(folders, { out, pdf, tolerances, brand, language, limit, json, console });
  },
});
