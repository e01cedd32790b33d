import { z } from 'zod';
import { command, refusedStatus } from '../command.js';
import { text } from '../options.js';

export const planCommand = command({
  name: 'plan',
  summary: 'Say what the planned survey will be able to tell, and what would help',
  arguments: [{ name: 'JOB', what: 'job folder' }],
  options: z.object({ phase: text('PHASE', 'Phase to plan. Default: as-left, if the job has it.') }),
  examples: ['plan MY-JOB', 'plan MY-JOB --phase as-found'],
  statuses: refusedStatus,
  async run({ arguments: [folder], options: { phase = null }, json, console }) {
    const { runPlan } = await import('../plan.js');
    return runPlan(folder!, { phase, json, console });
  },
});
