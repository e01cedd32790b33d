import * as z from 'zod';
import { command, refusedStatus } from '../command.js';
import { questions } from '../new/questions.js';
import { flag, text } from '../options.js';

export const newCommand = command({
  name: 'new',
  summary:
    'Make a job folder to fill in, with a field sheet; ask what will be surveyed, or take it as options',
  arguments: [{ name: 'DIR', what: 'folder to make' }],
  options: z.object({
    ...Object.fromEntries(
      questions.map(({ flag: name, what }) => [name, text('TEXT', `${what({ asked: {} } as never)}.`)]),
    ),
    yes: flag('Ask nothing; what is not given is taken as usual.'),
    'no-pdf': flag('Make no PDF of the field sheet.'),
  }),
  examples: ['new MY-JOB', 'new MY-JOB --yes --units in --length 240'],
  statuses: refusedStatus,
  async run({ arguments: [folder], options, json, console }) {
    const { runNew } = await import('../new.js');
    const isTerminal = process.stdin.isTTY === true && process.stderr.isTTY === true;
    return runNew(folder!, {
      flags: options as Readonly<Record<string, string | boolean | undefined>>,
      terminal: isTerminal ? { input: process.stdin, output: process.stderr } : null,
      json,
      today: new Date().toISOString().slice(0, 10),
      console,
    });
  },
});
