/** Zone of all stations of two rails or more about one plane, normal to it; a cross rail against the plane of the others. */
import { planeBasis, type PlaneBasis } from '../../base/geometry/plane.js';
import type { Rail } from '../../survey/job/job.js';
import { asking } from './asking.js';
import type { LinearFamily } from './linear-family.js';
import { coplanarity, range } from './measures.js';
import type { RailProfile } from './profiles.js';
import type { Question } from './question.js';
import { reason } from '../reasons/reason.js';
import { railUnread } from './against.js';

export interface RailHeights {
  readonly rail: Rail;
  readonly vertical: RailProfile | null;
}

/** @param of The rail under which the characteristic is listed. @param rails All rails of the plane. */
export function coplanarityQuestions(of: string, rails: readonly RailHeights[]): Question[] {
  return (['least-squares', 'minimum-zone'] as const).map((reference): Question => {
    const ask = asking('coplanarity', of, { reference });
    const unread = rails.find(({ vertical }) => vertical === null)?.rail;
    if (unread !== undefined) return ask.none(railUnread(unread, 'vertical'));
    const profiles = rails.map(({ vertical }) => vertical!);
    const [x, y] = [planOf(profiles, 'alongM'), planOf(profiles, 'acrossM')];
    const measure = coplanarity(
      reference,
      { x, y },
      profiles.map(({ positions }) => positions),
      rails.every(({ rail }) => rail.direction === 'along'),
    );
    const basis = planeBasis(x, y);
    if (measure === null || basis === null) return ask.none(reason('plane-stations', {}));
    const familyKey = `coplanarity|${rails.map(({ rail }) => rail.id).join('|')}`;
    return ask.range(aboutPlane(profiles, profiles, basis), familyKey, measure, { name: reference });
  });
}

/**
 * Range of the distances of a cross rail from the least-squares plane of the rails along: the zone between two planes parallel
 * to that plane which holds all its stations.
 *
 * @see ISO 1101, parallelism tolerance related to a datum surface
 */
export function toPlaneQuestion({ rail, vertical }: RailHeights, along: readonly RailHeights[]): Question {
  const ask = asking('parallelism-to-plane', rail.id);
  if (vertical === null || vertical.points.length < 2)
    return ask.none(reason('slope-stations', { rail: rail.id }));
  const profiles = along.flatMap((one) => one.vertical ?? []);
  const basis = planeBasis(planOf(profiles, 'alongM'), planOf(profiles, 'acrossM'));
  if (basis === null) return ask.none(reason('plane-stations', {}));
  return ask.range(aboutPlane([vertical], profiles, basis), `to plane|${rail.id}`, range);
}

const planOf = (profiles: readonly RailProfile[], way: 'alongM' | 'acrossM'): Float64Array =>
  Float64Array.from(profiles.flatMap((profile) => [...profile[way]]));

/**
 * Heights of rails from the least-squares plane of the same or other rails: they are determined even if no plane of light was
 * levelled.
 *
 * @param basis Of the plan of `plane`.
 */
function aboutPlane(
  profiles: readonly RailProfile[],
  plane: readonly RailProfile[],
  { x, y, xMean, yMean, sxx, sxy, syy }: PlaneBasis,
): LinearFamily {
  const index = Int32Array.from(plane.flatMap(({ unknown }) => [...unknown]));
  const determinant = sxx * syy - sxy * sxy;
  const dx = x.map((v) => v - xMean);
  const dy = y.map((v) => v - yMean);
  return {
    points: profiles.flatMap(({ points }) => points),
    positions: Float64Array.from(profiles.flatMap(({ positions }) => [...positions])),
    local: profiles.flatMap(({ unknown }) => Array.from(unknown, (i) => ({ index: [i], weight: [1] }))),
    shared: [
      { index, weight: new Float64Array(x.length).fill(1 / x.length) },
      { index, weight: dx.map((v, i) => (v * syy - dy[i]! * sxy) / determinant) },
      { index, weight: dy.map((v, i) => (v * sxx - dx[i]! * sxy) / determinant) },
    ],
    multiplier: Float64Array.from(
      profiles.flatMap(({ alongM, acrossM }) =>
        [...alongM.keys()].flatMap((i) => [1, alongM[i]! - xMean, acrossM[i]! - yMean]),
      ),
    ),
  };
}
