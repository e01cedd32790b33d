/** Who did, checked and accepted the work: what the job records is filled in, the rest is left to sign. */
import type { Results } from '../../../results/results-schema.js';

export interface Signature {
  readonly act: string;
  readonly name: string;
  readonly role: string;
  readonly date: string;
}

/** How an electronic signature is to be checked; '' where there is none. */
export function electronicSignature({ issue }: Results): string {
  if (issue?.certificate === undefined) return '';
  const { subject, issuer } = issue.certificate;
  return `Signed electronically by ${subject}, certified by ${issuer}. The signature is in the PDF file, not on paper: a PDF reader that verifies signatures tells whether the file is unchanged and whose it is.`;
}

/** @param signatories Of the office: who may approve. */
export function signatures(
  { subject, whatIf, issue }: Results,
  signatories: readonly { readonly name: string; readonly role: string }[] = [],
): Signature[] {
  const done = [signed('Surveyed by', subject.surveyed), signed('Prepared by', subject.prepared)];
  // What if is nothing to be accepted.
  if (whatIf !== undefined) return done;
  return [
    ...done,
    ...(subject.approved?.by || signatories.length === 0
      ? [signed('Approved by', subject.approved)]
      : signatories.map(({ name, role }) => signed('Approved by', { by: name, role }))),
    ...(issue === undefined ? [] : [signed('Issued by', issue)]),
    signed('For the customer'),
  ];
}

const signed = (
  act: string,
  who: { by?: string | null; on?: string | null; role?: string | null } = {},
): Signature => ({ act, name: who.by ?? '', role: who.role ?? '', date: who.on ?? '' });
