/** The words of a page within its template: {{say "key" name=value}}. */
import type Handlebars from 'handlebars';
import type { MessageKey, Parameters, Words } from '../words/words.js';

/** Strict: a missing field throws, and so does a message without its parameter. */
export const templateOptions = {
  strict: true,
  knownHelpersOnly: true,
  knownHelpers: { say: true, lookup: true },
  preventIndent: true,
} as const;

export const sayHelper = ({ say }: Words) => ({
  say: (key: MessageKey, { hash }: Handlebars.HelperOptions) => say(key, hash as Parameters),
});
