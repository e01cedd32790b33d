/**
 * What was asked of each adjuster after the as-found survey, and what the rail did there by the as-left survey.
 *
 * Neither survey knows where the machine as a whole stands, so that the change at the adjusters is known up to a motion
 * of the rail as a whole: a shift, and a turn. It is taken as that which lets most adjusters have done what was asked
 * (least absolute departures), so that a few which did otherwise stand out.
 */
import type { CorrectionPlan, DoneMove, PhaseResults, Results } from '../results-schema.js';
import type { Adjuster } from '../../survey/job/job.js';
import { isKnown } from '../known.js';
import { betweenStations } from './between-stations.js';
import { planes, type Plane } from './levers.js';

/** Beyond so many standard uncertainties a difference is there (common practice, no source). */
const SHOWS = 3;
/** Done to within this share of what was asked is done. */
const ENOUGH = 0.2;

interface At {
  readonly adjuster: Adjuster;
  readonly asked: number;
  readonly changed: number;
  readonly u: number;
}

/** @param asked The plan after the as-found survey. */
export function askedAndDone(
  adjusters: readonly Adjuster[],
  asked: Pick<CorrectionPlan, 'moves'>,
  found: PhaseResults,
  left: PhaseResults,
  rails: Results['survey']['rails'],
): DoneMove[] {
  return rails.flatMap(({ id, direction }) =>
    planes.flatMap((plane) => {
      const at = adjusters.flatMap((adjuster): At[] => {
        if (adjuster.rail !== id) return [];
        const [before, after] = [found, left].map((phase) => placeAt(adjuster, plane, phase, id, direction));
        if (!before || !after) return [];
        const move = asked.moves.find((m) => m.adjuster === adjuster.id && m.axis === plane)?.move ?? 0;
        return [{ adjuster, asked: move, changed: after.um - before.um, u: Math.hypot(before.u, after.u) }];
      });
      // Two places and a motion of the whole tell nothing.
      if (at.length < 3) return [];
      const whole = likeliestMotion(at);
      return at.flatMap((a): DoneMove[] => {
        const did = a.changed - whole(a.adjuster.atMm);
        const said = saysOf(a.asked, did, a.u);
        if (said === null) return [];
        return [
          {
            adjuster: a.adjuster.id,
            rail: id,
            axis: plane,
            asked: a.asked,
            did: { value: did, u: a.u },
            says: said,
          },
        ];
      });
    }),
  );
}

/** null: nothing was asked and nothing was done. */
function saysOf(asked: number, did: number, u: number): DoneMove['says'] | null {
  const slack = SHOWS * u;
  if (asked === 0) return Math.abs(did) > slack ? 'not-asked' : null;
  if (Math.abs(did - asked) <= Math.max(slack, ENOUGH * Math.abs(asked))) return 'as-asked';
  if (did * asked < 0 && Math.abs(did) > slack) return 'turned-the-wrong-way';
  if (Math.abs(did) <= slack) return 'not-moved';
  return Math.abs(did) < Math.abs(asked) ? 'too-little' : 'too-much';
}

/** How the rail lies at an adjuster, from its own least-squares line; straight between stations and beyond the last. */
function placeAt(
  { atMm }: Adjuster,
  plane: Plane,
  { stations }: PhaseResults,
  rail: string,
  direction: 'along' | 'across',
): { um: number; u: number } | null {
  const read = stations.flatMap((s) => {
    const q = s.rail === rail ? s.deviation[plane] : undefined;
    return isKnown(q) ? [{ x: s[direction], um: q.value, u: q.u }] : [];
  });
  if (read.length < 3) return null;
  const { before, share } = betweenStations(
    read.map(({ x }) => x),
    atMm,
  );
  const [a, b] = [read[before]!, read[before + 1]!];
  return { um: a.um + share * (b.um - a.um), u: Math.hypot((1 - share) * a.u, share * b.u) };
}

/** The shift and turn that leave the least absolute departures from what was asked: it passes through two of them. */
function likeliestMotion(at: readonly At[]): (mm: number) => number {
  let best: { cost: number; line: (mm: number) => number } = { cost: Infinity, line: () => 0 };
  const off = ({ changed, asked }: At) => changed - asked;
  for (const [i, a] of at.entries())
    for (const b of at.slice(i + 1)) {
      if (a.adjuster.atMm === b.adjuster.atMm) continue;
      const slope = (off(b) - off(a)) / (b.adjuster.atMm - a.adjuster.atMm);
      const line = (mm: number) => off(a) + slope * (mm - a.adjuster.atMm);
      const cost = at.reduce((sum, c) => sum + Math.abs(off(c) - line(c.adjuster.atMm)), 0);
      if (cost < best.cost - 1e-9) best = { cost, line };
    }
  return best.line;
}
