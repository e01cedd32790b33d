/**
 * Questions that only a tolerance asks: local straightness with its length, a working length, a partner that is not the datum,
 * rails judged together, departures to one side. All other questions are asked for every job (ask.ts).
 */
import { characteristicOf } from '../../survey/characteristics/characteristics.js';
import { identityKey } from '../../survey/characteristics/identity.js';
import { distanceAcrossMm, type Job, type Rail, type Tolerance } from '../../survey/job/job.js';
import { againstQuestions, railUnread, type Pair } from './against.js';
import { coplanarityQuestions, toPlaneQuestion } from './coplanarity.js';
import { jointQuestion } from './joints.js';
import { levelOverQuestion } from './level-along.js';
import { rateOfChangeQuestion } from './rate-of-change.js';
import { asking } from './asking.js';
import { range, rangeWithin } from './measures.js';
import {
  asRead,
  differences,
  fromEnds,
  joined,
  offsetsAboutOwnMean,
  scaled,
  sideOf as side,
  within,
} from './profiles.js';
import type { Asked, ProfileQuestion, Question } from './question.js';
import { isPlain, plainQuestion, type RailProfiles } from './plain-questions.js';
import { straightnessQuestion, straightnessQuestions } from './straightness.js';
import { reason } from '../reasons/reason.js';

type AllProfiles = ReadonlyMap<string, RailProfiles>;

/** Each question once, however many tolerances ask it. */
export function askedByTolerances(job: Job, profiles: AllProfiles): Question[] {
  const found = new Map<string, Question>();
  for (const tolerance of job.toleranceSet.tolerances)
    for (const question of ask(tolerance, job, profiles))
      if (!found.has(identityKey(question))) found.set(identityKey(question), question);
  return [...found.values()];
}

/** true: it asks for more than what is asked for every job. */
const isSpecial = (t: Tolerance): boolean =>
  characteristicOf(t.what).ofJoints ||
  characteristicOf(t.what).onlyByTolerance ||
  t.overMm !== null ||
  t.betweenMm !== null ||
  t.against !== null ||
  t.rails !== null ||
  sideOf(t) !== null;

/** Straightness with limits to its sides is judged by signed departures. */
const sideOf = (t: Tolerance): Asked['side'] | null =>
  t.side ?? (t.zone !== null && t.what.startsWith('straightness') ? 'both' : null);

/** The conditions by which the tolerance's question differs from the one that is asked for every job. */
export const conditionsOf = (t: Tolerance): Partial<Asked> => {
  const side = sideOf(t);
  return {
    ...(t.betweenMm !== null && { between: t.betweenMm }),
    ...(t.against !== null && { against: t.against }),
    ...(t.rails !== null && { rails: t.rails }),
    ...(side !== null && { side }),
  };
};

function ask(t: Tolerance, job: Job, profiles: AllProfiles): Question[] {
  if (!isSpecial(t)) return [];
  const conditions = conditionsOf(t);
  const tag = JSON.stringify([t.betweenMm, conditions.side ?? null]);
  const tagged = (question: Question): Question => ({
    ...question,
    ...conditions,
    ...('key' in question && {
      key: `${tag}|${question.key}`,
      familyKey: `${tag}|${question.familyKey}`,
    }),
  });
  const of = (id: string): RailProfiles => {
    const whole = profiles.get(id)!;
    if (t.betweenMm === null) return whole;
    return {
      rail: whole.rail,
      vertical: within(whole.vertical, t.betweenMm),
      horizontal: within(whole.horizontal, t.betweenMm),
    };
  };
  const stretch = (question: Question): Question =>
    t.overMm === null || !characteristicOf(t.what).overLength ? question : overLength(question, t.overMm);
  if (t.rails !== null) return askGroup(t, t.rails, of).map(stretch).map(tagged);
  const along = [...profiles.values()].filter(({ rail }) => rail.direction === 'along');
  const rails = job.rails.filter((rail) => (t.rail === null ? canHave(t, rail, job) : rail.id === t.rail));
  return rails
    .flatMap((rail) => askRail(t, of(rail.id), profiles.get(t.against ?? job.datum.id)!, along))
    .map(stretch)
    .map(tagged);
}

