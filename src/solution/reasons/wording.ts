/**
 * Why something has no value, why no plan was found, and what would decide a verdict: each code once, with its data (for
 * programs) and its wording (for a crew). Rails, stations, set-ups and targets have the names of the job; lengths are in mm.
 */

type Plane = 'vertical' | 'horizontal';
type Texts<K extends string> = Readonly<Record<K, string>>;
type Numbers<K extends string> = Readonly<Record<K, number>>;
type InPlane = { readonly plane: Plane };

/** What is missing; with the reading that would fix it, if there is one. */
export type Said = string | { readonly missing: string; readonly fix: string };

export const reasonWording = {
  /* Too few stations were read. */
  'rail-unread': ({ rail, plane, isDatum }: Texts<'rail'> & InPlane & { readonly isDatum: boolean }): Said =>
    `${isDatum ? 'the datum rail' : 'rail'} ${rail} was not read in the ${plane} plane`,
  'straightness-stations': ({ rail, plane }: Texts<'rail'> & InPlane): Said =>
    `straightness needs three stations of rail ${rail} read in the ${plane} plane`,
  'straightness-stations-has': ({ rail, plane, has }: Texts<'rail'> & InPlane & Numbers<'has'>): Said =>
    `straightness needs three stations; rail ${rail} has ${has} read in the ${plane} plane`,
  'window-stations': ({ rail, overMm }: Texts<'rail'> & Numbers<'overMm'>): Said =>
    `no window of ${overMm} mm on rail ${rail} holds three read stations`,
  'rate-stations': ({ rail, plane }: Texts<'rail'> & InPlane): Said =>
    `a rate of change needs three stations of rail ${rail} read in the ${plane} plane`,
  'rate-apart': ({ rail, overMm }: Texts<'rail'> & Numbers<'overMm'>): Said =>
    `no two stations of rail ${rail} are within ${overMm} mm`,
  'slope-stations': ({ rail }: Texts<'rail'>): Said =>
    `a slope needs two stations of rail ${rail} read in the vertical plane`,
  'plane-stations': (): Said => 'a plane needs four stations or more that are not on one line',
  'square-cross-rail': ({ rail }: Texts<'rail'>): Said =>
    `squareness needs two stations of cross rail ${rail} read along`,
  'square-datum-rail': (): Said =>
    'squareness needs two stations of the datum rail read in the horizontal plane',
  'matching-stations': ({ rail, other, plane }: Texts<'rail' | 'other'> & InPlane): Said =>
    `no station of rail ${rail} read in the ${plane} plane is between read stations of rail ${other}`,
  'no-matching-stations': ({ rail, other }: Texts<'rail' | 'other'>): Said =>
    `rails ${rail} and ${other} have no matching stations read in the vertical plane`,
  'two-matching-stations': (d: { readonly what: 'parallelism' | 'twist' } & Texts<'rail' | 'other'>): Said =>
    `${d.what} needs two matching stations; rail ${d.rail} and rail ${d.other} have one`,
  'same-place-across': ({ rail, other }: Texts<'rail' | 'other'>): Said =>
    `rails ${rail} and ${other} are at the same place across`,
  'no-joints': ({ rail }: Texts<'rail'>): Said => `rail ${rail} has no joints`,
  'joint-stations': (
    d: Texts<'rail'> & { readonly side: 'before' | 'behind' } & Numbers<'jointMm'> & InPlane,
  ): Said =>
    `the part of rail ${d.rail} ${d.side === 'before' ? 'before' : 'after'} its joint at ${d.jointMm} mm has fewer than two stations read in the ${d.plane} plane, clear of the joint`,
  'datum-no-line': ({ rail }: Texts<'rail'>): Said =>
    `the datum rail ${rail} has no line: too few of its stations were read in the horizontal plane`,
  'datum-no-horizontal-line': (): Said => 'the datum rail has no line in the horizontal plane',
  'own-line': (): Said => 'a line of its own needs three read stations',
  'set-up-no-heights': ({ setup }: Texts<'setup'>): Said =>
    `nothing was read in the vertical plane from set-up ${setup}`,
  'set-up-no-offsets': ({ setup }: Texts<'setup'>): Said =>
    `nothing was read in the horizontal plane or along from set-up ${setup}`,

  /* A free motion of the readings changes it, and a further reading would have stopped that. */
  'nothing-ties-it': (): Said => 'the readings of this phase do not tie it to anything that determines it',
  'not-levelled': ({ setup }: Texts<'setup'>): Said => ({
    missing: `set-up ${setup} was not levelled, and no level reading replaces that`,
    fix: `level the plane of set-up ${setup}, or read its rail with a level`,
  }),
  'height-not-carried': ({ from, to }: Texts<'from' | 'to'>): Said => ({
    missing: `the height was not carried from set-up ${from} to set-up ${to}: no target assembly was read on one point from both`,
    fix: `read one target assembly, its rod untouched, on a point of the first rail from both ${from} and ${to}, and then on the second rail from ${to}`,
  }),
  'targets-not-compared': ({ first, second, plane }: Texts<'first' | 'second'> & InPlane): Said => ({
    missing: `target assemblies ${first} and ${second} were not compared in the ${plane} plane: no point was read with both from one set-up`,
    fix: `read ${first} and ${second} on one point from one set-up, or one of them on both rails`,
  }),
  'direction-not-carried': ({
    from,
    to,
    monuments,
  }: Texts<'from' | 'to'> & { readonly monuments: readonly [string, string] | null }): Said => ({
    missing: `the direction of set-up ${to} is not tied to that of set-up ${from}: no monument pair was read in both ${from} and ${to}`,
    fix: `read ${monuments === null ? 'two reference targets on monuments, set well apart across the rails,' : `monuments ${monuments[0]} and ${monuments[1]}`} in the square plane (along) from both ${from} and ${to}`,
  }),
  'part-not-tied': ({ rail, from, to }: Texts<'rail' | 'from' | 'to'>): Said => ({
    missing: `the part of rail ${rail} read from ${to} is not tied across to the part read from ${from}: too few common stations`,
    fix: `read two or more stations of rail ${rail} from both ${from} and ${to}`,
  }),
  'span-not-measured': ({ rail, other }: Texts<'rail' | 'other'>): Said => ({
    missing: `the distance across from rail ${rail} to rail ${other} was not measured`,
    fix: `measure the span between rails ${rail} and ${other} at one station or more`,
  }),
  'sight-free': ({ sight }: Texts<'sight'>): Said => ({
    missing: `the sight line of ${sight} has a direction of its own that nothing determines`,
    fix: 'tie it with a level reading, or with offsets of the same stations from a set-up',
  }),
  'step-not-read': ({ rail, from, to }: Texts<'rail'> & Numbers<'from' | 'to'>): Said => ({
    missing: `on rail ${rail}, station ${from} and station ${to} are not joined by any reading`,
    fix: `read the step from ${rail}:${from} to ${rail}:${to}, or both from one set-up`,
  }),
  'squareness-not-known': ({ instrument }: Texts<'instrument'>): Said => ({
    missing: `the squareness of instrument ${instrument} is not known`,
    fix: `state the standard uncertainty of instrument ${instrument}'s square plane`,
  }),

  /* No plan of moves. */
  'limit-missed': (
    d: Texts<'what' | 'rail' | 'unit'> & Numbers<'by'> & { readonly apartM: number | null },
  ): Said =>
    `${d.what} of rail ${d.rail} misses its limit by ${d.by.toPrecision(3)} ${d.unit}, its uncertainty included${d.apartM === null ? '' : `; adjusters ${d.apartM.toPrecision(3)} m apart are coarser than the shape`}`,
  'no-plan-in-search': (): Said =>
    'no list of moves was found within the search; that there is none is not proven',
  'moves-too-small': ({ leastUm }: Numbers<'leastUm'>): Said =>
    `only moves would help that are smaller than what is asked for (${leastUm} um, what is known of the place, or the thinnest sheet): read again, or agree on the limit`,
  'nothing-can-move': (): Said => 'nothing that may be moved changes it',
  'no-stations-beside-datum': ({ rail }: Texts<'rail'>): Said =>
    `rail ${rail} has no stations next to those of the datum rail`,
  'place-to-datum-open': ({ rail }: Texts<'rail'>): Said =>
    `the readings do not determine where rail ${rail} is to the datum rail`,
};

/** What would decide an undecided verdict, in one sentence. */
export const settleWording = {
  'readings-disagree': ({ times }: Numbers<'times'>): string =>
    `The readings disagree ${times.toFixed(1)} times more than their uncertainty allows, and the interval is that much wider: find out why, first of all at the suspect readings. If they agreed, it would be narrow enough to decide.`,
  'more-passes': ({ times }: Numbers<'times'>): string =>
    `About ${times} times as many passes would narrow the interval enough to decide, if the value stays where it is.`,
  'margin-too-small': (): string =>
    'The margin to the limit is so small compared with the uncertainty that no survey of this kind would decide: adjust the rail, use a better instrument, or agree on another limit or rule.',
  'not-by-passes': (): string =>
    'More passes alone would not decide: most of the uncertainty comes from elsewhere.',
};
