import { z } from 'zod';
import { command, refusedStatus } from '../command.js';
import { oneOf, text } from '../options.js';
import { referenceNames } from '../../survey/job/job-schema.js';

export const traceCommand = command({
  name: 'trace',
  summary: 'Follow a printed figure back to the cells that it came from',
  arguments: [
    { name: 'REPORT', what: 'report' },
    { name: 'WHAT', what: 'characteristic, such as straightness-vertical' },
    { name: 'RAIL', what: 'rail', isOptional: true },
  ],
  options: z.object({
    phase: text('PHASE', 'Phase of the figure. Default: the last one.'),
    reference: oneOf(referenceNames, 'LINE', `Reference line: ${referenceNames.join(', ')}.`).optional(),
    job: text('DIR', 'Job folder that holds the inputs, where the report does not carry them.'),
    page: text('FILE.html', 'Write the sum as a page too.'),
  }),
  details: ['REPORT is the folder of a report, its PDF, or a job folder.'],
  examples: [
    'trace out/TH-2031 straightness-vertical A',
    'trace report.pdf parallelism-horizontal B --page trace.html',
  ],
  statuses: refusedStatus,
  async run({ arguments: [report, what, rail = null], options, json, console }) {
    const { runTrace } = await import('../trace.js');
    const { phase = null, reference = null, job = null, page = null } = options;
    return runTrace(report!, { what: what!, rail, phase, reference, job, page, json, console });
  },
});
