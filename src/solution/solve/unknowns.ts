/**
 * The unknowns of one phase, and the order in which they are eliminated. Points come first, along the rails, so that the cost
 * is linear in their number. What they share (planes, target assemblies, sight lines) is the border and comes last.
 */

import type { Axis } from '../../survey/job/job.js';
import type { EffectDescription } from './effects/effect.js';
import { effectNamed, type EffectName } from './effects/effects.js';

/** Heights, offsets and places in µm; drift in µm/h; pitch, roll, yaw, squareness and sight lines in µm/m. */
export type Unknown =
  | {
      readonly kind: 'height' | 'offset' | 'place';
      readonly rail: string;
      readonly station: number;
      readonly alongM: number;
      readonly acrossM: number;
    }
  | {
      readonly kind: 'height' | 'place';
      readonly monument: string;
      readonly alongM: number;
      readonly acrossM: number;
    }
  | { readonly kind: 'plane-height' | 'pitch' | 'roll' | 'yaw' | 'square-place'; readonly setup: string }
  | { readonly kind: 'drift'; readonly setup: string; readonly axis: Axis }
  | { readonly kind: 'running-offset'; readonly setup: string; readonly rail: string }
  | { readonly kind: 'squareness'; readonly instrument: string }
  | { readonly kind: 'rod-height' | 'bracket-across' | 'bracket-along'; readonly target: string }
  | { readonly kind: 'sight'; readonly sight: string }
  /** Departure of an effect from its stated value, in the unit of its description (effects/). */
  | { readonly kind: 'effect'; readonly effect: EffectName }
  /** The same at one place along the rails. */
  | {
      readonly kind: 'placed-effect';
      readonly effect: EffectName;
      readonly alongM: number;
      readonly acrossM: number;
    };

/** Height, offset or place of a station or monument. */
type PointUnknown = Extract<Unknown, { kind: 'height' | 'offset' | 'place' }>;

/** An unknown with one place along the rails; it is eliminated with the points there. */
type PlacedUnknown = Extract<Unknown, { alongM: number }>;

const isPlaced = (u: Unknown): u is PlacedUnknown => 'alongM' in u;

/** true: the unknown belongs to a station or a monument. */
export const isPoint = (u: Unknown): u is PointUnknown =>
  u.kind === 'height' || u.kind === 'offset' || u.kind === 'place';

/** The description of an effect; null: another unknown. */
export const effectOf = (u: Unknown): EffectDescription | null =>
  'effect' in u ? effectNamed(u.effect) : null;

/** Largest distance along between two stations of different rails that count as the same position, m. */
export const SAME_POSITION_M = 0.0005;

/** Numbers unknowns in the order in which equations first name them, and finds them by key. */
export class UnknownRegister {
  readonly list: Unknown[] = [];
  readonly keys: string[] = [];
  private readonly byKey = new Map<string, number>();

  /** Index of the unknown with this key; it is added if there is none. */
  index(key: string, unknown: Unknown): number {
    const known = this.byKey.get(key);
    if (known !== undefined) return known;
    this.byKey.set(key, this.list.length);
    this.list.push(unknown);
    this.keys.push(key);
    return this.list.length - 1;
  }

  find(key: string): number | undefined {
    return this.byKey.get(key);
  }
}

/**
 * The order of elimination. Points by position along, then across: neighbours joined by slope
 * readings are then close together, and the rows that an elimination leaves name only the next few points. Equal positions
 * and the border are sorted by key, so that the order of rows in a file makes no difference, not even to a random draw.
 *
 * @returns `order`: unknown indices, points first; `points`: how many of them are points.
 */
export function eliminationOrder(
  unknowns: readonly Unknown[],
  keys: readonly string[],
): { order: Int32Array; points: number } {
  const byKey = (a: number, b: number) => (keys[a]! < keys[b]! ? -1 : keys[a]! > keys[b]! ? 1 : 0);
  const points: number[] = [];
  const border: number[] = [];
  unknowns.forEach((u, i) => (isPlaced(u) ? points : border).push(i));
  const at = (i: number) => unknowns[i] as PlacedUnknown;
  points.sort((a, b) => at(a).alongM - at(b).alongM || at(a).acrossM - at(b).acrossM || byKey(a, b));
  border.sort(byKey);
  return { order: Int32Array.from([...points, ...border]), points: points.length };
}
