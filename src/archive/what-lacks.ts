/** What a report should state and the job does not record. @see ISO/IEC 17025:2017, 7.8.2.1 (reports) and 6.5 (traceability). */
import type { Results } from '../results/results-schema.js';
import type { Omissible } from '../results/omissible.js';

type Recorded = Pick<Results, 'subject' | 'survey'>;

/** Instruments whose certificate or calibration due date is not recorded. */
const untraceable = ({ survey }: Recorded): string[] =>
  survey.instruments
    .filter(({ certificate, calibrationDue }) => !certificate || !calibrationDue)
    .map(({ id }) => id);

/** Without these no report is issued, unless they are named in `--without`. */
export function lacking(results: Recorded): Omissible[] {
  return [
    ...(results.subject.approved?.by ? [] : (['approver'] as const)),
    ...(untraceable(results).length > 0 ? (['traceability'] as const) : []),
  ];
}

/** How to record it. */
export const lackingWords = (what: Omissible, results: Recorded): string =>
  what === 'approver'
    ? 'who approved the report: "approved": { "by", "on" } in job.json'
    : `certificate and calibration due date of ${untraceable(results).join(', ')}: "certificate", "calibrationDue" of the instrument in job.json`;

/** What else should be stated; a report may be issued without it. */
export function unrecorded({ subject }: Recorded): string[] {
  const expected: [string, unknown][] = [
    ['who issues it (issuer)', subject.issuer],
    ["the issuer's address (contacts.issuer)", subject.contacts?.issuer],
    ['the customer (customer)', subject.customer],
    ["the customer's address (contacts.customer)", subject.contacts?.customer],
    ['the site (site)', subject.site],
    ['the machine and its serial number (machine)', subject.machine.name && subject.machine.serial],
    ['who surveyed, and when (surveyed)', subject.surveyed.by && subject.surveyed.on],
    ['by which procedure (procedure)', subject.procedure],
  ];
  return expected.flatMap(([what, known]) => (known ? [] : [what]));
}
