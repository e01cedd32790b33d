/**
 * Dictionaries of a PDF as text: which values they have is read, what the values are is not.
 * @see ISO 32000-1, 7.3 (objects).
 */

/** A value as it is written in the file, by key without its slash; in the order of the file. */
export type Dictionary = Map<string, string>;

/** Space, then one piece: a bracket, a name, a hexadecimal string, a plain string without nested parentheses, a word. */
const PIECE =
  /[\0\t\n\f\r ]*(<<|>>|[[\]]|\/[^\0\t\n\f\r ()<>[\]{}/%]*|<[\dA-Fa-f\s]*>|\((?:\\[^]|[^\\()])*\)|[^\0\t\n\f\r ()<>[\]{}/%]+)/y;

/** @throws {Error} not a dictionary, or one that is written in a way that Chromium does not write. */
export function readDictionary(text: string): Dictionary {
  const pieces = piecesOf(text);
  if (pieces.shift() !== '<<' || pieces.pop() !== '>>')
    throw new Error(`not a dictionary: ${text.slice(0, 60)}`);
  const found: Dictionary = new Map();
  for (let at = 0; at < pieces.length;) {
    const key = pieces[at]!;
    const end = endOfValue(pieces, at + 1);
    if (!key.startsWith('/') || end > pieces.length) throw new Error(`not a key with a value: ${key}`);
    found.set(key.slice(1), pieces.slice(at + 1, end).join(' '));
    at = end;
  }
  return found;
}

export const dictionaryText = (entries: Dictionary | Readonly<Record<string, string>>): string =>
  `<<${[...(entries instanceof Map ? entries : Object.entries(entries))].map(([key, value]) => `/${key} ${value}`).join('\n')}>>`;

function piecesOf(text: string): string[] {
  const pieces: string[] = [];
  const end = text.trimEnd().length;
  for (PIECE.lastIndex = 0; PIECE.lastIndex < end;) {
    const at = PIECE.lastIndex;
    const found = PIECE.exec(text);
    if (found === null) throw new Error(`cannot be read: ${text.slice(at, at + 60)}`);
    pieces.push(found[1]!);
  }
  return pieces;
}

/** One name, string, list or dictionary; a number, or the three pieces of a reference. */
function endOfValue(pieces: readonly string[], from: number): number {
  let depth = 0;
  let at = from;
  for (; at < pieces.length; at++) {
    const piece = pieces[at]!;
    if (piece === '<<' || piece === '[') depth++;
    else if (piece === '>>' || piece === ']') depth--;
    if (depth === 0) break;
  }
  return /^\d+$/.test(pieces[at] ?? '') && pieces[at + 2] === 'R' ? at + 3 : at + 1;
}

/** A text of any script as a string of the file: UTF-16, in hexadecimal. */
export function textString(text: string): string {
  let hex = 'FEFF';
  for (let i = 0; i < text.length; i++) hex += text.charCodeAt(i).toString(16).toUpperCase().padStart(4, '0');
  return `<${hex}>`;
}

/** @see ISO 32000-1, 7.9.4. */
export const dateString = (date: Date): string =>
  `(D:${date.toISOString().replace(/\D/g, '').slice(0, 14)}Z)`;
