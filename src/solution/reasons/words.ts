/** Reasons in a crew's words: what is lacking, and how to mend it. */
import type { Reason, ReasonData, SettleData, Settling } from './reason.js';

/** What is lacking; with the reading that would mend it, where there is one. */
type Said = string | { readonly lacking: string; readonly mend: string };

const said: { readonly [C in keyof ReasonData]: (data: ReasonData[C]) => Said } = {
  'rail-unread': ({ rail, plane, isDatum }) =>
    `${isDatum ? 'the datum rail' : 'rail'} ${rail} was not read in the ${plane} plane`,
  'straightness-stations': ({ rail, plane }) =>
    `straightness needs three stations of rail ${rail} read in the ${plane} plane`,
  'straightness-stations-has': ({ rail, plane, has }) =>
    `straightness needs three stations; rail ${rail} has ${has} read in the ${plane} plane`,
  'window-stations': ({ rail, overMm }) =>
    `no window of ${overMm} mm on rail ${rail} holds three read stations`,
  'rate-stations': ({ rail, plane }) =>
    `a rate of change needs three stations of rail ${rail} read in the ${plane} plane`,
  'rate-apart': ({ rail, overMm }) => `no two stations of rail ${rail} stand within ${overMm} mm`,
  'slope-stations': ({ rail }) => `a slope needs two stations of rail ${rail} read in the vertical plane`,
  'plane-stations': () => 'a plane needs four stations or more that do not lie on one line',
  'square-cross-rail': ({ rail }) => `squareness needs two stations of cross rail ${rail} read along`,
  'square-datum-rail': () => 'squareness needs two stations of the datum rail read in the horizontal plane',
  'matching-stations': ({ rail, other, plane }) =>
    `no station of rail ${rail} read in the ${plane} plane lies between read stations of rail ${other}`,
  'no-matching-stations': ({ rail, other }) =>
    `rails ${rail} and ${other} have no matching stations read in the vertical plane`,
  'two-matching-stations': ({ what, rail, other }) =>
    `${what} needs two matching stations; rail ${rail} and rail ${other} have one`,
  'same-place-across': ({ rail, other }) => `rails ${rail} and ${other} stand at the same place across`,
  'no-joints': ({ rail }) => `rail ${rail} has no joints`,
  'joint-stations': ({ rail, side, jointMm, plane }) =>
    `the part of rail ${rail} ${side} its joint at ${jointMm} mm has fewer than two stations read in the ${plane} plane, clear of the joint`,
  'datum-no-line': ({ rail }) =>
    `the datum rail ${rail} has no line: too few of its stations were read in the horizontal plane`,
  'datum-no-horizontal-line': () => 'the datum rail has no line in the horizontal plane',
  'own-line': () => 'a line of its own needs three read stations',
  'set-up-no-heights': ({ setup }) => `nothing was read in the vertical plane from set-up ${setup}`,
  'set-up-no-offsets': ({ setup }) =>
    `nothing was read in the horizontal plane or along from set-up ${setup}`,

  'nothing-ties-it': () => 'the readings of this phase do not tie it to anything that determines it',
  'not-levelled': ({ setup }) => ({
    lacking: `set-up ${setup} was not levelled, and no level reading stands in for it`,
    mend: `level the plane of set-up ${setup}, or read its rail with a level`,
  }),
  'height-not-carried': ({ from, to }) => ({
    lacking: `the height was not carried from set-up ${from} to set-up ${to}: no target assembly was read on one point from both`,
    mend: `read one target assembly, its rod untouched, on a point of the first rail from both ${from} and ${to}, and then on the second rail from ${to}`,
  }),
  'targets-not-compared': ({ first, second, plane }) => ({
    lacking: `target assemblies ${first} and ${second} were not compared in the ${plane} plane: no point was read with both from one set-up`,
    mend: `read ${first} and ${second} on one point from one set-up, or one of them on both rails`,
  }),
  'direction-not-carried': ({ from, to, monuments }) => ({
    lacking: `the direction of set-up ${to} is not tied to that of set-up ${from}: no monument pair was read in both ${from} and ${to}`,
    mend: `read ${monuments === null ? 'two reference targets on monuments, set well apart across the rails,' : `monuments ${monuments[0]} and ${monuments[1]}`} in the square plane (along) from both ${from} and ${to}`,
  }),
  'part-not-tied': ({ rail, from, to }) => ({
    lacking: `the part of rail ${rail} read from ${to} is not tied across to the part read from ${from}: too few common stations`,
    mend: `read two or more stations of rail ${rail} from both ${from} and ${to}`,
  }),
  'span-not-measured': ({ rail, other }) => ({
    lacking: `the distance across from rail ${rail} to rail ${other} was not measured`,
    mend: `measure the span between rails ${rail} and ${other} at one station or more`,
  }),
  'sight-free': ({ sight }) => ({
    lacking: `the sight line of ${sight} has a direction of its own that nothing determines`,
    mend: 'tie it with a level reading, or with offsets of the same stations from a set-up',
  }),
  'step-not-read': ({ rail, from, to }) => ({
    lacking: `on rail ${rail}, station ${from} and station ${to} are not joined by any reading`,
    mend: `read the step from ${rail}:${from} to ${rail}:${to}, or both from one set-up`,
  }),
  'squareness-not-known': ({ instrument }) => ({
    lacking: `the squareness of instrument ${instrument} is not known`,
    mend: `state the standard uncertainty of instrument ${instrument}'s square plane`,
  }),

  'limit-missed': ({ what, rail, by, unit, apartM }) =>
    `${what} of rail ${rail} misses its limit by ${by.toPrecision(3)} ${unit}, its uncertainty included${apartM === null ? '' : `; adjusters ${apartM.toPrecision(3)} m apart are coarser than the shape`}`,
  'no-plan-in-search': () => 'no list of moves was found within the search; that there is none is not proven',
  'moves-too-small': ({ leastUm }) =>
    `only moves would help that are smaller than what is asked for (${leastUm} um, what is known of the place, or the thinnest sheet): read again, or agree on the limit`,
  'nothing-can-move': () => 'nothing that may be moved changes it',
  'no-stations-beside-datum': ({ rail }) => `rail ${rail} has no stations beside those of the datum rail`,
  'place-to-datum-open': ({ rail }) =>
    `the readings do not determine how rail ${rail} lies to the datum rail`,
};

