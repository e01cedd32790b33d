/** Levels of the deepest document that waysheet writes, and some more: what walks through one need not fear for the stack. */
const DEEPEST = 64;

const isFlat = (value: unknown, left = DEEPEST): boolean =>
  typeof value !== 'object' ||
  value === null ||
  (left > 0 && Object.values(value).every((part) => isFlat(part, left - 1)));

/** @returns The value; undefined: the text is not JSON, or nested deeper than any document of ours. */
export function jsonOf(text: string | Uint8Array): unknown {
  try {
    const value: unknown = JSON.parse(typeof text === 'string' ? text : new TextDecoder().decode(text));
    return isFlat(value) ? value : undefined;
  } catch {
    return undefined;
  }
}
