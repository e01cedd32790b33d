/**
 * job.json says how a survey is solved and by which limits it is judged. Digests of these parts tell later which of them
 * changed; the SHA-256 of the file only tells that something changed.
 */
import { createHash } from 'node:crypto';
import { valueAt } from './key-path.js';

export interface JobDigests {
  /** SHA-256 over job.json without `tolerances`, `grade` and `decision`. */
  readonly job: string;
  /** SHA-256 over the tolerances in force, in job.json or in a set. */
  readonly tolerances: string;
}

/**
 * The order of keys and the layout of the text make no difference.
 *
 * @param job The document of job.json. @param set The document with the tolerances in force: job.json or a set.
 */
export function jobDigests(job: unknown, set: unknown): JobDigests {
  const rest = isRecord(job) ? { ...job, tolerances: undefined, grade: undefined, decision: undefined } : job;
  return { job: digest(rest), tolerances: digest(valueAt(set, ['tolerances']) ?? []) };
}

const digest = (value: unknown): string =>
  createHash('sha256').update(JSON.stringify(value, sortedKeys)).digest('hex');

const sortedKeys = (_: string, value: unknown): unknown =>
  isRecord(value) && !Array.isArray(value)
    ? Object.fromEntries(Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1)))
    : value;

const isRecord = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null;
