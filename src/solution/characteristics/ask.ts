/** All questions about one phase, in the order of the report. */
import type { Job, Rail } from '../../survey/job/job.js';
import type { Network } from '../solve/network.js';
import { againstQuestions } from './against.js';
import { coplanarityQuestions } from './coplanarity.js';
import { plainQuestions, type RailProfiles } from './plain-questions.js';
import { railProfile } from './profiles.js';
import type { Question } from './question.js';
import { straightnessQuestions } from './straightness.js';
import { askedByTolerances } from './tolerance-questions.js';

/** The stations of a rail that were read; null: none in this plane. */
export const profilesOf = (network: Network, rail: Rail): RailProfiles => ({
  rail,
  vertical: railProfile(network, rail, 'vertical'),
  horizontal: railProfile(network, rail, rail.direction === 'along' ? 'horizontal' : 'along'),
});

/** Every question about a phase, rail by rail, including those that only a tolerance asks. */
export function askAll(job: Job, network: Network): Question[] {
  const profiles = new Map(job.rails.map((rail) => [rail.id, profilesOf(network, rail)]));
  const datum = profiles.get(job.datum.id)!;
  const asked = askedByTolerances(job, profiles);
  return job.rails.flatMap((rail): Question[] => {
    const own = profiles.get(rail.id)!;
    const special = asked.filter((q) => q.rail === rail.id);
    const local = (plane: string) => special.filter(({ what }) => what === `straightness-${plane}-local`);
    const rest = special.filter(({ what }) => !what.endsWith('-local'));
    const shape = [
      ...straightnessQuestions(rail.id, 'vertical', own.vertical),
      ...local('vertical'),
      ...straightnessQuestions(rail.id, 'horizontal', own.horizontal),
      ...local('horizontal'),
    ];
    const plain = plainQuestions(own, datum);
    if (rail.direction === 'across' || rail.id === job.datum.id) return [...shape, ...plain, ...rest];
    return [
      ...shape,
      ...plain,
      ...againstQuestions(rail, own, job.datum, datum),
      ...coplanarityQuestions(rail.id, [datum, own]),
      ...rest,
    ];
  });
}
