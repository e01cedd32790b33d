/** Compares two results documents, value by value. */

export interface Difference {
  /** Where in the document: phases.as-left.characteristics[3].value */
  readonly place: string;
  readonly issued: string;
  readonly recomputed: string;
}

/** Differences below this share of a number are rounding of another version's arithmetic. */
const ROUNDING = 1e-9;

/**
 * @param issued, recomputed JSON documents.
 * @param skip Places that may differ, such as the software version.
 * @param rounding Relative difference that does not count; 0: every digit counts.
 */
export function compareResults(
  issued: unknown,
  recomputed: unknown,
  skip: (place: string) => boolean = () => false,
  rounding = ROUNDING,
): Difference[] {
  const found: Difference[] = [];
  const walk = (place: string, a: unknown, b: unknown): void => {
    if (skip(place)) return;
    if (isObject(a) && isObject(b) && Array.isArray(a) === Array.isArray(b)) {
      for (const key of new Set([...Object.keys(a), ...Object.keys(b)])) {
        const step = Array.isArray(a) ? `${place}[${key}]` : place === '' ? key : `${place}.${key}`;
        walk(step, a[key as keyof typeof a], b[key as keyof typeof b]);
      }
      return;
    }
    if (typeof a === 'number' && typeof b === 'number' && areNear(a, b, rounding)) return;
    if (a !== b) found.push({ place, issued: leaf(a), recomputed: leaf(b) });
  };
  walk('', issued, recomputed);
  return found;
}

const isObject = (v: unknown): v is object => typeof v === 'object' && v !== null;

// JSON reads 1e999 as infinite, which is near to everything.
const areNear = (a: number, b: number, rounding: number): boolean =>
  Number.isFinite(a - b) && Math.abs(a - b) <= rounding * Math.max(1e-3, Math.abs(a), Math.abs(b));

const leaf = (v: unknown): string =>
  v === undefined ? 'nothing' : isObject(v) ? 'something with parts' : JSON.stringify(v);
