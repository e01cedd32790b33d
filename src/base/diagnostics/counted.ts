/** Counted nouns, written in one place. */

/**
 * A number with its noun: `1 slope`, `2 slopes`, `1 entry`, `3 entries`.
 *
 * @param noun In the singular.
 * @param plural Needed if the plural does not end in -s, or in -ies after a consonant.
 */
export const counted = (n: number, noun: string, plural = pluralOf(noun)): string =>
  `${n} ${n === 1 ? noun : plural}`;

/** The form of a verb that goes with a count: `agree(1, 'is', 'are')`. */
export const agree = (n: number, one: string, more: string): string => (n === 1 ? one : more);

const pluralOf = (noun: string): string =>
  /[^aeiou]y$/.test(noun)
    ? `${noun.slice(0, -1)}ies`
    : /(?:s|x|ch|sh)$/.test(noun)
      ? `${noun}es`
      : `${noun}s`;
