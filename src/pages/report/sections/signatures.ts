/** Who did, checked and accepted the work: recorded names are filled in, the rest is blank for signatures. */
import type { Results } from '../../../results/results-schema.js';
import type { Words } from '../../words/words.js';

/** How to verify the electronic signature; '' if there is none. */
export function electronicSignature({ issue }: Results, { say }: Words): string {
  if (issue?.certificate === undefined) return '';
  const { subject, issuer } = issue.certificate;
  return say('sign.electronic', { subject, issuer });
}

/** @param signatories Persons of the office who may approve. */
export function signatures(
  { subject, whatIf, issue }: Results,
  { say, day }: Words,
  signatories: readonly { readonly name: string; readonly role: string }[] = [],
) {
  const signed = (
    act: string,
    who: { by?: string | null; on?: string | null; role?: string | null } = {},
  ) => ({ act, name: who.by ?? '', role: who.role ?? '', date: day(who.on ?? '') });
  const done = [
    signed(say('sign.surveyed'), subject.surveyed),
    signed(say('sign.prepared'), subject.prepared),
  ];
  // A what-if report is not accepted by anybody.
  if (whatIf !== undefined) return done;
  return [
    ...done,
    ...(subject.approved?.by || signatories.length === 0
      ? [signed(say('sign.approved'), subject.approved)]
      : signatories.map(({ name, role }) => signed(say('sign.approved'), { by: name, role }))),
    ...(issue === undefined ? [] : [signed(say('sign.issued'), issue)]),
    signed(say('sign.customer')),
  ];
}
