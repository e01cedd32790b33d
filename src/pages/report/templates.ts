/** Our own templates, style sheets and scripts, and what pages are filled in with. */
import Handlebars from 'handlebars';
import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import type { MessageKey, Parameters, Words } from '../words/words.js';

/** Next to src/ and next to dist/. */
const FOLDER = new URL('../../../templates/', import.meta.url);

/** What is made for a key, once in a process. */
function once<T>(make: (key: string) => T): (key: string) => T {
  const made = new Map<string, T>();
  return (key) => {
    if (!made.has(key)) made.set(key, make(key));
    return made.get(key)!;
  };
}

export const templateText = once((file) => readFileSync(new URL(file, FOLDER), 'utf8'));

/** As a content security policy names what may run or style. */
export const policyHash = (text: string): string =>
  `sha256-${createHash('sha256').update(text).digest('base64')}`;

/** JSON within a page: no text of it can end the element that holds it. */
export const embedded = (value: unknown): string =>
  JSON.stringify(value).replace(
    /[<\u2028\u2029]/g,
    (c) => `\\u${c.charCodeAt(0).toString(16).padStart(4, '0')}`,
  );

/** Strict: a missing field throws, and so does a message without its parameter. */
const OPTIONS = {
  strict: true,
  knownHelpersOnly: true,
  knownHelpers: { say: true, lookup: true },
  preventIndent: true,
} as const;

let withParts: typeof Handlebars | undefined;

function handlebars(): typeof Handlebars {
  if (withParts !== undefined) return withParts;
  withParts = Handlebars.create();
  for (const file of readdirSync(new URL('partials/', FOLDER)).sort())
    withParts.registerPartial(
      file.replace(/\.hbs$/, ''),
      withParts.compile(templateText(`partials/${file}`), OPTIONS),
    );
  return withParts;
}

/** Text is escaped. {{say "key" name=value}} is a message, `partials/NAME.hbs` a part. */
export const compiledTemplate = once((text) => {
  const page = handlebars().compile<object>(text, OPTIONS);
  return (words: Words, view: object): string => {
    const say = (key: MessageKey, { hash }: Handlebars.HelperOptions) => words.say(key, hash as Parameters);
    return fillCells(page({ ...view, language: words.language }, { helpers: { say } }));
  };
});

/**
 * An empty cell of a table is left out of the tags of a printed PDF, so that its row seems to have too few: a space that
 * does not break keeps it.
 *
 * @see ISO 14289-1, 7.5 (tables).
 */
const fillCells = (html: string): string => html.replace(/(<t[dh]\b[^>]*>)\s*(<\/t[dh]>)/g, '$1&nbsp;$2');
