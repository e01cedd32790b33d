/**
 * Texts in two languages at once: a text that both languages say alike is plain; what differs is a pair, marked by
 * characters that Unicode keeps free for use within a program (U+FDD0 to U+FDD2), so that it may be part of a longer text.
 */
const [OPEN, BETWEEN, CLOSE] = ['\ufdd0', '\ufdd1', '\ufdd2'];
const PAIR = /\ufdd0([^\ufdd0-\ufdd2]*)\ufdd1([^\ufdd0-\ufdd2]*)\ufdd2/g;

export const isPair = (text: string): boolean => text.includes(OPEN);
export const inFirst = (text: string): string => (isPair(text) ? text.replace(PAIR, '$1') : text);
export const inSecond = (text: string): string => (isPair(text) ? text.replace(PAIR, '$2') : text);

export const pairOf = (first: string, second: string): string =>
  first === second ? first : OPEN + first + BETWEEN + second + CLOSE;

/** The same change of both languages. */
export const inEach = (text: string, change: (one: string) => string): string =>
  isPair(text) ? pairOf(change(inFirst(text)), change(inSecond(text))) : change(text);

/** What holds one text in each of two languages; cells of figures, and what is of class "once", say it once. */
const BLOCKS = /<(p|li|dd|dt|t[dh]|h[1-3]|caption)\b([^>]*)>([^]*?)<\/\1>/g;
const SAID_ONCE = /class="(?:[^"]* )?(?:number|spread|at|unit|once)[ "]/;

const wordsIn = (html: string): string[] =>
  html
    .replace(/<svg[^]*?<\/svg>|<[^>]*>|&nbsp;/g, ' ')
    .split(/[^\p{L}\p{N}]+/u)
    .filter((word) => word !== '');

/** Mostly names and figures: "A Outer rail (datum); B Inner rail" is said once. */
function isAlike(first: string, second: string): boolean {
  const [one, other] = [wordsIn(first), wordsIn(second)];
  const shared = one.filter((word) => other.includes(word)).length;
  return one.length === other.length && shared >= 0.75 * one.length;
}

/** A page whose texts are pairs: below each text its second language, smaller; attributes and titles keep the first. */
export function asTwoLanguages(page: string, second: string): string {
  if (!isPair(page)) return page;
  const translated = (text: string): string => {
    const own = inSecond(text).replace(/<svg[^]*?<\/svg>(?:&nbsp;)?/g, '');
    return isAlike(inFirst(text), own) ? '' : `<span class="translated" lang="${second}">${own}</span>`;
  };
  const both = page.replace(BLOCKS, (block, tag: string, attributes: string, inner: string) => {
    if (!isPair(inner) || (tag !== 'th' && SAID_ONCE.test(attributes))) return block;
    // Of a cell its name; the quieter line below it, rails and stations, has its own.
    const end = /^t[dh]$/.test(tag) ? inner.indexOf('<span class="detail">') : -1;
    const [main, detail] = end < 0 ? [inner, ''] : [inner.slice(0, end), inner.slice(end)];
    const quiet = detail.replace(/(?<=<span class="detail">)[^<]*/, (text) => text + translated(text));
    return `<${tag}${attributes}>${main}${translated(main)}${quiet}</${tag}>`;
  });
  return inFirst(both);
}
