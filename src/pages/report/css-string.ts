/** A CSS string in which every character that could end it, or the style element, is written as an escape. */
export const cssString = (text: string): string =>
  `"${text.replace(/[^\p{L}\p{N} ._,:()-]/gu, (character) => `\\${character.codePointAt(0)!.toString(16)} `)}"`;

/** The same with the numbers of the page and of all pages. @param text Holds both as U+0001 and U+0002. */
export const pageCount = (text: string): string =>
  text
    .split(/([\u0001\u0002])/)
    .filter((part) => part !== '')
    .map((part) =>
      part === '\u0001' ? 'counter(page)' : part === '\u0002' ? 'counter(pages)' : cssString(part),
    )
    .join(' ');
