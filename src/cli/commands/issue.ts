import { z } from 'zod';
import { command, refusedStatus, UsageError } from '../command.js';
import { exitCodes } from '../exit-codes.js';
import { day, flag, neededText, text } from '../options.js';

export const issueCommand = command({
  name: 'issue',
  summary:
    'Make a draft an issued report with number, signature and a line in the log; amend or withdraw one',
  arguments: [{ name: 'OUT/JOB', what: 'folder of a draft report' }],
  options: z.object({
    by: neededText('NAME', 'Who issues it.'),
    number: text('N', 'Number of the report. Default: the job id.').refine(
      (given) => given === undefined || /^\w[\w.-]{0,79}$/.test(given),
      { error: ({ input }) => `takes letters, digits, dots and hyphens, not '${String(input)}'` },
    ),
    on: day('Day of issue. Default: today.').optional(),
    amends: text('N', 'Number of the issued report that this one replaces.'),
    because: text('TEXT', 'Why it is amended or withdrawn.'),
    withdraw: flag('Withdraw the issued report.'),
    key: text(
      'FILE.pem',
      'Sign manifest and log with this Ed25519 key (PKCS #8). The variable WAYSHEET_SIGNING_KEY may hold it instead.',
    ),
    certificate: text(
      'FILE.pem',
      "Sign the PDF (PAdES baseline B) with the office's RSA certificate, followed by those of its issuers.",
    ),
    'certificate-key': text('FILE.pem', 'Private key of the certificate.'),
    job: text('DIR', 'Job folder that holds the inputs, where the PDF does not carry them.'),
  }),
  examples: [
    'issue out/TH-2031 --by "K. Orrin"',
    'issue out/drafts/TH-2031 --by "K. Orrin" --amends TH-2031 --because "Limit of rail B corrected."',
    'issue out/TH-2031 --by "K. Orrin" --withdraw --because "Surveyed with the wrong target."',
  ],
  statuses: { ...refusedStatus, [exitCodes.auditDifference]: 'the draft does not pass its audit' },
  async run({ arguments: [folder], options, json, console }) {
    const { by, on = null, number = null, amends = null, because = null, withdraw, certificate } = options;
    const certificateKey = options['certificate-key'];
    if (withdraw && because === null) throw new UsageError('say why it is withdrawn: --because "…"');
    if ((certificate === undefined) !== (certificateKey === undefined))
      throw new UsageError('--certificate and --certificate-key belong together');
    const { runIssue } = await import('../issue.js');
    return runIssue(folder!, {
      by,
      on,
      number,
      amends,
      because,
      withdraw,
      keyFile: options.key ?? null,
      certificate: certificate === undefined ? null : { file: certificate, keyFile: certificateKey! },
      job: options.job ?? null,
      json,
      console,
    });
  },
});
