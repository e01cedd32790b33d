/** How a likely cause is fixed: a change of job.json that the program can make, or what a person looks up in the readings. */
import { applyEdits, findNodeAtLocation, modify, parseTree } from 'jsonc-parser';

/** One value of job.json, or the name of one key. */
export type JobEdit =
  | {
      /** Keys and indices from the top: ['setups', 1, 'plus', 'vertical']. Keys that are missing on the way are made. */
      readonly path: readonly (string | number)[];
      /** undefined: the key or the element goes. */
      readonly value: string | number | boolean | object | undefined;
      /** The value becomes a new element of the list, before the one that the path names; −1: at its end. */
      readonly insert?: boolean;
    }
  | {
      readonly path: readonly (string | number)[];
      /** What the last key of the path is called from then on. */
      readonly key: string;
    };

/** `text` says to a person what to do, in one or two sentences. */
export type Fix =
  | { readonly kind: 'job'; readonly text: string; readonly edits: readonly JobEdit[] }
  /** Readings are never changed by the program. */
  | { readonly kind: 'readings'; readonly text: string };

/** What a person looks up in the field notes and corrects in the readings. */
export const lookUp = (text: string): Fix => ({ kind: 'readings', text });

/** A fix that the program can make by itself, once a person has agreed. */
export type JobFix = Extract<Fix, { readonly kind: 'job' }>;

/**
 * The text of job.json with a fix made. All else stays as it was written: order of keys, indentation, line ends.
 *
 * @param text A job.json that can be parsed.
 * @throws {Error} the path leads through a value that has no keys: the fix is of another job.
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

/** Indentation and line ends as the file has them; two blanks where it is on one line. */
function formattingOf(text: string): { insertSpaces: boolean; tabSize: number; eol: string } {
  const indent = /^[\t ]+(?=\S)/m.exec(text)?.[0] ?? '  ';
  const insertSpaces = !indent.startsWith('\t');
  return {
    insertSpaces,
    tabSize: insertSpaces ? indent.length : 1,
    eol: text.includes('\r\n') ? '\r\n' : '\n',
  };
}
