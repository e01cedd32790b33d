import { expect, test } from 'vitest';
import { en } from '../../../src/pages/words/en.js';
import { glossary } from './glossary.js';
import { catalogueOf } from '../../../src/pages/words/languages.js';
import type { MessageKey } from '../../../src/pages/words/words.js';

const others = { de: catalogueOf('de'), fr: catalogueOf('fr'), es: catalogueOf('es'), it: catalogueOf('it') };
const keys = Object.keys(en) as MessageKey[];
const plain = (text: string): string => text.normalize('NFD').replace(/\p{M}/gu, '').toLowerCase();

/** Whether a text has the words of a term one after the other, whatever their endings. */
const has = (text: string, term: string): boolean =>
  new RegExp(
    plain(term)
      .split(' ')
      .map((word) => word.slice(0, Math.max(3, word.length - 2)))
      .join('[^ ]* '),
  ).test(plain(text));

/** A message may say a thing by a pronoun, or a verb where English has a noun. */
const LEAST = 1 / 4;

test.each(glossary)('$en: the same word in each language, wherever English says it', (term) => {
  const said = keys.filter((key) => new RegExp(`(?<![\\w-])${term.en}`, 'i').test(en[key]));
  expect(said.length).toBeGreaterThan(0);
  for (const [language, catalogue] of Object.entries(others)) {
    const own = said.filter((key) => has(catalogue[key], term[language as keyof typeof others]));
    expect(own.length / said.length, `${language}: ${own.length} of ${said.length}`).toBeGreaterThanOrEqual(
      LEAST,
    );
  }
});
