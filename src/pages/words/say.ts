/** The words of pages: one catalogue, one message for each sentence, ICU message format (intl-messageformat). */
import { IntlMessageFormat } from 'intl-messageformat';
import { en } from './en.js';

export type MessageKey = keyof typeof en;

/** Counts are numbers, so that words agree with them; every other figure comes as the text that is to be printed. */
export type Parameters = Readonly<Record<string, string | number>>;

const compiled = new Map<MessageKey, IntlMessageFormat>();

/**
 * @param parameters Of the message, by name.
 * @throws {Error} a parameter that the message names is missing: a programming mistake.
 */
export function say(key: MessageKey, parameters: Parameters = {}): string {
  let message = compiled.get(key);
  if (message === undefined) compiled.set(key, (message = new IntlMessageFormat(en[key], 'en')));
  return message.format(parameters) as string;
}
