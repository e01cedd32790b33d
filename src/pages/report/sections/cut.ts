/** How long a text may be: what is cut on page 1 is complete in the annex, all of it in results.json. */
import { inEach, inFirst } from '../../words/pair.js';
import type { Words } from '../../words/words.js';

/** Characters of two lines of a field. */
export const FIELD = 62;
export const NAME = 76;
export const RAILS = 120;
export const STATE = 90;

/** Characters of a word at which a text may end within it. */
const LONG_WORD = 16;

export const cut = (text: string, most: number): string =>
  inEach(text, (one) => {
    if (one.length <= most) return one;
    const part = one.slice(0, most - 1);
    const end = /\s/.test(one[most - 1]!) ? part.length : part.search(/\s\S*$/);
    return `${part.slice(0, end > part.length - LONG_WORD ? end : undefined).trimEnd()}…`;
  });

/** As many entries as fit, then a count. */
export function cutList(items: readonly string[], most: number, { say, parts }: Words): string {
  let text = parts(items);
  for (let n = items.length; inFirst(text).length > most && n > 1;)
    text = parts([...items.slice(0, --n), say('more.count', { count: items.length - n })]);
  return cut(text, most);
}
