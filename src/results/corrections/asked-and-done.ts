/**
 * The planned move of each adjuster after the as-found survey, and the movement of the rail there up to the as-left survey.
 *
 * The surveys do not know the position of the machine as a whole, so the change at the adjusters is known except for a shift
 * and a turn of the whole rail. These are estimated so that most adjusters have the same response (least absolute
 * departures). A few adjusters with another response are then conspicuous.
 */
import type { CorrectionPlan, DoneMove, PhaseResults, Results } from '../results-schema.js';
import type { Adjuster } from '../../survey/job/job.js';
import { isKnown } from '../known.js';
import { betweenStations } from './between-stations.js';
import { planes, type Plane } from './levers.js';

/** A difference of more standard uncertainties than this is significant (common practice, no source). */
const SHOWS = 3;
/** A move is done if it differs by less than this share from the planned move. */
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
      // Two places always fit a motion of the whole rail.
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

/** null: no move was planned and none was made. */
function saysOf(asked: number, did: number, u: number): DoneMove['says'] | null {
  const slack = SHOWS * u;
  if (asked === 0) return Math.abs(did) > slack ? 'not-asked' : null;
  if (Math.abs(did - asked) <= Math.max(slack, ENOUGH * Math.abs(asked))) return 'as-asked';
  if (did * asked < 0 && Math.abs(did) > slack) return 'turned-the-wrong-way';
  if (Math.abs(did) <= slack) return 'not-moved';
  return Math.abs(did) < Math.abs(asked) ? 'too-little' : 'too-much';
}

/** Deviation of the rail at an adjuster from its own least-squares line; interpolated linearly, and extrapolated beyond the last station. */
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

/** The response of a move is near 1, with this uncertainty (common practice, no source). It matters only if the moves show little. */
const GAIN_U = 0.3;
/** Scatter of a move, as a share of it (common practice, no source). */
const SCATTER = 0.1;
/** Steps of the search for the motion, and the least departure it distinguishes from zero, in standard uncertainties. */
const STEPS = 60;
const LEAST_DEPARTURE = 0.1;

/**
 * Shift and turn of the whole rail, and the common response (gain) of the moves, by least absolute departures, each in units
 * of its uncertainty: changed = gain·asked + shift + turn·place. Without the gain, jacks that all move by four fifths of the
 * plan would appear as a turn of the rail.
 *
 * @see iteratively reweighted least squares for least absolute departures: any textbook of robust statistics.
 */
function likeliestMotion(at: readonly At[]): (mm: number) => number {
  const middle = at.reduce((sum, { adjuster }) => sum + adjuster.atMm / at.length, 0);
  const rows = at.map(({ adjuster, asked, changed, u }) => {
    const size = Math.max(TINY, Math.hypot(u, SCATTER * asked));
    const terms = [1, adjuster.atMm - middle, asked].map((term) => term / size);
    return { terms, value: (changed - asked) / size };
  });
  let found = [0, 0, 0];
  for (let step = 0; step < STEPS; step++) {
    const normal = Array.from({ length: 3 }, () => new Float64Array(4));
    for (const { terms, value } of rows) {
      const off = value - terms.reduce((sum, t, k) => sum + t * found[k]!, 0);
      const weight = step === 0 ? 1 : 1 / Math.max(LEAST_DEPARTURE, Math.abs(off));
      for (let i = 0; i < 3; i++) {
        for (let j = 0; j < 3; j++) normal[i]![j]! += weight * terms[i]! * terms[j]!;
        normal[i]![3]! += weight * terms[i]! * value;
      }
    }
    normal[2]![2]! += 1 / GAIN_U ** 2;
    found = solved(normal);
  }
  return (mm) => found[0]! + found[1]! * (mm - middle);
}

/** Uncertainty that is used for an exact survey, µm. */
const TINY = 1e-3;

/** Gauss elimination of a small positive definite system. The last column is the right-hand side. */
function solved(a: Float64Array[]): number[] {
  const n = a.length;
  for (let k = 0; k < n; k++)
    for (let i = 0; i < n; i++) {
      if (i === k) continue;
      const f = a[i]![k]! / a[k]![k]!;
      for (let j = k; j <= n; j++) a[i]![j]! -= f * a[k]![j]!;
    }
  return a.map((row, k) => row[n]! / row[k]!);
}
