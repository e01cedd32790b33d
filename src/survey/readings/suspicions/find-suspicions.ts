/**
 * What is suspicious in readings as a whole: each with its evidence, and none where honest readings would look the same.
 * What would make a verdict worthless if it is what it looks like has to be confirmed. Nothing is changed or left out.
 */
import { capPerCode } from '../../../base/diagnostics/cap.js';
import { Findings, type Diagnostic } from '../../../base/diagnostics/diagnostic.js';
import type { Frame } from '../../job/resolve-job.js';
import type { Readings } from '../readings.js';
import { checkSizes } from './check-sizes.js';
import { checkTimes } from './check-times.js';
import { checkPlaces } from './check-places.js';
import { comparePasses } from './compare-passes.js';
import { comparePhases } from './compare-phases.js';
import { findCopies } from './find-copies.js';
import { findJumps } from './find-jumps.js';
import { seriesOf } from './series.js';

/** Jobs of more readings are not searched: what follows looks at all of them many times over. */
export const MOST_SEARCHED = 200_000;

/** What a person would look at twice, though every cell can be read. */
export function findSuspicions(readings: Readings, frame: Frame): readonly Diagnostic[] {
  const count = [...readings.phases.values()].reduce((sum, list) => sum + list.length, 0);
  if (count > MOST_SEARCHED) return [];
  const findings = new Findings();
  const series = seriesOf(readings, frame);
  checkSizes(series, readings, frame, findings);
  comparePasses(series, findings);
  comparePhases(series, frame.phases, findings);
  findCopies(series, findings);
  checkPlaces(readings, frame, findings);
  findJumps(series, findings);
  checkTimes(readings, frame, findings);
  return capPerCode(findings.list).list;
}
