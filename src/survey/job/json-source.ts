/**
 * A JSON document that knows the line of each key, so that every problem that is found later can be shown where someone
 * has to fix it.
 */
import { findNodeAtLocation, parseTree, printParseErrorCode, type Node, type ParseError } from 'jsonc-parser';
import { Findings, type Outcome, type Place } from '../../base/diagnostics/diagnostic.js';
import { formatKeyPath, type KeyPath } from './key-path.js';

export interface JsonSource {
  readonly file: string;
  /** Plain data: objects (only their own keys count), arrays, strings, numbers, booleans, null. */
  readonly value: unknown;
  /** Place of the key at `path`, or of its nearest parent that exists; `column` is always the whole path. */
  readonly at: (path: KeyPath) => Place;
  readonly has: (path: KeyPath) => boolean;
}

/** Documents with more levels are refused before they are parsed: job files need 6 levels. */
const MAX_LEVELS = 64;

/** Documents with more values are refused too: a rail may have 100 000 stations, and no job has many such rails. */
const MAX_VALUES = 300_000;

/**
 * Strict JSON: comments, trailing commas and repeated keys are errors.
 *
 * Fails: JSON_INVALID at the first place that is not JSON (what follows is rarely another mistake);
 * KEY_DUPLICATE at each repeated key, because JSON readers differ in which of the two they use.
 */
export function parseJsonSource(text: string, file: string): Outcome<JsonSource> {
  const findings = new Findings();
  const lineOf = lineFinder(text);
  const excess = excessOf(text);
  if (excess !== null) {
    findings.error('JSON_INVALID', { reason: excess }, { file, row: 1 });
    return { ok: false, diagnostics: findings.list };
  }
  const errors: ParseError[] = [];
  const root = parseTree(text, errors, { disallowComments: true, allowTrailingComma: false });
  const first = errors[0];
  if (first !== undefined || root === undefined) {
    const offset = first?.offset ?? 0;
    const { row, character } = lineOf(offset);
    const reason =
      first === undefined || text.trim() === ''
        ? 'the file is empty'
        : (typographic(text, offset) ?? reasonOf(first));
    findings.error('JSON_INVALID', { reason }, { file, row, column: `character ${character}` });
    return { ok: false, diagnostics: findings.list };
  }
  const at = (path: KeyPath): Place => {
    const offset = keyOffset(nearestNode(root, path));
    const { row, character } = lineOf(offset);
    const line = text.slice(offset - character + 1).split(/\r\n|\r|\n/, 1)[0]!;
    const key = `"${String(path[path.length - 1])}"`;
    const isFirst = line.indexOf(key) === character - 1 || !line.startsWith(key, character - 1);
    return { file, row, column: formatKeyPath(path), ...(!isFirst && { character }) };
  };
  const value = plainValue(root, [], (path, node) =>
    findings.error(
      'KEY_DUPLICATE',
      { key: String(path[path.length - 1]) },
      { file, row: lineOf(node.offset).row, column: formatKeyPath(path) },
    ),
  );
  const has = (path: KeyPath): boolean => findNodeAtLocation(root, [...path]) !== undefined;
  return findings.outcome(() => ({ file, value, at, has }));
}

/** A value in memory, for callers that have no document: places have key paths but no lines. */
export function sourceOfValue(value: unknown, file: string): JsonSource {
  const step = (from: unknown, key: string | number): unknown =>
    typeof from === 'object' && from !== null && Object.hasOwn(from, key)
      ? (from as Record<string | number, unknown>)[key]
      : undefined;
  return {
    file,
    value,
    at: (path) => ({ file, column: formatKeyPath(path) }),
    has: (path) => path.reduce<unknown>(step, value) !== undefined,
  };
}

/**
 * What the document has too much of; null: nothing. Counts outside strings, and before the parser is called, because the
 * parser recurses and makes a node for every value, which a hostile document could misuse.
 */
