/**
 * Errors of groups of readings: a monument that moved between two set-ups, a target that was knocked, the sign of a whole
 * set-up, a scale. Each is a pattern over the readings; the decrease of χ² when it is allowed for shows how probable it is.
 *
 * With b the pattern, v the residuals, σ the uncertainties and P the projector onto the space of the residuals,
 *
 *   size ∇ = bᵀv/|Pb|²,   fall of χ² = (bᵀv)²/|Pb|²   (all whitened),
 *
 * For a turned sign, whose size is known (∇ = 1, b twice the reading), the fall is 2·bᵀv − |Pb|². The pattern of a scale is
 * the computed value of each reading, not the reading itself, because its noise would fit itself.
 *
 * @see W. Baarda, A testing procedure for use in geodetic networks, 1968: alternative hypotheses of any pattern; internal
 *   reliability ∇₀ = δ₀/|Pb| with δ₀ = 4.13 for α = 0.001 and a power of 0.80.
 */
import type { Axis, Job } from '../../survey/job/job.js';
import { normalQuantile } from '../../base/statistics/normal.js';
import type { Adjustment } from './adjustment.js';
import { sightLengths } from './sight-lengths.js';

export type GroupKind = 'monument' | 'target' | 'rail' | 'pass' | 'sign' | 'scale' | 'curvature';

export interface Group {
  readonly kind: GroupKind;
  /** In words: "monument M2 as seen from S2". */
  readonly what: string;
  readonly mend: string;
  readonly setup: string;
  readonly axis: Axis;
  /** Its observations. */
  readonly members: readonly number[];
  /** Effect of size 1 on each reading as read, shape (members). */
  readonly pattern: readonly number[];
  /** µm; a share for a scale and a sign; µm/m² for a curvature. */
  readonly unit: 'um' | '1' | 'um/m2';
}

export interface GroupFinding {
  readonly group: Group;
  readonly size: number;
  readonly u: number;
  readonly fall: number;
}

/** δ₀ for α = 0.001 and a power of 0.80. */
export const NON_CENTRALITY = 4.13;
const ALPHA = 0.001;
/** A pattern is not visible if the unknowns absorb all of it except this share. */
const MIN_VISIBLE_SHARE = 1e-6;
/** More groups than this are not tested. */
const MAX_GROUPS = 400;

const OTHER_SIDE: Readonly<Record<Axis, readonly [string, string]>> = {
  vertical: ['up', 'down'],
  horizontal: ['left', 'right'],
  along: ['ahead', 'back'],
};

/** Every group of offset readings that has at least two readings, or belongs to a monument. */
export function groupsOf(job: Job, adjustment: Adjustment): Group[] {
  const { observations } = adjustment.network;
  const setups = new Map(job.setups.map((s) => [s.id, s]));
  const lengthOf = sightLengths(job);
  const found = new Map<
    string,
    { group: Omit<Group, 'members' | 'pattern'>; members: number[]; pattern: number[] }
  >();
  const put = (key: string, i: number, adds: number, make: () => Omit<Group, 'members' | 'pattern'>) => {
    let known = found.get(key);
    if (known === undefined) found.set(key, (known = { group: make(), members: [], pattern: [] }));
    known.members.push(i);
    known.pattern.push(adds);
  };
  const targetsFrom = new Map<string, Set<string>>();
  const railsFrom = new Map<string, Set<string>>();
  const passesOf = new Map<string, Set<string>>();
  const note = (map: Map<string, Set<string>>, key: string, id: string) =>
    map.set(key, (map.get(key) ?? new Set()).add(id));
  for (const o of observations) {
    if (o.kind !== 'offset') continue;
    note(targetsFrom, `${o.setup}|${o.axis}`, o.target);
    if (o.point.kind !== 'station') continue;
    note(railsFrom, `${o.setup}|${o.axis}`, o.point.rail);
    note(passesOf, `${o.setup}|${o.axis}|${o.point.rail}`, o.pass);
  }
  observations.forEach((o, i) => {
    if (o.kind !== 'offset') return;
    const { setup: id, axis, point, target, pass } = o;
    const setup = setups.get(id)!;
    const s = setup.sign[axis];
    const about = { setup: id, axis };
    const from = `${id}|${axis}`;
    if (point.kind === 'monument') {
      const { monument } = point;
      put(`monument|${id}|${monument}`, i, s, () => ({
        ...about,
        kind: 'monument',
        what: `monument ${monument} as read from ${id}`,
        mend: `Has monument ${monument} moved, or was another one read? Read it again from ${id}, or leave its rows there out with use = no and a note.`,
        unit: 'um',
      }));
    } else {
      const { rail } = point;
      if (axis === 'vertical' && railsFrom.get(from)!.size > 1)
        put(`rail|${from}|${rail}`, i, s, () => ({
          ...about,
          kind: 'rail',
          what: `the height of rail ${rail} from ${id}`,
          mend: `Was the rod set again, or the instrument touched, before rail ${rail} was read from ${id}? From there on it is another target or set-up.`,
          unit: 'um',
        }));
      if (passesOf.get(`${from}|${rail}`)!.size > 1)
        put(`pass|${from}|${rail}|${pass}`, i, s, () => ({
          ...about,
          kind: 'pass',
          what: `pass ${pass} of rail ${rail} from ${id}, ${axis}`,
          mend: `Look at what changed before pass ${pass} of rail ${rail} was read from ${id}.`,
          unit: 'um',
        }));
      if (axis === 'vertical')
        put(`curvature|${from}`, i, s * lengthOf(o) ** 2, () => ({
          ...about,
          kind: 'curvature',
          what: `a bow of the light from ${id}`,
          mend: `State the gradient of temperature at ${id} ("air"), read from both ends, or when the air is mixed.`,
          unit: 'um/m2',
        }));
    }
    if (targetsFrom.get(from)!.size > 1)
      put(`target|${from}|${target}`, i, s, () => ({
        ...about,
        kind: 'target',
        what: `target ${target} from ${id}, ${axis}`,
        mend: `Was the rod or bracket of ${target} set again? From then on it is a new target id.`,
        unit: 'um',
      }));
    put(`sign|${from}`, i, 2 * o.um, () => {
      const [now, other] = s === 1 ? OTHER_SIDE[axis] : ([...OTHER_SIDE[axis]].reverse() as [string, string]);
      return {
        ...about,
        kind: 'sign',
        what: `the sign of all ${axis} readings from ${id}`,
        mend: `In job.json, set-up ${id}: "plus": { "${axis}": "${other}" } instead of "${now}".`,
        unit: '1',
      };
    });
    put(`scale|${from}`, i, o.um - adjustment.residual[i]!, () => ({
      ...about,
      kind: 'scale',
      what: `the scale of all ${axis} readings from ${id}`,
      mend: `Look at the unit of these readings, and at the targets’ calibration.`,
      unit: '1',
    }));
  });
  return [...found.values()]
    .filter(({ group, members }) => members.length > 1 || group.kind === 'monument')
    .slice(0, MAX_GROUPS)
    .map(({ group, members, pattern }) => ({ ...group, members, pattern }));
}

