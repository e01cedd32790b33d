/** The catalogues by language; only the one that is asked for is loaded. */
import type { Language } from '../../survey/job/languages.js';
import { english, wordsFrom, type Catalogue, type Words } from './words.js';

const catalogues: Partial<Readonly<Record<Language, () => Promise<Catalogue>>>> = {};

const made = new Map<Language, Promise<Words>>([['en', Promise.resolve(english)]]);

export function wordsOf(language: Language): Promise<Words> {
  let words = made.get(language);
  if (words === undefined)
    made.set(language, (words = catalogues[language]!().then((messages) => wordsFrom(language, messages))));
  return words;
}
