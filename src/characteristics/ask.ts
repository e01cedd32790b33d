/** All that is asked of one phase, in the order of the report. */
import type { Job, Rail, Tolerance } from '../job/job.js';
import type { Network } from '../solve/network.js';
import { againstDatumQuestions } from './against-datum.js';
import { coplanarityQuestions } from './coplanarity.js';
import { levelAlongQuestion } from './level-along.js';
import { railProfile, type RailProfile } from './profiles.js';
import type { Question } from './question.js';
import { squarenessQuestion } from './squareness.js';
import { localStraightnessQuestion, straightnessQuestions } from './straightness.js';

/** What was read of a rail in one phase. A cross rail's in-plane axis is `along`. */
export interface RailProfiles {
  readonly rail: Rail;
  readonly vertical: RailProfile | null;
  readonly horizontal: RailProfile | null;
}

export const profilesOf = (network: Network, rail: Rail): RailProfiles => ({
  rail,
  vertical: railProfile(network, rail, 'vertical'),
  horizontal: railProfile(network, rail, rail.direction === 'along' ? 'horizontal' : 'along'),
});

export function askAll(job: Job, network: Network): Question[] {
  const datum = profilesOf(network, job.datum);
  return job.rails.flatMap((rail): Question[] => {
    const own = rail.id === job.datum.id ? datum : profilesOf(network, rail);
    const shape = [
      ...straightnessQuestions(rail.id, 'vertical', own.vertical),
      ...localQuestions(job, rail, 'vertical', own.vertical),
      ...straightnessQuestions(rail.id, 'horizontal', own.horizontal),
      ...localQuestions(job, rail, 'horizontal', own.horizontal),
    ];
    if (rail.direction === 'across')
      return [...shape, squarenessQuestion(rail.id, own.horizontal, datum.horizontal)];
    const level = levelAlongQuestion(rail.id, own.vertical);
    if (rail.id === job.datum.id) return [...shape, level];
    return [
      ...shape,
      level,
      ...againstDatumQuestions(job, rail, own, datum),
      ...coplanarityQuestions(job, rail, own.vertical, datum.vertical),
    ];
  });
}

/** Local straightness has a length only through its tolerance: one question for each that differs. */
function localQuestions(
  job: Job,
  rail: Rail,
  plane: 'vertical' | 'horizontal',
  profile: RailProfile | null,
): Question[] {
  const asked = new Set<string>();
  return job.toleranceSet.tolerances
    .filter((t) => isLocal(t, rail, plane))
    .flatMap((t) => {
      const reference = t.reference ?? 'least-squares';
      const key = `${reference}|${t.overMm}`;
      if (asked.has(key)) return [];
      asked.add(key);
      return [localStraightnessQuestion(rail.id, plane, profile, reference, t.overMm!)];
    });
}

const isLocal = (t: Tolerance, rail: Rail, plane: string): boolean =>
  t.what === `straightness-${plane}-local` && t.overMm !== null && (t.rail === null || t.rail === rail.id);
