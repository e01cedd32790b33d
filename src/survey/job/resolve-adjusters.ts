/** Adjusters (where a rail can be moved, how far, in which steps), and the aim of the correction plan. */
import type { Findings } from '../../base/diagnostics/diagnostic.js';
import { declare, ifGiven, lookUp, soundOnes, type Declared } from './declared.js';
import type { AdjusterInput, Draft, Item } from './draft.js';
import { positionMm, type Adjuster, type CorrectionAim, type Rail, type Travel } from './job.js';
import type { JobInput } from './job-schema.js';
import { SAME_PLACE_MM } from './resolve-rails.js';
import { toMm, toUm, type LengthUnit } from '../../base/units/units.js';

/**
 * Every adjuster in mm and µm.
 *
 * Reports: ID_DUPLICATE, ID_UNKNOWN for its rail; VALUE_WRONG for a place that is not on the rail or that another
 * adjuster of the rail has, and for an adjuster without travel.
 */
export function resolveAdjusters(
  draft: Draft,
  rails: Declared<Rail>,
  unit: LengthUnit,
  findings: Findings,
): Adjuster[] {
  const taken = new Map<string, Adjuster[]>();
  const resolve = (input: AdjusterInput, item: Item<AdjusterInput>): Adjuster | null => {
    const rail = lookUp('rail', rails, input.rail, item.at('rail'), findings);
    const atMm = toMm(input.along, unit);
    if (rail !== null) checkPlace(input, atMm, rail, unit, item, findings);
    const asideMm = toMm(input.aside ?? 0, unit);
    const others = taken.get(input.rail) ?? [];
    const wanted = placeWanted(
      asideMm,
      others.filter((o) => Math.abs(o.atMm - atMm) < SAME_PLACE_MM),
    );
    if (wanted !== null) findings.wrong(`${input.along} ${unit}`, wanted, item.at('along'));
    const { vertical, horizontal } = input.moves ?? {};
    const shims = ifGiven(input.shims, ({ have, in: under = 0, unit: own }) => ({
      have: have.map((sheet) => toUm(sheet, own)).sort((a, b) => b - a),
      inUm: toUm(under, own),
    }));
    const adjuster: Adjuster = {
      id: input.id,
      rail: input.rail,
      atMm,
      asideMm,
      movesWith: input.movesWith ?? null,
      holdsDown: input.holdsDown ?? false,
      carries: input.carries ?? null,
      vertical:
        ifGiven(vertical, ({ up, down, pitch, unit: own }) => travelOf(up, down, pitch, own)) ??
        (shims && { plus: Infinity, minus: shims.inUm, pitchUm: null }),
      horizontal: ifGiven(horizontal, (h) => travelOf(h.left, h.right, h.pitch, h.unit)),
      shims,
      fixed: input.fixed ?? false,
      unit: vertical?.unit ?? input.shims?.unit ?? horizontal?.unit ?? unit,
    };
    const canMove = [adjuster.vertical, adjuster.horizontal].some((t) => t !== null && t.plus + t.minus > 0);
    if (!adjuster.fixed && !canMove)
      findings.wrong(
        'an adjuster without travel',
        'travel one way at least, or "fixed": true',
        item.at('moves'),
      );
    taken.set(input.rail, [...others, adjuster]);
    return adjuster;
  };
  const declared = declare('adjuster', draft.adjusters, resolve, draft.isComplete('adjusters'), findings);
  checkPartners(draft.adjusters, declared, findings);
  return soundOnes(declared);
}

/** Two adjusters may be at one place along, one on each side of the rail's line. @returns What is wanted; null: the place is free. */
function placeWanted(asideMm: number, there: readonly Adjuster[]): string | null {
  const [first, second] = there;
  if (first === undefined) return null;
  if (second !== undefined)
    return `a place of its own; adjusters ${first.id} and ${second.id} are there, one on each side`;
  if (Math.abs(first.asideMm - asideMm) < SAME_PLACE_MM)
    return `a place of its own; adjuster ${first.id} is there (a pair across a bed says "aside" of each)`;
  return first.asideMm * asideMm > 0
    ? `the other side of the rail's line than adjuster ${first.id}, or a place of its own along`
    : null;
}

/** An adjuster with `movesWith` needs a partner that can move the same way. */
function checkPartners(
  items: readonly Item<AdjusterInput>[],
  declared: Declared<Adjuster>,
  findings: Findings,
): void {
  for (const item of items) {
    const movesWith = item.input?.movesWith;
    if (movesWith === undefined) continue;
    const partner = lookUp('adjuster', declared, movesWith, item.at('movesWith'), findings);
    const own = item.id === null ? null : (declared.get(item.id) ?? null);
    if (partner === null || own === null) continue;
    const isShared =
      (own.vertical !== null && partner.vertical !== null) ||
      (own.horizontal !== null && partner.horizontal !== null);
    if (partner.id === own.id || partner.fixed || !isShared)
      findings.wrong(
        `"${movesWith}"`,
        'another adjuster, not fixed, that moves the same way',
        item.at('movesWith'),
      );
  }
}

const travelOf = (plus: number, minus: number, pitch: number | undefined, unit: LengthUnit): Travel => ({
  plus: toUm(plus, unit),
  minus: toUm(minus, unit),
  pitchUm: ifGiven(pitch, (travel) => toUm(travel, unit)),
});

/** Adjusters are under the rail or beyond its ends by at most the largest distance between stations. */
function checkPlace(
  { along }: AdjusterInput,
  atMm: number,
  rail: Rail,
  unit: LengthUnit,
  item: Item<AdjusterInput>,
  findings: Findings,
): void {
  const at = rail.stations.map((station) => positionMm(rail, station));
  const beyond = Math.max(...at.slice(1).map((x, i) => x - at[i]!), 0);
  const [from, to] = [at[0]! - beyond, at.at(-1)! + beyond];
  if (atMm >= from && atMm <= to) return;
  const wanted = `a place on rail ${rail.id}, from ${from / toMm(1, unit)} to ${to / toMm(1, unit)} ${unit}`;
  findings.wrong(`${along} ${unit}`, wanted, item.at('along'));
}

/** Reports: ID_UNKNOWN for a rail in `untouched`. */
export function resolveAim(draft: Draft, rails: Declared<Rail>, findings: Findings): void {
  (draft.input?.corrections?.untouched ?? []).forEach((id, i) =>
    lookUp('rail', rails, id, draft.source.at(['corrections', 'untouched', i]), findings),
  );
}

/** Smaller moves are not worth a crew's time, nor does a dial read them well (common practice, no source). */
const LEAST_MOVE_UM = 10;

/** The aim of the correction plan. What the job leaves out has its default. */
export const aimOf = (input: JobInput['corrections']): CorrectionAim => ({
  want: input?.want ?? 'fewest-moves',
  margin: input?.margin ?? 0,
  untouched: input?.untouched ?? [],
  timeLimitS: input?.timeLimit ?? null,
  responseU: ifGiven(input?.response, (given) => (typeof given === 'number' ? given : given.u / 100)),
  leastUm: input?.least === undefined ? LEAST_MOVE_UM : toUm(input.least.value, input.least.unit),
  datum: input?.datum ?? 'stays',
});