function canHave({ what }: Tolerance, rail: Rail, job: Job): boolean {
  const { rails, ofJoints } = characteristicOf(what);
  if (ofJoints && rail.jointsMm.length === 0) return false;
  if (rails === 'cross') return rail.direction === 'across';
  if (rails === 'any') return true;
  return rail.direction === 'along' && (rails === 'along' || rail.id !== job.datum.id);
}

/** @param along All rails along. */
function askRail(
  t: Tolerance,
  own: RailProfiles,
  partner: RailProfiles,
  along: readonly RailProfiles[],
): Question[] {
  const { rail } = own;
  const reference = t.reference ?? 'least-squares';
  const plane = t.what.includes('horizontal') ? 'horizontal' : 'vertical';
  const { what } = t;
  if ((what === 'level-along' || what === 'level-across') && t.overMm !== null)
    return [levelOverQuestion(rail, own.vertical, t.overMm)];
  if (isPlain(what)) return [plainQuestion(what, own, partner)];
  switch (what) {
    case 'straightness-vertical':
    case 'straightness-horizontal': {
      return sideOf(t) === null
        ? straightnessQuestions(rail.id, plane, own[plane]).filter((q) => q.reference === reference)
        : [sidedQuestion(rail.id, plane, own[plane])];
    }
    case 'straightness-vertical-local':
    case 'straightness-horizontal-local': {
      return [straightnessQuestion(rail.id, plane, own[plane], reference, t.overMm!)];
    }
    case 'joint-step-vertical':
    case 'joint-step-horizontal':
      return [jointQuestion('joint-step', rail.id, plane, own[plane])];
    case 'joint-slope-vertical':
    case 'joint-slope-horizontal':
      return [jointQuestion('joint-slope', rail.id, plane, own[plane])];
    case 'rate-of-change-vertical':
    case 'rate-of-change-horizontal':
      return [rateOfChangeQuestion(rail.id, plane, own[plane], t.overMm!)];
    case 'coplanarity':
      return coplanarityQuestions(rail.id, [partner, own]).filter((q) => q.reference === reference);
    case 'parallelism-to-plane':
      return [toPlaneQuestion(own, along)];
    case 'elevation':
      return [elevationQuestion(rail.id, own.vertical)];
    case 'parallelism-to-line-vertical':
    case 'parallelism-to-line-horizontal':
      return [toLineQuestion(rail, plane, own[plane], partner)];
    case 'parallelism-vertical':
    case 'parallelism-horizontal':
    case 'height-difference':
    case 'cross-level':
    case 'twist':
    case 'span':
      return againstQuestions(rail, own, partner.rail, partner).filter((q) => q.what === what);
  }
}

/**
 * The same question of the worst stretch of a length: ranges are then those of the points within it. What is a window
 * already stays.
 */
function overLength(question: Question, overMm: number): Question {
  if (question.kind === 'greatest-of')
    return {
      ...question,
      over: overMm,
      parts: question.parts.map((part) => overLength(part, overMm) as ProfileQuestion),
    };
  if (question.kind !== 'range') return { ...question, over: overMm };
  const measure = rangeWithin(question.family.positions, overMm / 1000);
  const { what, rail, unit, signed } = question;
  if (measure === null)
    return {
      what,
      rail,
      unit,
      signed,
      over: overMm,
      kind: 'none',
      reason: reason('rate-apart', { rail, overMm }),
    };
  return { ...question, over: overMm, measure, key: `${question.key}|over ${overMm}` };
}

/** The height from the benchmarks, which fix it by what is stated of them (network.ts), less its nominal; the farthest from zero. */
function elevationQuestion(rail: string, heights: Pair['vertical']): Question {
  const ask = asking('elevation', rail);
  if (heights === null) return ask.none(reason('rail-unread', { rail, plane: 'vertical', isDatum: false }));
  return ask.extreme(asRead(heights), `elevation|${rail}`);
}

