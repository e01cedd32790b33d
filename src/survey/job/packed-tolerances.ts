/** A tolerance set that was given to a run, in the form in which it is sent to another process. */
import { parseGivenTolerances, type GivenTolerances } from './given-tolerances.js';

export interface PackedTolerances {
  readonly path: string;
  readonly base64: string;
}

/** The set as text, for another process. */
export const packed = ({ input, bytes }: GivenTolerances): PackedTolerances => ({
  path: input.path,
  base64: Buffer.from(bytes).toString('base64'),
});

/** @throws {Error} the set is faulty: a programming mistake, because the process that packed it had read it. */
export function unpacked({ path, base64 }: PackedTolerances): GivenTolerances {
  const set = parseGivenTolerances(Buffer.from(base64, 'base64'), path);
  if (!set.ok) throw new Error(`${path} is faulty`);
  return set.value;
}
