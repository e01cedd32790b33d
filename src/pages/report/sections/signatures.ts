/** Who did, checked and accepted the work: what the job records is filled in, the rest is left to sign. */
import type { Results } from '../../../results/results-schema.js';
import type { Words } from '../../words/words.js';

export interface Signature {
  readonly act: string;
  readonly name: string;
  readonly role: string;
  readonly date: string;
}

/** How an electronic signature is to be checked; '' where there is none. */
export function electronicSignature({ issue }: Results, { say }: Words): string {
  if (issue?.certificate === undefined) return '';
  const { subject, issuer } = issue.certificate;
  return say('sign.electronic', { subject, issuer });
}

export function signatures({ subject, whatIf, issue }: Results, { say, day }: Words): Signature[] {
  const signed = (
    act: string,
    who: { by?: string | null; on?: string | null; role?: string | null } = {},
  ): Signature => ({ act, name: who.by ?? '', role: who.role ?? '', date: day(who.on ?? '') });
  const done = [
    signed(say('sign.surveyed'), subject.surveyed),
    signed(say('sign.prepared'), subject.prepared),
  ];
  // What if is nothing to be accepted.
  if (whatIf !== undefined) return done;
  return [
    ...done,
    signed(say('sign.approved'), subject.approved),
    ...(issue === undefined ? [] : [signed(say('sign.issued'), issue)]),
    signed(say('sign.customer')),
  ];
}
