/**
 * Angle between +along (the datum rail's line) and +across (the cross rail's line) minus 90°:
 * −(dx/dy of the cross rail + dy/dx of the datum rail), both from least-squares lines.
 *
 * @see ISO 230-1 practice: the angle between the reference lines of two straightness measurements.
 */
import { asking } from './asking.js';
import { slopeOf, type RailProfile } from './profiles.js';
import type { Question } from './question.js';
import { reason } from '../reasons/reason.js';

/** @param places Places along of the cross rail. @param datumOffsets Horizontal offsets of the datum rail. */
export function squarenessQuestion(
  rail: string,
  places: RailProfile | null,
  datumOffsets: RailProfile | null,
): Question {
  const ask = asking('squareness', rail);
  const cross = places && slopeOf(places);
  const datum = datumOffsets && slopeOf(datumOffsets);
  if (cross === null) return ask.none(reason('square-cross-rail', { rail }));
  if (datum === null) return ask.none(reason('square-datum-rail', {}));
  return ask.linear({
    index: [...Array.from(cross.index), ...Array.from(datum.index)],
    weight: [...Array.from(cross.weight, (w) => -w), ...Array.from(datum.weight, (w) => -w)],
  });
}
