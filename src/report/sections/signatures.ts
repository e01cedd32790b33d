/** Who did, checked and accepted the work: what the job records is filled in, the rest is left to sign. */
import type { Results } from '../../results/results-schema.js';

export interface Signature {
  readonly act: string;
  readonly name: string;
  readonly date: string;
}

export function signatures({ subject, whatIf }: Results): Signature[] {
  const done = [
    { act: 'Surveyed by', name: subject.surveyed.by ?? '', date: subject.surveyed.on ?? '' },
    { act: 'Prepared by', name: subject.prepared.by ?? '', date: subject.prepared.on ?? '' },
  ];
  // What if is nothing to be accepted.
  if (whatIf !== undefined) return done;
  return [
    ...done,
    { act: 'Approved by', name: '', date: '' },
    { act: 'For the customer', name: '', date: '' },
  ];
}