/** "What is lacking; what else. To determine it: how to mend it; and that." */
export function reasonWords(reasons: readonly Reason[]): string {
  const all = reasons.map(({ code, data }) => (said[code] as (of: typeof data) => Said)(data));
  const plain = all.filter((one) => typeof one === 'string');
  const mended = all.filter((one) => typeof one !== 'string');
  const once = (texts: readonly string[]) => [...new Set(texts)];
  const lacking = [...plain, ...once(mended.map((one) => one.lacking))].join('; ');
  const mend = once(mended.map((one) => one.mend)).join('; ');
  return mend === '' ? lacking : `${lacking}. To determine it: ${mend}`;
}

const settles: { readonly [C in keyof SettleData]: (data: SettleData[C]) => string } = {
  'readings-disagree': ({ times }) =>
    `The readings disagree ${times.toFixed(1)} times more than their uncertainty allows, and the interval is that much wider: find out why, first of all at the suspect readings. If they agreed, it would be narrow enough to decide.`,
  'more-passes': ({ times }) =>
    `About ${times} times as many passes would narrow the interval enough to decide, if the value stays where it is.`,
  'margin-too-small': () =>
    'The margin to the limit is so small beside the uncertainty that no survey of this kind would decide: adjust the rail, use a better instrument, or agree on another limit or rule.',
  'not-by-passes': () => 'More passes alone would not decide: most of the uncertainty comes from elsewhere.',
};

/** In one sentence. */
export const settleWords = ({ code, data }: Settling): string =>
  (settles[code] as (of: typeof data) => string)(data);
