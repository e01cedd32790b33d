import * as z from 'zod';
import { command } from '../command.js';
import { flag, language, seconds, text, textOr } from '../options.js';

export const watchCommand = command({
  name: 'watch',
  summary: 'Report jobs as they are dropped into a folder, and move each drop to done or refused',
  arguments: [{ name: 'DIR', what: 'folder that jobs are dropped into' }],
  options: z.object({
    out: textOr('out', 'DIR', 'Folder for the reports and the register.'),
    'no-pdf': flag('Make no PDF.'),
    poll: seconds(0.05, 3_600, 'Time between two looks. Default: 2.').default(2),
    settle: seconds(0, 86_400, 'Time without a change after which a drop is taken. Default: 10.').default(10),
    language: language(),
    once: flag('Take what is there and end (for cron).'),
    brand: text(
      'DIR',
      'The look of an office (brand.json: logo, colours, letterhead, footer, terms, font). Default: the folder brand in DIR, if there is one.',
    ),
  }),
  details: [
    'A drop is a job folder, a folder of job folders, or a zip of either. It is taken when nothing in it has changed for --settle seconds, reported as batch would, and moved to DIR/done, or to DIR/refused with NAME.problems.html next to it, a page to send back to the crew. Nothing there is ever overwritten. A drop of which some jobs are refused goes to refused; the page names those that were reported all the same.',
    'What looks half copied (a zip without its end, a job whose readings are missing) is waited for six settling times more. A CSV file whose copy stops at the end of a line cannot be told from a whole one: let --settle be longer than a copy ever pauses, or copy zips, or copy under a name that ends in .part and rename it.',
    'A job id that was reported before: an unchanged job leaves its report as it is; a changed one replaces the draft (an issued report stays, with a new draft next to it). DIR/tolerances is for tolerance sets that drops share ("tolerances": "../tolerances/set.json").',
    'Zips may hold 10 000 files and 1 GiB, and beyond 32 MiB no more than 200 times their packed size. Encrypted ones, and those with links, repeated names or names that lead elsewhere, are refused before anything is unpacked.',
    'Ended at any moment and started again, it goes on where it was. One watch at a time in DIR and in --out. With --json: one line per event.',
  ],
  examples: ['watch inbox --out out', 'watch inbox --once'],
  statuses: { 3: 'with --once: something was refused' },
  async run({ arguments: [inbox], options, json, console }) {
    const { watch } = await import('../watch.js');
    const { out, once, poll, settle, language, brand } = options;
    const pdf = !options['no-pdf'];
    return watch(inbox!, {
      ...{ out, pdf, brand, once, language, pollMs: 1000 * poll, settleMs: 1000 * settle, json, console },
    });
  },
});
