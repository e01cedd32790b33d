/** Zone of all stations of a rail and the datum rail about one plane, normal to it. */
import { planeBasis, type PlaneBasis } from '../geometry/plane.js';
import type { Job, Rail } from '../job/job.js';
import type { LinearFamily } from './linear-family.js';
import { coplanarity } from './measures.js';
import type { RailProfile } from './profiles.js';
import type { Question } from './question.js';

export function coplanarityQuestions(
  job: Job,
  rail: Rail,
  own: RailProfile | null,
  datum: RailProfile | null,
): Question[] {
  return (['least-squares', 'minimum-zone'] as const).map((reference): Question => {
    const about = {
      what: 'coplanarity' as const,
      rail: rail.id,
      reference,
      unit: 'um' as const,
      signed: false,
    };
    if (own === null || datum === null) {
      const missing = own === null ? `rail ${rail.id}` : `the datum rail ${job.datum.id}`;
      return { ...about, kind: 'none', why: `${missing} was not read in the vertical plane` };
    }
    const x = Float64Array.from([...datum.alongM, ...own.alongM]);
    const y = Float64Array.from([...datum.acrossM, ...own.acrossM]);
    const measure = coplanarity(reference, { x, y }, datum.points.length);
    const basis = planeBasis(x, y);
    if (measure === null || basis === null) {
      return {
        ...about,
        kind: 'none',
        why: 'a plane needs four stations or more that do not lie on one line',
      };
    }
    const familyKey = `coplanarity|${rail.id}`;
    return {
      ...about,
      kind: 'range',
      family: aboutPlane(datum, own, basis),
      measure,
      familyKey,
      key: `${familyKey}|${reference}`,
      factor: 1,
    };
  });
}

/**
 * Heights of both rails from their common least-squares plane: what is left is determined even where no plane of
 * light was levelled.
 */
function aboutPlane(datum: RailProfile, own: RailProfile, basis: PlaneBasis): LinearFamily {
  const { x, y, xMean, yMean, sxx, sxy, syy } = basis;
  const n = x.length;
  const index = Int32Array.from([...datum.unknown, ...own.unknown]);
  const determinant = sxx * syy - sxy * sxy;
  const dx = x.map((v) => v - xMean);
  const dy = y.map((v) => v - yMean);
  return {
    points: [...datum.points, ...own.points],
    positions: Float64Array.from([...datum.positions, ...own.positions]),
    local: Array.from(index, (i) => ({ index: [i], weight: [1] })),
    shared: [
      { index, weight: new Float64Array(n).fill(1 / n) },
      { index, weight: dx.map((v, i) => (v * syy - dy[i]! * sxy) / determinant) },
      { index, weight: dy.map((v, i) => (v * sxx - dx[i]! * sxy) / determinant) },
    ],
    multiplier: Float64Array.from(Array.from(dx.keys()).flatMap((i) => [1, dx[i]!, dy[i]!])),
  };
}
