/**
 * Time and memory that a job will take, estimated before it begins: a job that takes minutes is announced, and a job that would
 * take longer than it may is refused at once.
 */
import type { Diagnostic } from '../../base/diagnostics/diagnostic.js';
import type { Job } from '../../survey/job/job.js';
import type { Reading, Readings } from '../../survey/readings/readings.js';
import { mostOf } from '../../base/statistics/extent.js';
import { cube } from '../../base/statistics/power.js';

/** Seconds and megabytes, correct within a factor of three: machines differ by as much. */
export interface Size {
  readonly seconds: number;
  readonly megabytes: number;
}

/** Cost of each row: reading it, its equation, its residual, its mark in a chart; s, MB. */
const ROW = { seconds: 4e-5, megabytes: 1.5e-3 };
/** Cost of a random number for an interval; a long rail has about five hundred for each point and family. */
const DRAWN = { seconds: 4e-8, megabytes: 8e-6 };
/** Cost of the charts and pages of a rail. */
const RAIL = { seconds: 0.09, megabytes: 3 };
/** Cost of a step of the elimination of what the stations share: set-ups, targets, sight lines. */
const STEP = 2e-9;
const BASE = { seconds: 0.5, megabytes: 150 };

/** Unknowns that the stations share, of one phase: they are eliminated densely (solve/factor.ts). */
export function sharedUnknowns(job: Job, list: readonly Reading[]): number {
  const kinds = new Set<string>();
  for (const r of list) {
    if (r.kind === 'slope' && r.sight !== null) kinds.add(`sight ${r.sight}`);
    if (r.kind !== 'offset') continue;
    const { setup, axis, point, target } = r;
    const line = point.kind === 'station' ? point.rail : point.monument;
    kinds.add(`${setup} ${axis} ${axis === 'horizontal' ? line : ''}`);
    kinds.add(`turn ${setup} ${axis === 'vertical' ? 'pitch' : 'yaw'}`);
    if (axis === 'vertical') kinds.add(`turn ${setup} roll`);
    kinds.add(`target ${target} ${axis}`);
  }
  return kinds.size + job.instruments.length;
}

/** About how long a job takes and how much memory, on a slow machine. */
export function sizeOf(job: Job, { phases }: Readings): Size {
  let { seconds, megabytes } = BASE;
  for (const [, list] of phases) {
    const shared = sharedUnknowns(job, list);
    seconds += ROW.seconds * list.length + 12 * STEP * cube(shared);
    megabytes += ROW.megabytes * list.length + 40e-6 * shared ** 2;
    const points = job.rails.map(({ stations }) => stations.length);
    const families = 4;
    for (const n of points) {
      seconds += RAIL.seconds + 500 * families * DRAWN.seconds * n + 1e-9 * cube(Math.min(n, 400));
      megabytes += RAIL.megabytes;
    }
    megabytes += 500 * DRAWN.megabytes * mostOf(points);
  }
  return { seconds, megabytes };
}

/** "about 3 minutes and 1.2 GB" */
export function sizeWords({ seconds, megabytes }: Size): string {
  const time = seconds < 90 ? `${Math.ceil(seconds / 5) * 5} seconds` : `${Math.ceil(seconds / 60)} minutes`;
  const memory =
    megabytes < 1000 ? `${Math.ceil(megabytes / 100) * 100} MB` : `${(megabytes / 1000).toFixed(1)} GB`;
  return `about ${time} and ${memory}`;
}

/** Seconds that a job may take, unless stated otherwise. */
export const DEFAULT_LIMIT_S = 300;

/** Shorter jobs are not announced. */
const WORTH_A_WORD = 20;

/**
 * Warns: JOB_LARGE. Fails: JOB_TOO_LARGE, if a limit is given.
 *
 * @param limit Seconds that the job may take; null: nobody waits.
 */
export function judgeSize(job: Job, readings: Readings, limit: number | null): Diagnostic[] {
  const size = sizeOf(job, readings);
  const data = { size: sizeWords(size), seconds: Math.ceil(size.seconds) };
  if (limit !== null && size.seconds > limit)
    return [{ code: 'JOB_TOO_LARGE', severity: 'error', data: { ...data, limit } }];
  if (size.seconds <= WORTH_A_WORD) return [];
  return [{ code: 'JOB_LARGE', severity: 'warning', data }];
}
