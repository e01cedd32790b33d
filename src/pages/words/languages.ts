/** The words of a language. They are templates/words/LANGUAGE.json, one message a line. */
import { firstLanguage, type Language, type Languages } from '../../survey/job/languages.js';
import { readWords } from './read-words.js';
import { bothWords, english, wordsFrom, type Catalogue, type Problems, type Words } from './words.js';

const made = new Map<Language, Words>();

/**
 * Only the language that is asked for is read. Its messages are those of English (tests/pages/words/catalogue.test.ts).
 *
 * @param of Of two the first. Absent or null: English.
 */
export function wordsOf(of: Languages | null = null): Words {
  const language = firstLanguage(of ?? 'en');
  if (language === 'en') return english;
  let words = made.get(language);
  if (words === undefined) {
    let problems: Problems | undefined;
    words = wordsFrom(language, catalogueOf(language), () => (problems ??= problemsIn(language)));
    made.set(language, words);
  }
  return words;
}

/** For a page that can show two languages: texts are pairs (pair.ts) where two are asked for. */
export const wordsOfAll = (of: Languages | null): Words =>
  of === null || typeof of === 'string' ? wordsOf(of) : bothWords(wordsOf(of[0]), wordsOf(of[1]));

export const catalogueOf = (language: Exclude<Language, 'en'>): Catalogue => readWords(language);

/** Read only where a page speaks of a problem. */
export const problemsIn = (language: Exclude<Language, 'en'>): Problems => readWords(`problems/${language}`);
