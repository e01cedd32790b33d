/** How long a text may be: what is cut on page 1 is complete in the annex, all of it in results.json. */
import { inEach, inFirst } from '../../words/pair.js';
import type { Words } from '../../words/words.js';

/** Characters of two lines of a field. */
export const FIELD = 62;
export const NAME = 76;
export const RAILS = 120;
export const STATE = 90;

export const cut = (text: string, most: number): string =>
  inEach(text, (one) => (one.length <= most ? one : `${one.slice(0, most - 1).trimEnd()}…`));

/** As many entries as fit, then a count. */
export function cutList(items: readonly string[], most: number, { say, parts }: Words): string {
  let text = parts(items);
  for (let n = items.length; inFirst(text).length > most && n > 1;)
    text = parts([...items.slice(0, --n), say('more.count', { count: items.length - n })]);
  return cut(text, most);
}
