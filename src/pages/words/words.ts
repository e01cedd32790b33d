/**
 * The words of pages: one catalogue for each language, one message for each sentence (ICU message format). A page is given
 * the words of its language; nothing here remembers which.
 *
 * The bytes must not depend on the version of Node, so nothing is formatted by the tables of `Intl` but the choice of a
 * plural: numbers, days and lists are written here.
 */
import { IntlMessageFormat } from 'intl-messageformat';
import {
  numberText,
  trimmedText,
  type DecimalMark,
  type NumberStyle,
} from '../../results/words/format-quantity.js';
import type { Language } from '../../survey/job/languages.js';
import { numberRuns } from '../../survey/readings/what-was-read.js';
import { en } from './en.js';
import { inFirst, inSecond, pairOf } from './pair.js';

export type MessageKey = keyof typeof en;
/** All messages of a language. */
export type Catalogue = Readonly<Record<MessageKey, string>>;

/** What is said of problems, by the English message. */
export type Problems = Readonly<Record<string, string>>;

/** Counts are numbers, so that words agree with them; every other figure comes as the text that is to be printed. */
export type Parameters = Readonly<Record<string, string | number>>;

export interface Words {
  readonly language: Language;
  /** Texts are pairs of these two (pair.ts); absent: one language. */
  readonly both?: readonly [Words, Words];
  readonly mark: DecimalMark;
  /**
   * @param parameters Of the message, by name.
   * @throws {Error} a parameter that the message names is missing: a programming mistake.
   */
  readonly say: (key: MessageKey, parameters?: Parameters) => string;
  readonly problems: () => Problems;
  /** A message of this language that has no key. */
  readonly form: (message: string, parameters: Parameters) => string;
  readonly number: (x: number, decimals: number, style?: NumberStyle) => string;
  readonly trimmed: (x: number, mostDecimals: number, style?: NumberStyle) => string;
  /** Parts that hold commas: "a; b". */
  readonly parts: (items: readonly string[]) => string;
  /** "a, b and c" */
  readonly list: (items: readonly string[]) => string;
  /** "4, 7 to 9 and 12" */
  readonly numbers: (numbers: readonly number[]) => string;
  /** A text that begins a sentence, within one: German nouns keep their capital. */
  readonly lower: (text: string) => string;
  /** A day as 2026-03-14, also with its time, in the order of the language; another text stays as it is. */
  readonly day: (iso: string) => string;
}

/** No line ends before a per cent sign. French parts a high sign from its word by a space at which no line ends. */
const typeset = (message: string, language: Language): string =>
  (language === 'fr'
    ? message.replace(/ (?=[;!?](?!\p{L}))/gu, '\u202f').replace(/ (?=[:»])|(?<=«) /g, '\u00a0')
    : message
  ).replace(/ (?=%)/g, '\u00a0');

/** The same between the items of a list that comes as a parameter. */
const LISTS = new Set([
  'list',
  'parts',
  'notes',
  'names',
  'places',
  'line',
  'open',
  'count',
  'outcome',
  'missed',
  'wanted',
]);
const spaced = (parameters: Parameters): Parameters =>
  Object.fromEntries(
    Object.entries(parameters).map(([name, value]) => [
      name,
      LISTS.has(name) && typeof value === 'string' ? value.replace(/(?<!\u202f); /g, '\u202f; ') : value,
    ]),
  );

const NONE: Problems = {};

/** @param messages Of the language; those of another one are its own for a test (a pseudo-language). */
export function wordsFrom(
  language: Language,
  messages: Catalogue,
  problems: () => Problems = () => NONE,
): Words {
  const compiled = new Map<string, IntlMessageFormat>();
  const mark = language === 'en' ? '.' : ',';
  const number = (x: number, decimals: number, style: NumberStyle = {}): string =>
    numberText(x, decimals, { ...style, mark });
  // What a count says of its nouns; its digits are grouped as all others are.
  const formatters = {
    getNumberFormat: () => ({ format: (x: number) => number(x, 0) }),
    getDateTimeFormat: () => {
      throw new Error('days are written by Words.day');
    },
    getPluralRules: (locale: unknown, options: Intl.PluralRulesOptions) =>
      new Intl.PluralRules(locale as string, options),
  };
  const form = (text: string, parameters: Parameters): string => {
    let message = compiled.get(text);
    if (message === undefined)
      compiled.set(
        text,
        (message = new IntlMessageFormat(typeset(text, language), language, undefined, {
          formatters,
        } as never)),
      );
    return message.format(language === 'fr' ? spaced(parameters) : parameters) as string;
  };
  const say = (key: MessageKey, parameters: Parameters = {}): string => form(messages[key], parameters);
  return {
    language,
    mark,
    say,
    problems,
    form,
    number,
    trimmed: (x, mostDecimals, style = {}) => trimmedText(x, mostDecimals, { ...style, mark }),
    parts: (items) => items.join(language === 'fr' ? '\u202f; ' : '; '),
    ...listsOf(say),
    lower: (text) => (language === 'de' ? text : text.charAt(0).toLowerCase() + text.slice(1)),
    // English keeps the order of ISO 8601, which both sides of an ocean read alike.
    day: (iso) =>
      language === 'en'
        ? iso.replace(/(?<=^\d{4}-\d{2}-\d{2})T(?=\d)/, ' ')
        : iso
            .replace(/^(\d{4})-(\d{2})-(\d{2})(?!\d)/, language === 'de' ? '$3.$2.$1' : '$3/$2/$1')
            .replace(/(?<=^\d\d.\d\d.\d{4})T(?=\d)/, ' '),
  };
}

const listsOf = (say: Words['say']): Pick<Words, 'list' | 'numbers'> => {
  const list = (items: readonly string[]): string =>
    items.length < 2
      ? items.join('')
      : say('list.and', { first: items.slice(0, -1).join(', '), last: items.at(-1)! });
  return { list, numbers: (numbers) => list(numberRuns(numbers, (from, to) => say('range', { from, to }))) };
};

/** Of two languages; one figure and one day are written one way on the whole page: as the first language does, and as ISO 8601. */
export function bothWords(first: Words, second: Words): Words {
  const own = (parameters: Parameters, of: (text: string) => string): Parameters =>
    Object.fromEntries(
      Object.entries(parameters).map(([name, x]) => [name, typeof x === 'string' ? of(x) : x]),
    );
  const say: Words['say'] = (key, parameters = {}) =>
    pairOf(first.say(key, own(parameters, inFirst)), second.say(key, own(parameters, inSecond)));
  return {
    ...first,
    both: [first, second],
    say,
    ...listsOf(say),
    lower: (text) => pairOf(first.lower(inFirst(text)), second.lower(inSecond(text))),
    day: (iso) => (first.day(iso) === second.day(iso) ? first.day(iso) : iso),
  };
}

/** The first of two; one language is itself. */
export const firstOf = (words: Words): Words => words.both?.[0] ?? words;

export const english: Words = wordsFrom('en', en);
