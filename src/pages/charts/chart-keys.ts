/** Rail ids as parts of file names. */

/**
 * A token of ASCII letters, digits, `.`, `_` and `-` for each id; an id that is already such a token keeps its
 * name. Others, and ids that differ only in case, get a short hash of the id after them, so that a token depends
 * on its id and not on the order of the rails.
 */
export function safeTokens(ids: readonly string[]): Map<string, string> {
  const plain = ids.map((id) =>
    id
      .normalize('NFKD')
      .replace(/\p{M}+/gu, '')
      .replace(/[^A-Za-z0-9._-]+/g, '_')
      .slice(0, 40),
  );
  const count = new Map<string, number>();
  for (const token of plain) count.set(token.toLowerCase(), (count.get(token.toLowerCase()) ?? 0) + 1);
  return new Map(
    ids.map((id, i) => {
      const token = plain[i]!;
      const unchanged = token === id && count.get(token.toLowerCase()) === 1 && !/\.$/.test(token);
      return [id, unchanged ? token : `${token.replace(/[._]+$/, '')}_${hash(id)}`];
    }),
  );
}

/** 32-bit FNV-1a over the UTF-16 units, as seven characters. */
function hash(text: string): string {
  let h = 0x811c9dc5;
  for (let i = 0; i < text.length; i++) h = Math.imul(h ^ text.charCodeAt(i), 0x01000193) >>> 0;
  return h.toString(36).padStart(7, '0');
}
