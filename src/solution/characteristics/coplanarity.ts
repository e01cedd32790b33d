/** Zone of all stations of two rails or more about one plane, normal to it. */
import { planeBasis, type PlaneBasis } from '../../base/geometry/plane.js';
import type { Rail } from '../../survey/job/job.js';
import { asking } from './asking.js';
import type { LinearFamily } from './linear-family.js';
import { coplanarity } from './measures.js';
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
    const x = Float64Array.from(profiles.flatMap(({ alongM }) => [...alongM]));
    const y = Float64Array.from(profiles.flatMap(({ acrossM }) => [...acrossM]));
    let end = 0;
    const ends = profiles.map(({ points }) => (end += points.length));
    const measure = coplanarity(reference, { x, y }, ends.slice(0, -1));
    const basis = planeBasis(x, y);
    if (measure === null || basis === null) return ask.none(reason('plane-stations', {}));
    const familyKey = `coplanarity|${rails.map(({ rail }) => rail.id).join('|')}`;
    return ask.range(aboutPlane(profiles, basis), familyKey, measure, { name: reference });
  });
}

/**
 * Heights of all rails from their common least-squares plane: they are determined even if no plane of light was levelled.
 */
function aboutPlane(profiles: readonly RailProfile[], basis: PlaneBasis): LinearFamily {
  const { x, y, xMean, yMean, sxx, sxy, syy } = basis;
  const n = x.length;
  const index = Int32Array.from(profiles.flatMap(({ unknown }) => [...unknown]));
  const determinant = sxx * syy - sxy * sxy;
  const dx = x.map((v) => v - xMean);
  const dy = y.map((v) => v - yMean);
  return {
    points: profiles.flatMap(({ points }) => points),
    positions: Float64Array.from(profiles.flatMap(({ positions }) => [...positions])),
    local: Array.from(index, (i) => ({ index: [i], weight: [1] })),
    shared: [
      { index, weight: new Float64Array(n).fill(1 / n) },
      { index, weight: dx.map((v, i) => (v * syy - dy[i]! * sxy) / determinant) },
      { index, weight: dy.map((v, i) => (v * sxx - dx[i]! * sxy) / determinant) },
    ],
    multiplier: Float64Array.from(Array.from(dx.keys()).flatMap((i) => [1, dx[i]!, dy[i]!])),
  };
}
