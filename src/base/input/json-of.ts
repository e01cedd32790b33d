/** @returns The value; undefined: the text is not JSON. */
export function jsonOf(text: string | Uint8Array): unknown {
  try {
    return JSON.parse(typeof text === 'string' ? text : new TextDecoder().decode(text));
  } catch {
    return undefined;
  }
}
