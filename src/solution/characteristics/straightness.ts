/** Straightness of one rail in one plane, whole and local. */
import { type ReferenceName, referenceNames } from '../../survey/job/job-schema.js';
import { asking } from './asking.js';
import { ownDeviations, type RailProfile } from './profiles.js';
import { localStraightness, straightness } from './measures.js';
import type { Question } from './question.js';
import { reason } from '../reasons/reason.js';

type Plane = 'vertical' | 'horizontal';

/** Straightness of the whole rail about each reference line. */
export const straightnessQuestions = (rail: string, plane: Plane, profile: RailProfile | null): Question[] =>
  referenceNames.map((reference) => straightnessQuestion(rail, plane, profile, reference));

/** @param overMm The worst window of at most this length; left out: the whole rail. */
export function straightnessQuestion(
  rail: string,
  plane: Plane,
  profile: RailProfile | null,
  reference: ReferenceName,
  overMm?: number,
): Question {
  const ask =
    overMm === undefined
      ? asking(`straightness-${plane}`, rail, { reference })
      : asking(`straightness-${plane}-local`, rail, { reference, over: overMm });
  if (profile === null) return ask.none(reason('rail-unread', { rail, plane, isDatum: false }));
  const family = ownDeviations(profile);
  if (family === null)
    return ask.none(reason('straightness-stations-has', { rail, plane, has: profile.points.length }));
  const measure =
    overMm === undefined
      ? straightness(reference, family.positions)
      : localStraightness(reference, family.positions, overMm / 1000);
  if (measure === null) return ask.none(reason('window-stations', { rail, overMm: overMm! }));
  return ask.range(family, `deviation|${rail}|${plane}`, measure, { name: `${reference}|${overMm ?? ''}` });
}
