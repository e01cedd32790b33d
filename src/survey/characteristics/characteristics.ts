/** All characteristics, in the order of lists. To add one: its file, and its line here. */
import type { Characteristic } from './characteristic.js';
import { coplanarity } from './coplanarity.js';
import { crossLevel } from './cross-level.js';
import { elevation } from './elevation.js';
import { heightDifference } from './height-difference.js';
import { joints } from './joints.js';
import { levelAcross, levelAlong } from './level-along.js';
import { parallelism, parallelismToPlane } from './parallelism.js';
import { rateOfChange } from './rate-of-change.js';
import { span } from './span.js';
import { squareness } from './squareness.js';
import { straightness } from './straightness.js';
import { twist } from './twist.js';

export const characteristics = [
  ...straightness,
  levelAlong,
  ...parallelism,
  heightDifference,
  crossLevel,
  twist,
  span,
  coplanarity,
  squareness,
  levelAcross,
  parallelismToPlane,
  elevation,
  ...joints,
  ...rateOfChange,
] as const satisfies readonly Characteristic[];

export type CharacteristicName = (typeof characteristics)[number]['name'];

type Meaning = (typeof characteristics)[number]['meaning'];
/** All meanings, in the order of lists; the words of pages have a label and a text for each. */
export const meanings: readonly Meaning[] = [...new Set(characteristics.map(({ meaning }) => meaning))];

export const characteristicNames: readonly CharacteristicName[] = characteristics.map(({ name }) => name);

const byName = new Map<string, Characteristic>(characteristics.map((c) => [c.name, c]));

/** The description of a characteristic. */
export const characteristicOf = (name: CharacteristicName): Characteristic => byName.get(name)!;

/** One value per characteristic. */
export const perCharacteristic = <T>(
  value: (of: Characteristic<CharacteristicName>) => T,
): Readonly<Record<CharacteristicName, T>> =>
  Object.fromEntries(characteristics.map((c) => [c.name, value(c)])) as Record<CharacteristicName, T>;
