/** All effects, in the order in which a row has them. */
import { air } from './air.js';
import { benchmark } from './benchmark.js';
import type { EffectDescription } from './effect.js';
import { cone, levelZero } from './instrument.js';
import { railTilt, thermalBow } from './rail.js';
import { spanTemperature } from './span-temperature.js';
import { scale, seating, targetRoll } from './target.js';

export const effects = [
  air,
  cone,
  thermalBow,
  scale,
  targetRoll,
  railTilt,
  seating,
  levelZero,
  spanTemperature,
  benchmark,
] as const;

export type EffectName = (typeof effects)[number]['name'];

const byName = new Map<string, EffectDescription>(effects.map((e) => [e.name, e]));
export const effectNamed = (name: EffectName): EffectDescription => byName.get(name)!;
