import * as z from 'zod';
import { command, refusedStatus, UsageError } from '../command.js';
import { omissible, type Omissible } from '../../results/omissible.js';
import { exitCodes } from '../exit-codes.js';
import { day, flag, neededText, text } from '../options.js';

const isService = (text: string): boolean => URL.canParse(text) && /^https?:$/.test(new URL(text).protocol);

/** null: one of them is none. */
function namesIn(text = ''): Omissible[] | null {
  const names = text.split(',').map((name) => name.trim());
  const isKnown = (name: string): name is Omissible => (omissible as readonly string[]).includes(name);
  return text === '' ? [] : names.every(isKnown) ? names : null;
}

export const issueCommand = command({
  name: 'issue',
  summary:
    'Make a draft an issued report with number, signature and a line in the log; amend or withdraw one',
  arguments: [{ name: 'OUT/JOB', what: 'folder of a draft report' }],
  options: z.object({
    by: neededText('NAME', 'Who issues it.'),
    number: text(
      'N',
      'Number of the report; with --withdraw: the one that must lie there. Default: the job id, and a count.',
    ).refine((given) => given === undefined || /^\w[\w.-]{0,79}$/.test(given), {
      error: ({ input }) => `takes letters, digits, dots and hyphens, not '${String(input)}'`,
    }),
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
    timestamp: text(
      'URL',
      'With --certificate: a time stamp of this service (RFC 3161; PAdES baseline T). A service that cannot be reached is a warning.',
    ).refine((given) => given === undefined || isService(given), {
      error: ({ input }) =>
        `takes the address of a stamping service, http:// or https://, not '${String(input)}'`,
    }),
    without: text(
      omissible.join(','),
      'Issue a report that does not say who approved it, or lacks certificate or calibration due date of an instrument. Report and log then say so.',
    ).refine((given) => namesIn(given) !== null, {
      error: ({ input }) =>
        `takes ${omissible.join(' or ')} (or both, with a comma between), not '${String(input)}'`,
    }),
    job: text('DIR', 'Job folder that holds the inputs, where the PDF does not carry them.'),
  }),
  examples: [
    'issue out/TH-2031 --by "K. Orrin"',
    'issue out/drafts/TH-2031 --by "K. Orrin" --amends TH-2031 --because "Limit of rail B corrected."',
    'issue out/TH-2031 --by "K. Orrin" --withdraw --number TH-2031-1 --because "Surveyed with the wrong target."',
  ],
  statuses: { ...refusedStatus, [exitCodes.auditDifference]: 'the report does not pass its audit' },
  async run({ arguments: [folder], options, json, console }) {
    const { by, on = null, number = null, amends = null, because = null, withdraw, certificate } = options;
    const certificateKey = options['certificate-key'];
    if (withdraw && because === null) throw new UsageError('say why it is withdrawn: --because "…"');
    if ((certificate === undefined) !== (certificateKey === undefined))
      throw new UsageError('--certificate and --certificate-key belong together');
    if (options.timestamp !== undefined && certificate === undefined)
      throw new UsageError('--timestamp stamps the signature of --certificate: give both');
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
      without: namesIn(options.without) ?? [],
      timestamp: options.timestamp === undefined ? null : new URL(options.timestamp),
      job: options.job ?? null,
      json,
      console,
    });
  },
});
