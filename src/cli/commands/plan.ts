import * as z from 'zod';
import { command, refusedStatus } from '../command.js';
import { text } from '../options.js';

export const planCommand = command({
  name: 'plan',
  summary: 'Say what the planned survey will be able to tell, and what would help',
  arguments: [{ name: 'JOB', what: 'job folder' }],
  options: z.object({
    phase: text('PHASE', 'Phase to plan. Default: as-left, if the job has it.'),
    pdf: text('FILE.pdf', 'Print it as one page, for an offer.'),
  }),
  examples: ['plan MY-JOB', 'plan MY-JOB --phase as-found', 'plan MY-JOB --pdf offer.pdf'],
  statuses: refusedStatus,
  async run({ arguments: [folder], options: { phase = null, pdf = null }, json, console }) {
    const { runPlan } = await import('../plan.js');
    return runPlan(folder!, { phase, pdf, json, console });
  },
});
