/** A CSS string in which every character that could end it, or the style element, is written as an escape. */
export function cssString(text: string): string {
  const escaped = [...text].map((character) =>
    /[\p{L}\p{N} ._,:()-]/u.test(character) ? character : `\\${character.codePointAt(0)!.toString(16)} `,
  );
  return `"${escaped.join('')}"`;
}
