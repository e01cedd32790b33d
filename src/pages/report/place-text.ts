/** Where a characteristic is decided, in words. */
import type { CharacteristicResult } from '../../results/results-schema.js';
import { characteristicOf } from '../../survey/characteristics/characteristics.js';
import type { Words } from '../words/words.js';

/** "A:18" */
export const stationText = ({ rail, station }: { readonly rail: string; readonly station: number }): string =>
  `${rail}:${station}`;

/** "A:18, A:20": the stations that make the figure; "A:18 to 20": the stretch that makes it; '': the whole rail. */
export function placeText({ at, what }: Pick<CharacteristicResult, 'at' | 'what'>, { say }: Words): string {
  const keys = at.map(stationText);
  const to = at[1];
  return characteristicOf(what).local && to !== undefined
    ? say('range', { from: keys[0]!, to: String(to.station) })
    : keys.join(', ');
}
