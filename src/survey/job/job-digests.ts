/**
 * job.json says both how a survey is to be solved and what it is judged by. Digests of its parts tell later which
 * of them changed; the file's own SHA-256 only tells that something did.
 */
import { createHash } from 'node:crypto';
import { valueAt } from './key-path.js';

export interface JobDigests {
  /** SHA-256 over what job.json holds besides `tolerances`, `grade` and `decision`. */
  readonly job: string;
  /** SHA-256 over the tolerances in force, wherever they stand. */
  readonly tolerances: string;
}

/**
 * Neither the order of keys nor the layout of the text counts.
 *
 * @param job The document of job.json. @param set The document that holds the tolerances in force: it, or a set.
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
