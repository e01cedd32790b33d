/**
 * How a results document of another version is compared with the one that this version makes of the same inputs.
 *
 * Keys that the other version did not write are not compared. Values that it defined differently cannot be compared: such places
 * are named, with the reason. Everything else must be equal.
 */

import type { Results } from './results-schema.js';

const ADDED: readonly { readonly since: string; readonly places: RegExp }[] = [
  {
    since: '0.6.0',
    places:
      /^(?:phases\.[^.]+\.characteristics|corrections\.predicted)\[\d+\]\.(?:extremes|judged|risk|profile)\b|^settings\.risk$|\.reliability\[\d+\]\.(?:turns|moves)\b/,
  },
  // The level of the test for blunders.
  { since: '0.6.0', places: /\.adjustment\.critical$/ },
  // All that the front door finds is now in the document, not only a part of it.
  {
    since: '0.6.0',
    places:
      /^phases\.[^.]+\.read\b|^survey\.rails\[\d+\]\.read\b|^warnings\b|^phases\.[^.]+\.unstated\b|\.holdsUpTo\b/,
  },
  { since: '0.5.0', places: /\.(?:reasons|settling|noticedNoise)\b/ },
  // `settle`: which remedy helps most is no longer part of that sentence.
  {
    since: '0.4.0',
    places:
      /^(?:phases\.[^.]+\.characteristics|corrections\.predicted)\[\d+\]\.(?:helps|ends|settle)\b|^toleranceSet\.(?:grade|basedOn)\b|^phases\.[^.]+\.loops\b/,
  },
  {
    since: '0.3.0',
    places: /^issue$|^(?:phases\.[^.]+\.characteristics|corrections\.predicted)\[\d+\]\.readings\b/,
  },
  // Moves of stations and rails, and plans of jobs without adjusters.
  { since: '0.2.0', places: /^corrections\.(?!earthCurvature$|spanAt20\b|thermalBow\b)/ },
];

export interface Otherwise {
  /** The first version with today's definition; null: each version has its own. */
  readonly since: string | null;
  readonly places: RegExp;
  /** Only the places for which this returns true for the other version's document. */
  readonly where?: (place: string, document: unknown) => boolean;
  /** The content of these places, in words. */
  readonly what: string;
  readonly why: string;
}

/** true: the place belongs to a characteristic whose two limits differ. */
function isOfZone(place: string, document: unknown): boolean {
  const [, phase, index] = /^phases\.([^.]+)\.characteristics\[(\d+)\]/.exec(place) ?? [];
  const { phases } = document as Pick<Results, 'phases'>;
  return phase !== undefined && phases[phase]?.characteristics[Number(index)]?.zone !== undefined;
}

const OTHERWISE: readonly Otherwise[] = [
  {
    since: '0.6.0',
    places: /^phases\.[^.]+\.characteristics\[\d+\]\./,
    where: isOfZone,
    what: 'figures with limits that differ to two sides',
    why: 'it gave the end farthest from zero; now it is the end that lies nearest to its own limit',
  },
  {
    since: '0.6.0',
    places: /\.holdsUpTo\b|\.reliability\[\d+\]\.moves\b/,
    what: 'what errors that do not show would do',
    why: 'it took the change of the signed figure, also where the sign turns; now it is the change of what is judged',
  },
  {
    since: '0.6.0',
    places: /^phases\.[^.]+\.unstated\b/,
    what: 'the effects that nobody stated',
    why: 'it looked at fewer effects, so that the places of the list hold other effects now',
  },
  {
    since: '0.6.0',
    places: /\.adjustment\.(?:suspects|groups)\b|\.closures\b|\.loops\[\d+\]\.(?:allowed|exceeded)$/,
    what: 'which readings and closures stand out',
    why: 'it tested each reading by itself; now the level holds for the whole survey, and causes are found in another way',
  },
  {
    since: '0.6.0',
    places: /^warnings\b/,
    what: 'what the program warned of',
    why: 'it looked for other mistakes',
  },
  {
    since: null,
    places: /^corrections\.(?!earthCurvature$|spanAt20\b|thermalBow\b)/,
    what: 'the plan of moves',
    why: 'it is advice, and each version searches for it in its own way',
  },
  {
    since: null,
    places: /\.(?:message|why|mend|settle)$/,
    what: 'the wording of notes and reasons',
    why: 'each version has its own words',
  },
];

/** @param version Of the software that wrote the document. @returns true: the place was added after this version. */
export const addedAfter =
  (version: string) =>
  (place: string): boolean =>
    ADDED.some(({ since, places }) => isBefore(version, since) && places.test(place));

/** @param version Another version. @param document Written by it. @returns The different definition at a place; undefined: the definition is the same. */
export const definedOtherwise =
  (version: string, document: unknown) =>
  (place: string): Otherwise | undefined =>
    OTHERWISE.find(
      ({ since, places, where }) =>
        (since === null || isBefore(version, since)) &&
        places.test(place) &&
        (where === undefined || where(place, document)),
    );

function isBefore(version: string, since: string): boolean {
  const [a, b] = [version, since].map((text) => text.split('.').map(Number)) as [number[], number[]];
  const k = b.findIndex((part, i) => part !== (a[i] ?? 0));
  return k >= 0 && (a[k] ?? 0) < b[k]!;
}
