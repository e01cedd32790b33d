/**
 * Sign checks: a target moved to a known side by a known amount, and read again. They enter no solution; they tell
 * whether a set-up's `plus` and the unit of its readings are what job.json says.
 */
import type { Findings, Place } from '../../base/diagnostics/diagnostic.js';
import type { Axis } from '../job/job.js';
import type { Frame } from '../job/resolve-job.js';
import { isLengthUnit, toUm } from '../../base/units/units.js';
import { pointLabel } from './point-label.js';
import type { PointRef, Reading } from './readings.js';
import { unitWord } from '../../base/units/unit-words.js';

export interface SignCheck {
  readonly place: Place;
  readonly row: number;
  readonly setup: string;
  readonly point: PointRef;
  readonly target: string;
  readonly axis: Axis;
  /** As read after the move, µm. */
  readonly um: number;
  readonly moved: Moved;
}

export interface Moved {
  /** up, left, ahead are positive, whatever `plus` says. */
  readonly um: number;
  readonly axis: Axis;
  /** As it was written. */
  readonly text: string;
}

const SIDES: Readonly<Record<string, readonly [Axis, 1 | -1]>> = {
  up: ['vertical', 1],
  down: ['vertical', -1],
  left: ['horizontal', 1],
  right: ['horizontal', -1],
  ahead: ['along', 1],
  back: ['along', -1],
};

/** @param text "left 1 mm". @returns null: it cannot be read. */
export function movedBy(text: string): Moved | null {
  const [, side = '', number = '', unit = ''] =
    /^(\w+)\s+(?:by\s+)?(\d+(?:\.\d+)?)\s*(\S+)$/.exec(text.trim()) ?? [];
  const known = SIDES[side.toLowerCase()];
  const name = unitWord(unit);
  if (known === undefined || typeof name !== 'string' || !isLengthUnit(name) || !(Number(number) > 0))
    return null;
  return { axis: known[0], um: known[1] * toUm(Number(number), name), text: text.trim() };
}

/** A move is made by a dial or a block: a change this near to it is the move. */
const NEAR = 0.1;
/** Beyond this the reading's scale, or its unit, is not what it should be. */
const SCALE = 0.05;

/**
 * Asks: SIGN_CHECK_TURNED. Warns: SIGN_CHECK_SCALE; SIGN_CHECK_ALONE if the point was not read without the move.
 */
export function compareSignChecks(
  checks: readonly SignCheck[],
  readings: readonly Reading[],
  frame: Frame,
  findings: Findings,
): void {
  for (const check of checks) {
    const { place, axis, moved } = check;
    const before = nearestTo(check, readings);
    const point = pointLabel(check.point);
    if (before === null) {
      findings.warn('SIGN_CHECK_ALONE', { point, axis, setup: check.setup }, place);
      continue;
    }
    const setup = frame.setups.get(check.setup);
    if (setup === null || setup === undefined) continue;
    const u = frame.instruments.get(setup.instrument)?.readingU ?? 0;
    const [wanted, change] = [setup.sign[axis] * moved.um, check.um - before];
    const slack = 5 * Math.SQRT2 * u;
    const data = {
      point,
      axis,
      setup: check.setup,
      moved: moved.text,
      change: formatUm(change),
      wanted: formatUm(wanted),
    };
    // A move as small as the noise tells nothing.
    if (Math.abs(wanted) < 2 * slack) continue;
    if (Math.abs(change + wanted) <= Math.max(NEAR * Math.abs(wanted), slack))
      findings.ask(
        'SIGN_CHECK_TURNED',
        { ...data, plus: setup.sign[axis] === 1 ? OTHER[axis] : USUAL[axis] },
        place,
      );
    else if (Math.abs(change - wanted) > SCALE * Math.abs(wanted) + slack)
      findings.warn('SIGN_CHECK_SCALE', data, place);
  }
}

/** Which side is positive where job.json does not say. */
export const USUAL: Record<Axis, string> = { vertical: 'up', horizontal: 'left', along: 'ahead' };
const OTHER: Record<Axis, string> = { vertical: 'down', horizontal: 'right', along: 'back' };

/** The reading of the same point that is nearest to it in the file, µm; null: there is none. */
function nearestTo(check: SignCheck, readings: readonly Reading[]): number | null {
  let best: { um: number; apart: number } | null = null;
  for (const r of readings) {
    if (r.kind !== 'offset' || r.axis !== check.axis || r.setup !== check.setup) continue;
    if (r.target !== check.target || pointLabel(r.point) !== pointLabel(check.point)) continue;
    const apart = Math.abs(r.source.row - check.row);
    if (best === null || apart < best.apart) best = { um: r.um, apart };
  }
  return best?.um ?? null;
}

/** Three digits, as a message needs them. */
const formatUm = (um: number): string =>
  `${um < 0 ? '\u2212' : '+'}${Number(Math.abs(um).toPrecision(3))}\u00a0µm`;
