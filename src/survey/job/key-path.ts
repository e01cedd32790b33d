/** Where something stands inside a JSON document. */

export type KeyPath = readonly (string | number)[];

/** As people write it: `rails[1].stations.first`; a key that is no plain word stands in quotes. */
export function formatKeyPath(path: KeyPath): string {
  let text = '';
  for (const step of path) {
    if (typeof step === 'number') text += `[${step}]`;
    else if (/^[A-Za-z_$][\w$-]*$/.test(step)) text += text === '' ? step : `.${step}`;
    else text += `[${JSON.stringify(step)}]`;
  }
  return text;
}

/** What stands there in a JSON document; undefined: nothing. */
export function valueAt(value: unknown, path: KeyPath): unknown {
  let at = value;
  for (const step of path) {
    if (typeof at !== 'object' || at === null || !Object.hasOwn(at, step)) return undefined;
    at = (at as Record<string | number, unknown>)[step];
  }
  return at;
}
