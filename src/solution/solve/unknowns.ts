/**
 * The unknowns of one phase: what each of them is, and the order in which they are
 * eliminated. Points come first, along the rails, so that the work grows with their number only linearly;
 * what they share (planes, target assemblies, sight lines) is the border and comes last.
 */

import type { Axis } from '../../survey/job/job.js';

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
  /** Departure of a gradient of temperature from what is stated, K/m. */
  | {
      readonly kind: 'air';
      readonly setup: string;
      readonly rail: string | null;
      readonly way: 'vertical' | 'sideways';
    }
  /** Angle of a swept plane's cone, µm/m. */
  | { readonly kind: 'cone'; readonly instrument: string; readonly axis: Axis }
  /** Error of a level's own zero in the instrument's frame, µm/m. */
  | { readonly kind: 'zero-pitch' | 'zero-roll'; readonly instrument: string }
  /** Error of a target's scale, per cent; of its roll, mrad. */
  | { readonly kind: 'scale' | 'target-roll'; readonly target: string }
  /** How a target sat at one placing, µm; the rail's own tilt at a station, µm/m. They stand where the target stands. */
  | {
      readonly kind: 'seat';
      readonly target: string;
      readonly placing: string;
      readonly alongM: number;
      readonly acrossM: number;
    }
  | {
      readonly kind: 'tilt';
      readonly rail: string;
      readonly station: number;
      readonly alongM: number;
      readonly acrossM: number;
    }
  /** How much warmer a rail's top is than stated; the temperature during the spans: K. */
  | { readonly kind: 'bow'; readonly rail: string }
  | { readonly kind: 'span-temperature' };

/** Height, offset or place of a station or monument. */
type PointUnknown = Extract<Unknown, { kind: 'height' | 'offset' | 'place' }>;

/** What belongs to one place along the rails, and is eliminated with it. */
type PlacedUnknown = Extract<Unknown, { alongM: number }>;

const isPlaced = (u: Unknown): u is PlacedUnknown => 'alongM' in u;

/** Whether it belongs to a station or a monument. */
export const isPoint = (u: Unknown): u is PointUnknown =>
  u.kind === 'height' || u.kind === 'offset' || u.kind === 'place';

/** Stations of two rails are matched by position along, m; so much is allowed between them. */
export const SAME_POSITION_M = 0.0005;

/** Numbers unknowns as equations first mention them, and finds them again by key. */
export class UnknownRegister {
  readonly list: Unknown[] = [];
  readonly keys: string[] = [];
  private readonly byKey = new Map<string, number>();

  /** Index of the unknown under `key`, made on first sight. */
  index(key: string, make: () => Unknown): number {
    const known = this.byKey.get(key);
    if (known !== undefined) return known;
    this.byKey.set(key, this.list.length);
    this.list.push(make());
    this.keys.push(key);
    return this.list.length - 1;
  }

  find(key: string): number | undefined {
    return this.byKey.get(key);
  }
}

/**
 * The order of elimination. Points by position along, then across: neighbours joined by slope readings then
 * stand close together, and what an elimination leaves behind reaches only a few points ahead. Ties and the
 * border go by key, so that the order of rows in a file changes nothing, not even a random draw.
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
