import * as z from 'zod';
import { command, refusedStatus } from '../command.js';
import { text } from '../options.js';

export const formCommand = command({
  name: 'form',
  summary: 'Make a page on which job.json can be filled in, in a browser, offline',
  arguments: [{ name: 'JOB', what: 'job folder' }],
  options: z.object({
    page: text('FILE.html', 'Where to write the page. Default: form.html in the job folder.'),
  }),
  examples: ['form MY-JOB'],
  statuses: refusedStatus,
  async run({ arguments: [folder], options: { page }, json, console }) {
    const { runForm } = await import('../form.js');
    return runForm(folder!, { page, json, console });
  },
});
