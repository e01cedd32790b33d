/** Messages taken to pieces: their parameters, and a language that nobody speaks. */
import { IntlMessageFormat } from 'intl-messageformat';
import { en } from '../../../src/pages/words/en.js';
import { problemsIn } from '../../../src/pages/words/languages.js';
import { wordsFrom, type Catalogue, type Words } from '../../../src/pages/words/words.js';

interface Element {
  readonly type: number;
  readonly value: string;
  readonly options?: Readonly<Record<string, { readonly value: readonly Element[] }>>;
}

/** Of @formatjs/icu-messageformat-parser. */
const [LITERAL, ARGUMENT, SELECT, PLURAL, POUND] = [0, 1, 5, 6, 7];

const parsed = (message: string): readonly Element[] =>
  new IntlMessageFormat(message, 'en').getAst() as unknown as readonly Element[];

/** "count plural", "name": each parameter with what chooses by it. */
export function parametersOf(message: string): string[] {
  const found = new Set<string>();
  const walk = (elements: readonly Element[]): void => {
    for (const { type, value, options = {} } of elements) {
      if (type === LITERAL || type === POUND) continue;
      found.add(value);
      for (const option of Object.values(options)) walk(option.value);
    }
  };
  walk(parsed(message));
  return [...found].sort();
}

/** The words that a message chooses by: "side colder"; plurals are each language's own. */
export function optionsOf(message: string): string[] {
  const found = new Set<string>();
  const walk = (elements: readonly Element[]): void => {
    for (const { type, value, options = {} } of elements) {
      if (type === SELECT) for (const option of Object.keys(options)) found.add(`${value} ${option}`);
      for (const option of Object.values(options)) walk(option.value);
    }
  };
  walk(parsed(message));
  return [...found];
}

/** What a message prints without its parameters, every choice of it. */
export function literals(message: string): string {
  const walk = (elements: readonly Element[]): string =>
    elements
      .map(({ type, value, options = {} }) =>
        type === LITERAL
          ? value
          : Object.values(options)
              .map((option) => walk(option.value))
              .join(' '),
      )
      .join(' ');
  return walk(parsed(message));
}

const ACCENTS: Readonly<Record<string, string>> = {
  ...{
    a: 'à',
    b: 'þ',
    c: 'ç',
    d: 'ð',
    e: 'é',
    f: 'ƒ',
    g: 'ğ',
    h: 'ĥ',
    i: 'î',
    j: 'ĵ',
    k: 'ķ',
    l: 'ł',
    m: 'ɱ',
  },
  ...{
    n: 'ñ',
    o: 'ö',
    p: 'ƥ',
    q: 'ʠ',
    r: 'ŕ',
    s: 'š',
    t: 'ţ',
    u: 'û',
    v: 'ṽ',
    w: 'ŵ',
    x: 'ẋ',
    y: 'ý',
    z: 'ž',
  },
};

/** Every letter with an accent, and words longer by two fifths. */
const strange = (text: string): string =>
  text.replace(/\p{L}+/gu, (word) => {
    const accented = [...word].map((c) => {
      const other = ACCENTS[c.toLowerCase()] ?? c;
      return c === c.toLowerCase() ? other : other.toUpperCase();
    });
    return accented.join('') + 'é'.repeat(Math.ceil(0.4 * word.length));
  });

const quoted = (text: string): string => text.replace(/'/g, '’').replace(/[{}<>#]/g, "'$&'");

function printed(elements: readonly Element[]): string {
  return elements
    .map(({ type, value, options = {} }) => {
      if (type === LITERAL) return quoted(strange(value));
      if (type === POUND) return '#';
      if (type === ARGUMENT) return `{${value}}`;
      const parts = Object.entries(options).map(([name, option]) => `${name} {${printed(option.value)}}`);
      return `{${value}, ${type === PLURAL ? 'plural' : 'select'}, ${parts.join(' ')}}`;
    })
    .join('');
}

const problems = Object.fromEntries(
  Object.keys(problemsIn('de')).map((message) => [message, printed(parsed(message))]),
);

/** In which no plain letter is left but those of the job. */
export const pseudo: Words = wordsFrom(
  'de',
  Object.fromEntries(
    Object.entries(en).map(([key, message]) => [key, printed(parsed(message))]),
  ) as Catalogue,
  () => problems,
);
