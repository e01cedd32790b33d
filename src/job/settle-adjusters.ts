/** Adjusters: where a rail can be moved, how far and in which steps; and what the correction plan is to reach. */
import type { Findings } from '../diagnostics/diagnostic.js';
import { declare, lookUp, soundOnes } from './declared.js';
import type { Declared } from './declared.js';
import type { AdjusterInput, Draft, Item } from './draft.js';
import { positionMm, type Adjuster, type CorrectionAim, type Rail, type Travel } from './job.js';
import type { JobInput } from './job-schema.js';
import { SAME_PLACE_MM } from './settle-rails.js';
import { toMm, toUm, type LengthUnit } from './units.js';

/**
 * Every adjuster in mm and µm.
 *
 * Reports: ID_DUPLICATE, ID_UNKNOWN for its rail; VALUE_WRONG for a place off the rail, one that another adjuster of the
 * rail has, no travel at all, and sheets of less than nothing.
 */
export function settleAdjusters(
  draft: Draft,
  rails: Declared<Rail>,
  unit: LengthUnit,
  findings: Findings,
): Adjuster[] {
  const taken = new Map<string, { atMm: number; id: string }[]>();
  const settle = (input: AdjusterInput, item: Item<AdjusterInput>): Adjuster | null => {
    const rail = lookUp('rail', rails, input.rail, item.at('rail'), findings);
    const atMm = toMm(input.along, unit);
    if (rail !== null) checkPlace(input, atMm, rail, unit, item, findings);
    const others = taken.get(input.rail) ?? [];
    const same = others.find((o) => Math.abs(o.atMm - atMm) < SAME_PLACE_MM);
    if (same !== undefined) {
      const wanted = `a place of its own; adjuster ${same.id} stands there`;
      findings.error('VALUE_WRONG', { found: `${input.along} ${unit}`, wanted }, item.at('along'));
    }
    taken.set(input.rail, [...others, { atMm, id: input.id }]);
    const { vertical, horizontal } = input.moves ?? {};
    const adjuster: Adjuster = {
      id: input.id,
      rail: input.rail,
      atMm,
      vertical:
        vertical === undefined
          ? input.shims === undefined
            ? null
            : { plus: Infinity, minus: toUm(input.shims.in ?? 0, input.shims.unit), pitchUm: null }
          : travelOf(vertical.up, vertical.down, vertical.pitch, vertical.unit),
      horizontal:
        horizontal === undefined
          ? null
          : travelOf(horizontal.left, horizontal.right, horizontal.pitch, horizontal.unit),
      shims:
        input.shims === undefined
          ? null
          : {
              have: input.shims.have.map((sheet) => toUm(sheet, input.shims!.unit)).sort((a, b) => b - a),
              inUm: toUm(input.shims.in ?? 0, input.shims.unit),
            },
      fixed: input.fixed ?? false,
      unit: vertical?.unit ?? input.shims?.unit ?? horizontal?.unit ?? unit,
    };
    const canMove = [adjuster.vertical, adjuster.horizontal].some((t) => t !== null && t.plus + t.minus > 0);
    if (!adjuster.fixed && !canMove)
      findings.error(
        'VALUE_WRONG',
        { found: 'an adjuster without travel', wanted: 'travel one way at least, or "fixed": true' },
        item.at('moves'),
      );
    return adjuster;
  };
  return soundOnes(declare('adjuster', draft.adjusters, settle, draft.isComplete('adjusters'), findings));
}

const travelOf = (plus: number, minus: number, pitch: number | undefined, unit: LengthUnit): Travel => ({
  plus: toUm(plus, unit),
  minus: toUm(minus, unit),
  pitchUm: pitch === undefined ? null : toUm(pitch, unit),
});

/** Supports stand under the rail or just beyond its last stations: no farther than the stations are apart. */
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
  findings.error('VALUE_WRONG', { found: `${along} ${unit}`, wanted }, item.at('along'));
}

/** Reports: ID_UNKNOWN for a rail that is not to be touched. */
export function settleAim(draft: Draft, rails: Declared<Rail>, findings: Findings): void {
  (draft.input?.corrections?.untouched ?? []).forEach((id, i) =>
    lookUp('rail', rails, id, draft.source.at(['corrections', 'untouched', i]), findings),
  );
}

export const aimOf = (input: JobInput['corrections']): CorrectionAim => ({
  want: input?.want ?? 'fewest-moves',
  margin: input?.margin ?? 0,
  untouched: input?.untouched ?? [],
  timeLimitS: input?.timeLimit ?? 10,
});
