/**
 * Slope of any window (from each station to the farthest one within the stated length) minus the slope of the rail's own
 * least-squares line; the one of greatest magnitude. The slope of the whole rail is judged by level-along and parallelism.
 */
import type { FamilyPoint, LinearFamily } from './linear-family.js';
import { asking } from './asking.js';
import { slopeOf, type RailProfile } from './profiles.js';
import type { Question } from './question.js';
import { reason } from '../reasons/reason.js';

/** @param overMm Greatest length of the window. */
export function rateOfChangeQuestion(
  rail: string,
  plane: 'vertical' | 'horizontal',
  profile: RailProfile | null,
  overMm: number,
): Question {
  const ask = asking(`rate-of-change-${plane}`, rail, { over: overMm });
  const line = profile === null || profile.positions.length < 3 ? null : slopeOf(profile);
  if (profile === null || line === null) return ask.none(reason('rate-stations', { rail, plane }));
  const windows = slopesWithin(profile, overMm);
  if (windows === null) return ask.none(reason('rate-apart', { rail, overMm }));
  const family = { ...windows, shared: [line], multiplier: new Float64Array(windows.local.length).fill(1) };
  return ask.extreme(family, `rate of change|${rail}|${plane}|${overMm}`);
}

/** The slope of each window, from its first station to the farthest one within the length; null: no two are as near. */
export function slopesWithin(
  { positions, unknown, ...profile }: RailProfile,
  overMm: number,
): LinearFamily | null {
  const points: FamilyPoint[] = [];
  const starts: number[] = [];
  const local: LinearFamily['local'][number][] = [];
  for (let i = 0, k = 0; i < positions.length; i++) {
    k = Math.max(k, i);
    while (k + 1 < positions.length && positions[k + 1]! - positions[i]! <= overMm / 1000 + 1e-9) k++;
    if (k === i) continue;
    const perMetre = 1 / (positions[k]! - positions[i]!);
    points.push(profile.points[i]!);
    starts.push(positions[i]!);
    local.push({ index: [unknown[i]!, unknown[k]!], weight: [-perMetre, perMetre] });
  }
  if (local.length === 0) return null;
  return { points, positions: Float64Array.from(starts), local, shared: [], multiplier: new Float64Array(0) };
}
