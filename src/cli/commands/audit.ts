import { randomInt } from 'node:crypto';
import * as z from 'zod';
import { command, refusedStatus } from '../command.js';
import { exitCodes } from '../exit-codes.js';
import { day, flag, text, whole } from '../options.js';
import { today } from '../today.js';

const MOST_SEED = 999_999_999;

export const auditCommand = command({
  name: 'audit',
  summary:
    'Prove that a report follows from its readings and that its pages say so, or say what was not compared',
  arguments: [{ name: 'PATH', what: 'issued report', repeats: true }],
  options: z.object({
    job: text('DIR', 'Job folder against which the inputs are held.'),
    tolerances: text('FILE', 'Tolerance set of a what-if report, where the report does not carry it.'),
    trust: text('DIR', 'Public keys and certificates (*.pem, *.crt) against which signatures are verified.'),
    head: text('HASH', "SHA-256 of the log's last line, as it was noted in another place."),
    log: text('PATH', 'Log of issued reports, or its folder, where it is not next to the reports.'),
    'no-log': flag('Where no log is found, do not ask whether a report was amended or withdrawn since.'),
    on: day('Say which reports were in force on that day.').optional(),
    by: text('NAME', 'Who audits; stated in the answer.'),
    'no-register': flag('Do not compare register and changes; what they say is then not proven.'),
    'no-print': flag('Do not print the pages again; they are then not compared.'),
    report: text('FILE', 'Write the audit as a page (.html) or a document (.pdf).'),
    sample: flag('Draw as many reports of an archive as ISO 2859-1 asks for.'),
    seed: whole(
      'a whole number',
      MOST_SEED,
      'N',
      'Seed of the sample; default: drawn anew, and printed.',
    ).optional(),
  }),
  details: [
    'PATH is the folder of a report, its PDF alone, or an output folder with its log.',
    'Three statements are each proven, or differ, or are not compared: the figures follow from the readings; the pages are those that these figures make; who vouches for it.',
    'A report of another version: samples/recipes/audit-old.sh runs the version that made it.',
  ],
  examples: ['audit out/TH-2031', 'audit report.pdf', 'audit out --trust keys --head 3f7a…'],
  statuses: {
    ...refusedStatus,
    [exitCodes.auditDifference]: 'something differs',
    [exitCodes.notCompared]: 'nothing differs, but not everything was compared',
  },
  async run({ arguments: paths, options, json, console }) {
    const { runAudit } = await import('../audit.js');
    const { job = null, tolerances = null, trust = null, head = null, report = null } = options;
    const { log = null, on = null, by = null, sample, seed } = options;
    return runAudit(paths, {
      ...{ job, tolerances, trust, head, log, on, by, report, json, console },
      day: today(),
      print: !options['no-print'],
      register: !options['no-register'],
      askLog: !options['no-log'],
      // A seed that is known beforehand tells a forger which reports will not be drawn.
      sample: sample ? (seed ?? randomInt(1, MOST_SEED)) : null,
    });
  },
});
