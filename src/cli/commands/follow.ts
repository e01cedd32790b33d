import * as z from 'zod';
import { command, refusedStatus } from '../command.js';
import { flag, text, whole } from '../options.js';

export const followCommand = command({
  name: 'follow',
  summary:
    'Keep a page up to date while readings are saved: what was read, what is wrong, what the readings say so far',
  arguments: [{ name: 'JOB', what: 'job folder' }],
  options: z.object({
    page: text('FILE.html', 'Where to write the page. Default: follow.html in the job folder.'),
    poll: whole('a number of seconds', 3600, 'SECONDS', 'Time between two looks at the files.').default(1),
    once: flag('Write the page once and end.'),
    'no-server': flag('Write the file alone, and serve nothing on this machine.'),
  }),
  examples: ['follow MY-JOB'],
  statuses: refusedStatus,
  async run({
    arguments: [folder],
    options: { page = null, once, poll, 'no-server': isFile },
    json,
    console,
  }) {
    const { runFollow } = await import('../follow.js');
    return runFollow(folder!, { page, once, server: !isFile, pollMs: 1000 * poll, json, console });
  },
});
