/** How a likely cause is fixed: a change of job.json that the program can make, or what a person looks up in the readings. */
import { applyEdits, findNodeAtLocation, modify, parseTree } from 'jsonc-parser';

/** One value of job.json, or the name of one key. */
export type JobEdit =
  | {
      /** Keys and indices from the top: ['setups', 1, 'plus', 'vertical']. Missing keys in between are created. */
      readonly path: readonly (string | number)[];
      /** undefined: the key or the element is removed. */
      readonly value: string | number | boolean | object | undefined;
      /** The value is inserted into the list before the element that the path names; −1: at the end. */
      readonly insert?: boolean;
    }
  | {
      readonly path: readonly (string | number)[];
      /** The new name of the last key of the path. */
      readonly key: string;
    };

/** `text`: what a person has to do, in one or two sentences. */
export type Fix =
  | { readonly kind: 'job'; readonly text: string; readonly edits: readonly JobEdit[] }
  /** Readings are never changed by the program. */
  | { readonly kind: 'readings'; readonly text: string };

/** What a person looks up in the field notes and corrects in the readings. */
export const lookUp = (text: string): Fix => ({ kind: 'readings', text });

/** A fix that the program can make after a person has agreed. */
export type JobFix = Extract<Fix, { readonly kind: 'job' }>;

/**
 * The text of job.json after a fix. Everything else stays as it was: order of keys, indentation, line ends.
 *
 * @param text A job.json that can be parsed.
 * @throws {Error} the path goes through a value that has no keys: the fix belongs to another job.
 */
export function applyFix(text: string, { edits }: JobFix): string {
  const formattingOptions = formattingOf(text);
  return edits.reduce((done, edit) => {
    if ('key' in edit) return renamed(done, edit);
    const { path, value, insert: isArrayInsertion = false } = edit;
    return applyEdits(done, modify(done, [...path], value, { formattingOptions, isArrayInsertion }));
  }, text);
}

function renamed(text: string, { path, key }: Extract<JobEdit, { readonly key: string }>): string {
  const root = parseTree(text);
  const node = root === undefined ? undefined : findNodeAtLocation(root, [...path])?.parent?.children?.[0];
  if (node === undefined) throw new Error(`there is no key ${path.join('.')}`);
  return applyEdits(text, [{ offset: node.offset, length: node.length, content: JSON.stringify(key) }]);
}

/** Indentation and line ends of the file; two blanks if it is on one line. */
function formattingOf(text: string): { insertSpaces: boolean; tabSize: number; eol: string } {
  const indent = /^[\t ]+(?=\S)/m.exec(text)?.[0] ?? '  ';
  const insertSpaces = !indent.startsWith('\t');
  return {
    insertSpaces,
    tabSize: insertSpaces ? indent.length : 1,
    eol: text.includes('\r\n') ? '\r\n' : '\n',
  };
}
