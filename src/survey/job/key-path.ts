/** The path of a value in a JSON document. */

export type KeyPath = readonly (string | number)[];

/** As people write it: `rails[1].stations.first`; a key that is not a plain word is in quotes. */
export function formatKeyPath(path: KeyPath): string {
  let text = '';
  for (const step of path) {
    if (typeof step === 'number') text += `[${step}]`;
    else if (/^[A-Za-z_$][\w$-]*$/.test(step)) text += text === '' ? step : `.${step}`;
    else text += `[${JSON.stringify(step)}]`;
  }
  return text;
}

/** The path that is written so. */
export const parseKeyPath = (text: string): KeyPath =>
  [...text.matchAll(/\[(\d+)\]|\[("(?:[^"\\]|\\.)*")\]|([A-Za-z_$][\w$-]*)/g)].map(
    ([, index, quoted, word]) =>
      index !== undefined ? Number(index) : quoted !== undefined ? (JSON.parse(quoted) as string) : word!,
  );

/** The value at the path in a JSON document; undefined: there is none. */
export function valueAt(value: unknown, path: KeyPath): unknown {
  let at = value;
  for (const step of path) {
    if (typeof at !== 'object' || at === null || !Object.hasOwn(at, step)) return undefined;
    at = (at as Record<string | number, unknown>)[step];
  }
  return at;
}
