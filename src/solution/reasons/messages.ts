/**
 * The English of reasons, as messages (ICU message format) with the data of their codes; the catalogues of pages say the
 * same in other languages. `reason.CODE` says what is missing, `reason.CODE.fix` which reading would help, where there is one.
 */
export const reasonMessages = {
  'reason.rail-unread':
    '{isDatum, select, true {the datum rail} other {rail}} {rail} was not read in the {plane} plane',
  'reason.straightness-stations':
    'straightness needs three stations of rail {rail} read in the {plane} plane',
  'reason.straightness-stations-has':
    'straightness needs three stations; rail {rail} has {has} read in the {plane} plane',
  'reason.window-stations': 'no window of {overMm} mm on rail {rail} holds three read stations',
  'reason.rate-stations': 'a rate of change needs three stations of rail {rail} read in the {plane} plane',
  'reason.rate-apart': 'no two stations of rail {rail} are within {overMm} mm',
  'reason.slope-stations': 'a slope needs two stations of rail {rail} read in the vertical plane',
  'reason.plane-stations': 'a plane needs four stations or more that are not on one line',
  'reason.square-cross-rail': 'squareness needs two stations of cross rail {rail} read along',
  'reason.square-datum-rail': 'squareness needs two stations of the datum rail read in the horizontal plane',
  'reason.matching-stations':
    'no station of rail {rail} read in the {plane} plane is between read stations of rail {other}',
  'reason.no-matching-stations':
    'rails {rail} and {other} have no matching stations read in the vertical plane',
  'reason.two-matching-stations':
    '{what, select, twist {twist} other {parallelism}} needs two matching stations; rail {rail} and rail {other} have one',
  'reason.same-place-across': 'rails {rail} and {other} are at the same place across',
  'reason.no-joints': 'rail {rail} has no joints',
  'reason.joint-stations':
    'the part of rail {rail} {side, select, before {before} other {after}} its joint at {jointMm} mm has fewer than two stations read in the {plane} plane, clear of the joint',
  'reason.datum-no-line':
    'the datum rail {rail} has no line: too few of its stations were read in the horizontal plane',
  'reason.datum-no-horizontal-line': 'the datum rail has no line in the horizontal plane',
  'reason.own-line': 'a line of its own needs three read stations',
  'reason.set-up-no-heights': 'nothing was read in the vertical plane from set-up {setup}',
  'reason.set-up-no-offsets': 'nothing was read in the horizontal plane or along from set-up {setup}',
  'reason.nothing-ties-it': 'the readings of this phase do not tie it to anything that determines it',
  'reason.not-levelled': 'set-up {setup} was not levelled, and no level reading replaces that',
  'reason.not-levelled.fix': 'level the plane of set-up {setup}, or read its rail with a level',
  'reason.height-not-carried':
    'the height was not carried from set-up {from} to set-up {to}: no target assembly was read on one point from both',
  'reason.height-not-carried.fix':
    'read one target assembly, its rod untouched, on a point of the first rail from both {from} and {to}, and then on the second rail from {to}',
  'reason.targets-not-compared':
    'target assemblies {first} and {second} were not compared in the {plane} plane: no point was read with both from one set-up',
  'reason.targets-not-compared.fix':
    'read {first} and {second} on one point from one set-up, or one of them on both rails',
  'reason.direction-not-carried':
    'the direction of set-up {to} is not tied to that of set-up {from}: no monument pair was read in both {from} and {to}',
  'reason.direction-not-carried.fix':
    'read {named, select, false {two reference targets on monuments, set well apart across the rails,} other {monuments {monument1} and {monument2}}} in the square plane (along) from both {from} and {to}',
  'reason.part-not-tied':
    'the part of rail {rail} read from {to} is not tied across to the part read from {from}: too few common stations',
  'reason.part-not-tied.fix': 'read two or more stations of rail {rail} from both {from} and {to}',
  'reason.span-not-measured': 'the distance across from rail {rail} to rail {other} was not measured',
  'reason.span-not-measured.fix': 'measure the span between rails {rail} and {other} at one station or more',
  'reason.sight-free': 'the sight line of {sight} has a direction of its own that nothing determines',
  'reason.sight-free.fix': 'tie it with a level reading, or with offsets of the same stations from a set-up',
  'reason.step-not-read': 'on rail {rail}, station {from} and station {to} are not joined by any reading',
  'reason.step-not-read.fix': 'read the step from {rail}:{from} to {rail}:{to}, or both from one set-up',
  'reason.no-benchmark': 'no benchmark was read whose height the job states',
  'reason.no-benchmark.fix':
    'read the benchmark in the vertical plane with a target that is also read on a rail, and state its height in job.json ("monuments": "height")',
  'reason.squareness-not-known': 'the squareness of instrument {instrument} is not known',
  'reason.squareness-not-known.fix':
    "state the standard uncertainty of instrument {instrument}''s square plane",
  'reason.limit-missed': '{what} of rail {rail} misses its limit by {by} {unit}, its uncertainty included',
  'reason.limit-missed.coarse':
    '{what} of rail {rail} misses its limit by {by} {unit}, its uncertainty included; adjusters {apartM} m apart are coarser than the shape',
  'reason.no-plan-in-search': 'the search found no list of moves; this does not prove that there is none',
  'reason.moves-too-small':
    'only moves would help that are smaller than what is asked for ({leastUm} um, what is known of the place, or the thinnest sheet): read again, or agree on the limit',
  'reason.moves-scatter':
    'moves come out only to within {percent} % of their amount (standard uncertainty), and one round may not be enough: make the moves, survey again, and correct a second time',
  'reason.nothing-can-move': 'nothing that may be moved changes it',
  'reason.no-stations-beside-datum': 'rail {rail} has no stations next to those of the datum rail',
  'reason.place-to-datum-open': 'the readings do not determine where rail {rail} is to the datum rail',
  'reason.with-fix': '{missing}. To determine it: {fix}',
} as const;

/** What would decide a verdict. It is in results.json alone. */
export const settleMessages = {
  'settle.readings-disagree':
    'The readings disagree {times} times more than their uncertainty allows, and the interval is that much wider: find out why, first of all at the suspect readings. If they agreed, it would be narrow enough to decide.',
  'settle.more-passes':
    'About {times} times as many passes would narrow the interval enough to decide, if the value stays where it is.',
  'settle.margin-too-small':
    'The margin to the limit is so small compared with the uncertainty that no survey of this kind would decide: adjust the rail, use a better instrument, or agree on another limit or rule.',
  'settle.not-by-passes': 'More passes alone would not decide: most of the uncertainty comes from elsewhere.',
} as const;

export type ReasonKey = keyof typeof reasonMessages;
export type SettleKey = keyof typeof settleMessages;
