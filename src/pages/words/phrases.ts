/**
 * Sentences that results.json holds in English words, said in another language: a text that is what a message `doc.…` or
 * `reason.…` of the English catalogue makes of some names is said by the same message of the other language, with the same
 * names. A text that no message makes stays as it is.
 */
import { IntlMessageFormat } from 'intl-messageformat';
import { characteristics, type CharacteristicName } from '../../survey/characteristics/characteristics.js';
import { en } from './en.js';
import { axisText, nameText, phaseText } from './names.js';
import { inEach, pairOf } from './pair.js';
import type { MessageKey, Parameters, Problems, Words } from './words.js';

interface Pattern {
  /** Of a message, or the message itself (problems). */
  readonly key: string;
  readonly names: readonly string[];
  /** What the message chooses by, in this form of it. */
  readonly chosen: Readonly<Record<string, string>>;
  readonly text: RegExp;
}

/** Of @formatjs/icu-messageformat-parser. */
interface Element {
  readonly type: number;
  readonly value: string;
  readonly options?: Readonly<Record<string, { readonly value: readonly Element[] }>>;
}
const [LITERAL, SELECT] = [0, 5];

/** The forms of a message; they are made when a text begins as it does. */
interface Phrase {
  readonly begins: string;
  readonly forms: () => readonly Pattern[];
}

