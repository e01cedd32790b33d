/**
 * The joints of a rail: the step from one part to the next, and the change of slope there.
 *
 * The part before a joint and the part after it are both extended to the joint by the straight line through their two nearest
 * stations. Neither result depends on the position of the whole rail: subtracting a line from the rail changes nothing.
 */
import type { FamilyPoint, LinearFamily } from './linear-family.js';
import { asking } from './asking.js';
import type { RailProfile } from './profiles.js';
import type { Question } from './question.js';
import { reason } from '../reasons/reason.js';

type Plane = 'vertical' | 'horizontal';

interface Weighted {
  readonly index: number;
  readonly weight: number;
}

/**
 * @param what `joint-step-…`, µm: + the part after the joint is higher, or more to the left.
 *   `joint-slope-…`, µm/m: + it rises more, or turns more to the left.
 */
export function jointQuestion(
  what: 'joint-step' | 'joint-slope',
  rail: string,
  plane: Plane,
  profile: RailProfile | null,
): Question {
  const ask = asking(`${what}-${plane}`, rail);
  if (profile === null) return ask.none(reason('rail-unread', { rail, plane, isDatum: false }));
  const { positions } = profile;
  // With a working length: the joints within it.
  const jointsMm = profile.rail.jointsMm.filter(
    (mm) => mm / 1000 > positions[0]! && mm / 1000 < positions[positions.length - 1]!,
  );
  const joints = jointsMm.map((mm) => mm / 1000);
  if (joints.length === 0) return ask.none(reason('no-joints', { rail }));
  const members: Weighted[][] = [];
  const points: FamilyPoint[] = [];
  for (const [j, joint] of joints.entries()) {
    const ends = [joints[j - 1] ?? -Infinity, joint, joints[j + 1] ?? Infinity] as const;
    const before = between(profile, ends[0], ends[1]).slice(-2);
    const behind = between(profile, ends[1], ends[2]).slice(0, 2);
    if (before.length < 2 || behind.length < 2) {
      const side = before.length < 2 ? 'before' : 'behind';
      return ask.none(reason('joint-stations', { rail, side, jointMm: jointsMm[j]!, plane }));
    }
    const [own, other] = what === 'joint-step' ? [at, at] : [slope, slope];
    members.push([...own(profile, behind, joint), ...negative(other(profile, before, joint))]);
    points.push(profile.points[behind[0]!]!);
  }
  const family: LinearFamily = {
    points,
    positions: Float64Array.from(joints),
    local: members.map((member) => ({
      index: member.map(({ index }) => profile.unknown[index]!),
      weight: member.map(({ weight }) => weight),
    })),
    shared: [],
    multiplier: new Float64Array(0),
  };
  return ask.extreme(family, `${what}-${plane}|${rail}`);
}

/** A station nearer than this is on the joint, m: it is not known to which part it belongs. */
const ON_JOINT_M = 1e-6;

/** Indices of the stations within a part, without its ends. */
const between = ({ positions }: RailProfile, from: number, to: number): number[] =>
  [...positions.keys()].filter((i) => positions[i]! > from + ON_JOINT_M && positions[i]! < to - ON_JOINT_M);

/** Height of the line through two stations at x. */
function at({ positions }: RailProfile, [a, b]: readonly number[], x: number): Weighted[] {
  const share = (x - positions[a!]!) / (positions[b!]! - positions[a!]!);
  return [
    { index: a!, weight: 1 - share },
    { index: b!, weight: share },
  ];
}

/** Slope of the line through two stations, per metre. */
function slope({ positions }: RailProfile, [a, b]: readonly number[]): Weighted[] {
  const perMetre = 1 / (positions[b!]! - positions[a!]!);
  return [
    { index: a!, weight: -perMetre },
    { index: b!, weight: perMetre },
  ];
}

const negative = (list: readonly Weighted[]): Weighted[] =>
  list.map(({ index, weight }) => ({ index, weight: -weight }));
