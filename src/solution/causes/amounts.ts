/** Sizes of causes as people read them, in the units of the job. */
import type { Job } from '../../survey/job/job.js';
import { fromUm, fromUmPerM, unitLabel } from '../../base/units/units.js';

/** The size of a cause is known to two digits. */
const digits = (value: number): string => String(Number(Math.abs(value).toPrecision(2)));

/** A size without its sign: "60 µm". */
export const lengthWords = ({ readingUnit }: Job, um: number): string =>
  `${digits(fromUm(um, readingUnit))} ${unitLabel(readingUnit)}`;

export const slopeWords = ({ style }: Job, umPerM: number): string =>
  `${digits(fromUmPerM(umPerM, style.slope))} ${unitLabel(style.slope)}`;

/** "12 µm/m along and 3 µm/m across", without a part that is negligible. */
export function tiltWords(job: Job, [pitch = 0, roll = 0]: readonly number[]): string {
  const most = Math.max(Math.abs(pitch), Math.abs(roll));
  const parts = [
    ...(Math.abs(pitch) >= 0.1 * most ? [`${slopeWords(job, pitch)} along the rails`] : []),
    ...(Math.abs(roll) >= 0.1 * most && roll !== 0 ? [`${slopeWords(job, roll)} across`] : []),
  ];
  return parts.join(' and ');
}
