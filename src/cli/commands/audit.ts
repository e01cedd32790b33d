import { z } from 'zod';
import { command, refusedStatus } from '../command.js';
import { exitCodes } from '../exit-codes.js';
import { flag, text, whole } from '../options.js';

export const auditCommand = command({
  name: 'audit',
  summary:
    'Prove that a report follows from its readings and that its pages say so, or say what was not compared',
  arguments: [{ name: 'PATH', what: 'issued report', repeats: true }],
  options: z.object({
    job: text('DIR', 'Job folder that holds the inputs, where the PDF does not carry them.'),
    tolerances: text('FILE', 'Tolerance set of a what-if report, where the report does not carry it.'),
    trust: text('DIR', 'Public keys and certificates (*.pem) against which signatures are verified.'),
    head: text('HASH', "SHA-256 of the log's last line, as it was noted in another place."),
    'no-print': flag('Do not print the pages again; they are then not compared.'),
    report: text('FILE', 'Write the audit as a page (.html) or a document (.pdf).'),
    sample: flag('Draw as many reports of an archive as ISO 2859-1 asks for.'),
    seed: whole('a whole number', 999_999_999, 'N', 'Seed of the sample.').default(1),
  }),
  details: ['PATH is the folder of a report, its PDF alone, or an output folder with its log.'],
  examples: ['audit out/TH-2031', 'audit report.pdf', 'audit out --trust keys --head 3f7a…'],
  statuses: {
    ...refusedStatus,
    [exitCodes.auditDifference]: 'something differs',
    [exitCodes.notCompared]: 'nothing differs, but not everything was compared',
  },
  async run({ arguments: paths, options, json, console }) {
    const { runAudit } = await import('../audit.js');
    const { job = null, tolerances = null, trust = null, head = null, report = null, sample, seed } = options;
    const print = !options['no-print'];
    return runAudit(paths, {
      job,
      tolerances,
      trust,
      head,
      print,
      report,
      sample: sample ? seed : null,
      json,
      console,
    });
  },
});
