import * as z from 'zod';
import { command, refusedStatus } from '../command.js';
import { oneOf, text } from '../options.js';
import { referenceNames } from '../../survey/job/job-schema.js';

export const traceCommand = command({
  name: 'trace',
  summary: 'Follow a printed figure back to the cells that it came from',
  arguments: [
    { name: 'REPORT', what: 'report' },
    { name: 'WHAT', what: 'characteristic: its printed name, or a code such as straightness-vertical' },
    { name: 'RAIL', what: 'rail', isOptional: true },
  ],
  options: z.object({
    phase: text('PHASE', 'Phase of the figure. Default: the last one.'),
    reference: oneOf(referenceNames, 'LINE', `Reference line: ${referenceNames.join(', ')}.`).optional(),
    over: text('LENGTH', 'Length of the window, such as 2000, in the job’s unit, or 2m.'),
    between: text('PLACES', 'Working length, such as "0 to 5000" or "0 to 5 m".'),
    against: text('RAIL', 'The other rail of a pair.'),
    job: text('DIR', 'Job folder that holds the inputs, where the report does not carry them.'),
    page: text('FILE.html', 'Write the sum as a page too.'),
  }),
  details: [
    'REPORT is the folder of a report, its PDF, or a job folder.',
    'Where several figures fit, one with a limit is taken first, then the one without any condition; else they are listed, each with the name to type.',
  ],
  examples: [
    'trace out/TH-2031 straightness-vertical A',
    'trace out/TH-2031 "Straightness, vertical, rail A"',
    'trace report.pdf parallelism-horizontal B --page trace.html',
  ],
  statuses: refusedStatus,
  async run({ arguments: [report, what, rail = null], options, json, console }) {
    const { runTrace } = await import('../trace.js');
    const { phase = null, reference = null, over = null, between = null, against = null } = options;
    const { job = null, page = null } = options;
    const wanted = { what: what!, rail, phase, reference, over, between, against };
    return runTrace(report!, { ...wanted, job, page, json, console });
  },
});