const phrasesOf = (messages: readonly (readonly [key: string, message: string])[]): readonly Phrase[] =>
  // Those that say more themselves first: "tilt of A:3" is not what "{…} of …" would make of it.
  [...messages]
    .sort(([, a], [, b]) => ownLength(b) - ownLength(a))
    .map(([key, message]) => {
      let made: readonly Pattern[] | undefined;
      return {
        begins: /^[^{']*/.exec(message)![0],
        forms: () => (made ??= patternsOf(key, message)),
      };
    });

const patternsOf = (key: string, message: string): Pattern[] =>
  forms(new IntlMessageFormat(message, 'en').getAst() as unknown as readonly Element[]).map(
    ({ source, names, chosen }) => ({ key, names, chosen, text: new RegExp(`^${source}$`, 'u') }),
  );

let compiled: readonly Phrase[] | undefined;

const patterns = (): readonly Phrase[] =>
  (compiled ??= phrasesOf(Object.entries(en).filter(([key]) => /^(?:doc|reason)\./.test(key))));

const phrasesOfProblems = new WeakMap<Problems, readonly Phrase[]>();

/** What is said of problems (base/diagnostics/wording.ts, the causes of a misfit). null: no message makes this text. */
function ofProblem(text: string, words: Words): string | null {
  const messages = words.problems();
  let known = phrasesOfProblems.get(messages);
  if (known === undefined)
    phrasesOfProblems.set(messages, (known = phrasesOf(Object.keys(messages).map((key) => [key, key]))));
  return matched(text, known, words, (key, parameters) => words.form(messages[key]!, parameters));
}

/** Without the names. */
const ownLength = (message: string): number => message.replace(/\{\w+\}/g, '').length;

type Form = Omit<Pattern, 'key' | 'text'> & { readonly source: string };

/** A message with each of its choices. */
function forms(elements: readonly Element[]): Form[] {
  let all: Form[] = [{ source: '', names: [], chosen: {} }];
  for (const { type, value, options = {} } of elements) {
    const parts: Form[] =
      type === SELECT
        ? Object.entries(options).flatMap(([option, { value: own }]) =>
            forms(own).map((form) => ({ ...form, chosen: { ...form.chosen, [value]: option } })),
          )
        : type === LITERAL
          ? [{ source: value.replace(/[\\^$.*+?()[\]{}|]/g, '\\$&'), names: [], chosen: {} }]
          : [{ source: sourceOf(value), names: [value], chosen: {} }];
    all = all.flatMap((before) =>
      parts.map((part) => ({
        source: before.source + part.source,
        names: [...before.names, ...part.names],
        chosen: { ...before.chosen, ...part.chosen },
      })),
    );
  }
  return all;
}

/** A name holds no colon and no end of a sentence: what comes after one is another part. These may hold a colon. */
const WITH_COLON: ReadonlySet<string> = new Set(
  'values new plus missing fix because reason found list wanted said cause causes grounds'.split(' '),
);
/** Ids have few words, so that "S1" is told from "S1 drift with time"; amounts hold no part of a sentence after a comma. */
const ID = /^(?:setup|rail|pass|id|instrument|target|csv)\d?$/;
const AMOUNT = /^(?:value\d?|tilt)$/;
const sourceOf = (name: string): string =>
  ID.test(name)
    ? '([^ ]+?(?: [^ ]+?){0,2}?)'
    : AMOUNT.test(name)
      ? '((?:(?!: |, |\\. [A-Z]).)+?)'
      : name === 'why'
        ? '(.+)'
        : WITH_COLON.has(name)
          ? '((?:(?!\\. [A-Z]).)+)'
          : '((?:(?!: |\\. [A-Z]).)+?)';

export function phrase(text: string, words: Words): string {
  if (words.both !== undefined) return inBoth(words.both, (one) => phrase(text, one));
  if (words.language === 'en') return text;
  return matched(text, patterns(), words, sayIn(words)) ?? text;
}

/** One sentence after the other; from the first on that no message makes, the text stays as it is. */
export function sentences(text: string, words: Words): string {
  if (words.both !== undefined) return inBoth(words.both, (one) => sentences(text, one));
  if (words.language === 'en') return text;
  const whole = ofProblem(text, words);
  if (whole !== null) return whole;
  for (const { index } of [...text.matchAll(/[.?] (?=["A-Z])/g)].reverse()) {
    const head = ofProblem(text.slice(0, index + 1), words);
    if (head !== null) return `${head} ${sentences(text.slice(index + 2), words)}`;
  }
  return text;
}

const CODES = new RegExp(
  `\\b(?:${characteristics
    .map(({ name }) => name)
    .filter((name) => name.includes('-'))
    .sort((a, b) => b.length - a.length)
    .join('|')})\\b(?!-)`,
  'g',
);

/** "parallelism-horizontal" as the tables of a report name it: "parallelism, horizontal". */
export const withNames = (text: string, words: Words): string =>
  words.language === 'en' && words.both === undefined
    ? text.replace(CODES, (code) => words.lower(nameText(code as CharacteristicName, words)))
    : text;

/** A clause without its full stop. */
export const clause = (text: string, words: Words): string =>
  inEach(sentences(`${text}.`, words), (one) => one.replace(/\.$/, ''));

const inBoth = ([first, second]: readonly [Words, Words], said: (words: Words) => string): string =>
  pairOf(said(first), said(second));

const sayIn =
  ({ say }: Words) =>
  (key: string, parameters: Parameters): string =>
    say(key as MessageKey, parameters);

function matched(
  text: string,
  among: readonly Phrase[],
  words: Words,
  say: (key: string, parameters: Parameters) => string,
): string | null {
  for (const { begins, forms: made } of among) {
    if (!text.startsWith(begins)) continue;
    for (const { key, names, chosen, text: pattern } of made()) {
      const found = pattern.exec(text);
      if (found === null) continue;
      const named = Object.fromEntries(names.map((name, k) => [name, part(name, found[k + 1]!, words)]));
      return say(key, { ...chosen, ...named });
    }
  }
  return null;
}

const angles = ['yaw', 'pitch', 'roll'] as const;

const each = (text: string, separator: string | RegExp, say: (one: string) => string): string[] =>
  text.split(separator).map(say);

type Said = (text: string, words: Words) => string;

const listed: Said = (text, words) =>
  words.list(
    each(text, /, | and /, (one) =>
      one.replace(/^(\d+) to (\d+)$/, (_, from, to) => words.say('range', { from, to })),
    ),
  );
const reasons: Said = (text, words) =>
  matched(text, patterns(), words, sayIn(words)) ??
  each(text, '; ', (one) => ofProblem(one, words) ?? phrase(one, words)).join('; ');
const ofProblems: Said = (text, words) =>
  ofProblem(text, words) ?? each(text, '; ', (one) => ofProblem(one, words) ?? one).join('; ');

/** The names of messages that have words of their own; what any other name holds stays as it is. */
const said: Readonly<Record<string, Said>> = {
  angle: (text, { say }) => {
    const angle = angles.find((one) => one === text);
    return angle === undefined ? text : say(`angle.${angle}`);
  },
  axis: axisText,
  axes: (text, words) => words.list(each(text, ' and ', (axis) => axisText(axis, words))),
  phase: (text, words) =>
    /^as.(?:found|left)$/.test(text) ? phaseText(text.replace(' ', '-') as 'as-left', words) : text,
  what: (text, words) => each(text, ', ', (one) => characteristicText(one, words)).join(', '),
  values: (text, words) =>
    each(text, ', ', (value) => {
      const [own, ...figure] = value.split(' ');
      return [axisText(own!, words), ...figure].join(' ').replace('.', words.mark);
    }).join(', '),
  value: (text, { mark }) => text.replace('.', mark),
  day: (text, { day }) => day(text),
  numbers: listed,
  ids: listed,
  // Its set-up first: "S1, vertical gradient".
  effect: (text, words) =>
    matched(text, patterns(), words, sayIn(words)) ??
    each(text, ', ', (one) => phrase(one, words)).join(', '),
  reading: phrase,
  said: clause,
  causes: (text, words) =>
    each(text, /; (?=\(\d+\) )/, (one) =>
      one.replace(/(?<=^\(\d+\) ).+/, (cause) => ofProblem(cause, words) ?? cause),
    ).join('; '),
  ...Object.fromEntries(['stations', 'why', 'missing', 'fix'].map((name) => [name, reasons])),
  ...Object.fromEntries(
    'wanted grounds reason cause group where when look tilt kind readings cells many'
      .split(' ')
      .map((name) => [name, ofProblems]),
  ),
};

const part = (name: string, text: string, words: Words): string =>
  said[name.replace(/\d$/, '')]?.(text, words) ?? text;

/** "straightness-vertical", "cross-level of rail B" */
function characteristicText(text: string, words: Words): string {
  const [, code, rail] = /^([a-z-]+)(?: of rail (.+))?$/.exec(text) ?? [];
  const found = characteristics.find(({ name }) => name === code);
  if (found === undefined) return text;
  const name = nameText(found.name, words);
  return rail === undefined
    ? name
    : words.say('characteristic', { name, rails: words.say('rails.one', { rail }) });
}