/** The visible part of a pattern in the residuals: P·b and its square length, whitened; null: no part is visible. */
export interface Shown {
  readonly projected: Float64Array;
  readonly square: number;
  /** Change of every unknown for size 1. */
  readonly response: Float64Array;
}

/** @returns How much of an error of this group is visible; `isSeen` false: the unknowns absorb it. */
export function shownBy(
  group: Pick<Group, 'members' | 'pattern'>,
  adjustment: Adjustment,
): Shown & { readonly isSeen: boolean } {
  const { network } = adjustment;
  const change = new Float64Array(network.observed.length);
  group.members.forEach((i, k) => (change[i] = group.pattern[k]!));
  const response = adjustment.respond(change);
  const projected = new Float64Array(change.length);
  let [square, whole] = [0, 0];
  for (let row = 0; row < change.length; row++) {
    let computed = 0;
    for (let k = network.start[row]!; k < network.start[row + 1]!; k++)
      computed += network.coefficient[k]! * response[network.column[k]!]!;
    projected[row] = (change[row]! - computed) / network.sigma[row]!;
    square += projected[row]! ** 2;
    whole += (change[row]! / network.sigma[row]!) ** 2;
  }
  return { projected, square, response, isSeen: square > MIN_VISIBLE_SHARE * whole };
}

/** bᵀv, whitened. */
function productWith({ members, pattern }: Group, { network, residual }: Adjustment): number {
  let product = 0;
  members.forEach((i, k) => (product += (pattern[k]! * residual[i]!) / network.sigma[i]! ** 2));
  return product;
}

/**
 * The groups that are wrong according to the readings, the most probable first; empty if single readings explain as much.
 *
 * @param singles Fall of χ² by the worst single reading.
 */
export function findGroupErrors(
  groups: readonly Group[],
  adjustment: Adjustment,
  singles: number,
): GroupFinding[] {
  if (groups.length === 0 || adjustment.redundancy < 1) return [];
  // A probability of one in a thousand that any of these tests is wrong (Bonferroni).
  const critical = normalQuantile(1 - ALPHA / (2 * groups.length)) ** 2;
  const found = groups.flatMap((group): GroupFinding[] => {
    const { square, isSeen } = shownBy(group, adjustment);
    if (!isSeen) return [];
    const product = productWith(group, adjustment);
    const isSign = group.kind === 'sign';
    const fall = isSign ? 2 * product - square : product ** 2 / square;
    const size = isSign ? 1 : product / square;
    return fall > critical ? [{ group, size, u: 1 / Math.sqrt(square), fall }] : [];
  });
  // If one reading explains the misfit as well, that reading is the cause; a pattern of many must explain clearly more.
  return found
    .filter(({ fall }) => fall > singles + MIN_ADVANTAGE)
    .sort((a, b) => b.fall - a.fall)
    .slice(0, MAX_FOUND);
}

/** A group must explain this much more of χ² than the worst single reading. */
const MIN_ADVANTAGE = 2;
const MAX_FOUND = 5;

/** Suspects that are suspects only because of a group: if it is allowed for, their residuals are normal. */
export function innocents(
  { group }: GroupFinding,
  adjustment: Adjustment,
  suspects: readonly number[],
  critical: number,
): Set<number> {
  const { network, residual, redundancyNumber } = adjustment;
  const { projected, square } = shownBy(group, adjustment);
  const size = productWith(group, adjustment) / square;
  return new Set(
    suspects.filter((i) => {
      const left = residual[i]! / network.sigma[i]! - size * projected[i]!;
      const redundancy = redundancyNumber[i]! - projected[i]! ** 2 / square;
      return redundancy <= MIN_VISIBLE_SHARE || Math.abs(left) / Math.sqrt(redundancy) <= critical;
    }),
  );
}
