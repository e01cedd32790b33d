/** Straightness of one rail in one plane, whole and local. */
import { type CharacteristicName, type ReferenceName, referenceNames } from '../../survey/job/job-schema.js';
import { ownDeviations, type RailProfile } from './profiles.js';
import { localStraightness, straightness } from './measures.js';
import type { Question } from './question.js';
import { reason } from '../reasons/reason.js';

type Plane = 'vertical' | 'horizontal';

const asked = (rail: string, plane: Plane, reference: ReferenceName, overMm: number | null) => ({
  what: `straightness-${plane}${overMm === null ? '' : '-local'}` as CharacteristicName,
  rail,
  reference,
  ...(overMm !== null && { over: overMm }),
  unit: 'um' as const,
  signed: false,
});

/** Straightness of the whole rail about each reference line. */
export const straightnessQuestions = (rail: string, plane: Plane, profile: RailProfile | null): Question[] =>
  referenceNames.map((reference) => ask(rail, plane, profile, reference, null));

/** The worst window of at most `overMm`. */
export const localStraightnessQuestion = (
  rail: string,
  plane: Plane,
  profile: RailProfile | null,
  reference: ReferenceName,
  overMm: number,
): Question => ask(rail, plane, profile, reference, overMm);

function ask(
  rail: string,
  plane: Plane,
  profile: RailProfile | null,
  reference: ReferenceName,
  overMm: number | null,
): Question {
  const about = asked(rail, plane, reference, overMm);
  if (profile === null)
    return { ...about, kind: 'none', reason: reason('rail-unread', { rail, plane, isDatum: false }) };
  const family = ownDeviations(profile);
  if (family === null) {
    const count = profile.points.length;
    return {
      ...about,
      kind: 'none',
      reason: reason('straightness-stations-has', { rail, plane, has: count }),
    };
  }
  const measure =
    overMm === null
      ? straightness(reference, family.positions)
      : localStraightness(reference, family.positions, overMm / 1000);
  if (measure === null) {
    return {
      ...about,
      kind: 'none',
      reason: reason('window-stations', { rail, overMm: overMm! }),
    };
  }
  const familyKey = `deviation|${rail}|${plane}`;
  return {
    ...about,
    kind: 'range',
    family,
    measure,
    familyKey,
    key: `${familyKey}|${reference}|${overMm ?? ''}`,
    factor: 1,
  };
}
