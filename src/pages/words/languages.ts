/** The catalogues by language; only the one that is asked for is loaded. */
import type { Language } from '../../survey/job/languages.js';
import { english, wordsFrom, type Catalogue, type Words } from './words.js';

const catalogues: Readonly<Record<Exclude<Language, 'en'>, () => Promise<Catalogue>>> = {
  de: async () => (await import('./de.js')).de,
  es: async () => (await import('./es.js')).es,
  fr: async () => (await import('./fr.js')).fr,
  it: async () => (await import('./it.js')).it,
};

const made = new Map<Language, Promise<Words>>();

export async function wordsOf(language: Language): Promise<Words> {
  if (language === 'en') return english;
  let words = made.get(language);
  if (words === undefined)
    made.set(language, (words = catalogues[language]().then((messages) => wordsFrom(language, messages))));
  return words;
}
