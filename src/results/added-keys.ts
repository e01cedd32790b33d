/**
 * What documents of earlier versions lack, or say in other words. A report is held against what the present version makes of its inputs
 * without the keys that its own version did not write, or wrote otherwise.
 */

const ADDED: readonly { readonly since: string; readonly places: RegExp }[] = [
  {
    since: '0.6.0',
    places:
      /^(?:phases\.[^.]+\.characteristics|corrections\.predicted)\[\d+\]\.(?:extremes|judged|risk|profile)\b|^settings\.risk$|\.reliability\[\d+\]\.(?:turns|moves)\b/,
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

/** @param version Of the software that wrote the document. @returns Whether a place was added after it. */
export const addedAfter =
  (version: string) =>
  (place: string): boolean =>
    ADDED.some(({ since, places }) => isBefore(version, since) && places.test(place));

function isBefore(version: string, since: string): boolean {
  const [a, b] = [version, since].map((text) => text.split('.').map(Number)) as [number[], number[]];
  const k = b.findIndex((part, i) => part !== (a[i] ?? 0));
  return k >= 0 && (a[k] ?? 0) < b[k]!;
}
