/** The words of a language. Those of other languages than English are templates/words/LANGUAGE.json, one message a line. */
import { readFileSync } from 'node:fs';
import type { Language } from '../../survey/job/languages.js';
import { english, wordsFrom, type Catalogue, type Words } from './words.js';

const made = new Map<Language, Words>();

/** Only the language that is asked for is read. Its messages are those of en.ts (tests/pages/words/catalogue.test.ts). */
export function wordsOf(language: Language): Words {
  if (language === 'en') return english;
  let words = made.get(language);
  if (words === undefined) made.set(language, (words = wordsFrom(language, catalogueOf(language))));
  return words;
}

export const catalogueOf = (language: Exclude<Language, 'en'>): Catalogue =>
  JSON.parse(
    readFileSync(new URL(`../../../templates/words/${language}.json`, import.meta.url), 'utf8'),
  ) as Catalogue;