function excessOf(text: string): string | null {
  let depth = 0;
  let values = 1;
  for (let i = 0; i < text.length; i++) {
    const c = text[i];
    if (c === '"') {
      for (i++; i < text.length && text[i] !== '"' && text[i] !== '\n'; i++) if (text[i] === '\\') i++;
    } else if (c === '{' || c === '[') {
      if (++depth > MAX_LEVELS) return `brackets are nested more than ${MAX_LEVELS} deep`;
    } else if (c === '}' || c === ']') depth--;
    else if (c === ',' && ++values > MAX_VALUES) return `it holds more than ${MAX_VALUES} values`;
  }
  return null;
}

/** Line and character, both from 1. CR LF, LF and CR each end a line. */
function lineFinder(text: string): (offset: number) => { row: number; character: number } {
  const starts = [0];
  for (const end of text.matchAll(/\r\n|\r|\n/g)) starts.push(end.index + end[0].length);
  return (offset) => {
    let low = 0;
    let high = starts.length - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if (starts[middle]! <= offset) low = middle;
      else high = middle - 1;
    }
    return { row: low + 1, character: offset - starts[low]! + 1 };
  };
}

/** By the parser's code. */
export const jsonReasons: Readonly<Record<string, string>> = {
  InvalidSymbol: 'this is no JSON value; text must be in double quotes',
  InvalidNumberFormat: 'this number is not written as JSON wants it',
  PropertyNameExpected: 'a key in double quotes is missing here, or the comma before is one too many',
  ValueExpected: 'a value is missing here, or a comma is there with nothing after it',
  ColonExpected: 'a colon is missing after the key',
  CommaExpected: 'a comma is missing before this',
  CloseBraceExpected: 'a closing } is missing',
  CloseBracketExpected: 'a closing ] is missing',
  EndOfFileExpected: 'something follows after the end of the document',
  InvalidCommentToken: 'JSON has no comments',
  UnexpectedEndOfComment: 'JSON has no comments',
  UnexpectedEndOfString: 'the closing double quote of this text is missing on the line',
  UnexpectedEndOfNumber: 'this number breaks off',
  InvalidUnicode: 'a \\u sequence is not followed by four hexadecimal digits',
  InvalidEscapeCharacter:
    'a backslash is not allowed here; in a path write / in place of it, as in readings/as-left.csv',
  InvalidCharacter: 'there is a control character inside text',
};

/** Reports quotation marks of a word processor instead of those of JSON; null: the mistake is another one. */
function typographic(text: string, offset: number): string | null {
  const mark = /^\s*([“”„‟«»‘’‚])/u.exec(text.slice(offset, offset + 200))?.[1];
  return mark === undefined
    ? null
    : `the quotation mark ${mark} is a typographic one; JSON wants the plain " on both sides`;
}

const reasonOf = (error: ParseError): string => {
  const name = printParseErrorCode(error.error);
  return jsonReasons[name] ?? name;
};

function nearestNode(root: Node, path: KeyPath): Node {
  for (let length = path.length; length > 0; length--) {
    const node = findNodeAtLocation(root, path.slice(0, length));
    if (node !== undefined) return node;
  }
  return root;
}

/** For the value of a property: the offset of its key, because people look for the key. */
const keyOffset = (node: Node): number =>
  node.parent?.type === 'property' ? node.parent.offset : node.offset;

/** Plain data. `__proto__` becomes a key like any other, which the schema refuses. */
function plainValue(node: Node, path: KeyPath, repeated: (path: KeyPath, at: Node) => void): unknown {
  if (node.type === 'array') {
    return (node.children ?? []).map((child, i) => plainValue(child, [...path, i], repeated));
  }
  if (node.type !== 'object') return node.value as unknown;
  const object: Record<string, unknown> = {};
  for (const property of node.children ?? []) {
    const [name, value] = property.children ?? [];
    if (name === undefined || value === undefined) continue;
    const key = String(name.value);
    if (Object.hasOwn(object, key)) repeated([...path, key], name);
    Object.defineProperty(object, key, {
      value: plainValue(value, [...path, key], repeated),
      enumerable: true,
      configurable: true,
      writable: true,
    });
  }
  return object;
}