/** Greatest less least distance of the rail from the least-squares line of its partner. */
function toLineQuestion(
  rail: Rail,
  plane: 'vertical' | 'horizontal',
  own: Pair['vertical'],
  partner: RailProfiles,
): Question {
  const ask = asking(`parallelism-to-line-${plane}`, rail.id);
  const line = partner[plane];
  if (own === null) return ask.none(reason('rail-unread', { rail: rail.id, plane, isDatum: false }));
  if (line === null) return ask.none(railUnread(partner.rail, plane));
  const family = own.positions.length < 2 ? null : offsetsAboutOwnMean(own, line);
  return family === null
    ? ask.none(reason('slope-stations', { rail: partner.rail.id }))
    : ask.range(family, `to line|${rail.id}|${partner.rail.id}|${plane}`, range);
}

/** The signed departure of greatest magnitude from the line through the ends of the rail. */
function sidedQuestion(rail: string, plane: 'vertical' | 'horizontal', profile: Pair['vertical']): Question {
  const ask = asking(`straightness-${plane}`, rail, { reference: 'end-points', signed: true });
  const family = profile && fromEnds(profile);
  return family === null
    ? ask.none(reason('straightness-stations', { rail, plane }))
    : ask.extreme(family, `from ends|${rail}|${plane}`);
}

/** Rails judged together: one plane, or the worst pair of them, the later of two against the earlier. */
function askGroup(t: Tolerance, ids: readonly string[], of: (id: string) => RailProfiles): Question[] {
  const rails = ids.map(of);
  const first = ids[0]!;
  if (t.what === 'coplanarity')
    return coplanarityQuestions(first, rails).filter((q) => q.reference === (t.reference ?? 'least-squares'));
  const pairs = rails.flatMap((rail, i) => rails.slice(0, i).map((other) => ({ rail, other })));
  if (t.what === 'height-difference' || t.what === 'cross-level' || t.what === 'span')
    return [signedOfPairs(t.what, first, pairs)];
  const asked = pairs.flatMap(({ rail, other }) =>
    againstQuestions(rail.rail, rail, other.rail, other).filter(({ what }) => what === t.what),
  );
  const about = { what: t.what, rail: first, unit: asked[0]!.unit, signed: false };
  const none = asked.find((q) => q.kind === 'none');
  if (none?.kind === 'none') return [{ ...about, kind: 'none', reason: none.reason }];
  return [{ ...about, kind: 'greatest-of', parts: asked.filter((q): q is ProfileQuestion => 'family' in q) }];
}

/** The deviation of greatest magnitude among all pairs. */
function signedOfPairs(
  what: 'height-difference' | 'cross-level' | 'span',
  first: string,
  pairs: readonly { readonly rail: RailProfiles; readonly other: RailProfiles }[],
): Question {
  const ask = asking(what, first);
  const families = pairs.map(({ rail, other }) => {
    const plane = what === 'span' ? 'horizontal' : 'vertical';
    const [own, others] = [rail[plane], other[plane]];
    const matched = own && others && differences(own, others);
    if (matched === null) return null;
    if (what === 'span') return scaled(matched, side(rail.rail, other.rail));
    return scaled(matched, what === 'cross-level' ? 1000 / distanceAcrossMm(rail.rail, other.rail) : 1);
  });
  const open = families.indexOf(null);
  if (open >= 0) {
    const { rail, other } = pairs[open]!;
    const pair = { rail: rail.rail.id, other: other.rail.id };
    return ask.none(reason('no-matching-stations', pair));
  }
  const familyKey = `${what}|${pairs.map(({ rail, other }) => `${rail.rail.id}-${other.rail.id}`).join('|')}`;
  return ask.extreme(joined(families.map((family) => family!)), familyKey);
}
