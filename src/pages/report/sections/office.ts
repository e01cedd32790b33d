/** The look of an office as the page places it: letterhead, terms, and its rules for the style sheet. */
import type { Brand } from '../../../survey/brand/read-brand.js';

export const officeOf = ({ document, logo }: Brand) => ({
  name: document.name,
  /** A data: address; '' for none. */
  logo: logo ?? '',
  lines: document.letterhead ?? [],
  accreditation: document.accreditation ?? '',
});

/** The office's colours and font: headings, letterhead and its rule; never a verdict, a figure or a picture. */
export function officeStyle({ document, font }: Brand): string {
  const { colours = {} } = document;
  const face = (base64: string, weight: number) =>
    `@font-face{font-family:"Office Sans";font-weight:${weight};src:url(data:font/woff2;base64,${base64}) format("woff2")}`;
  return [
    ...(font === null
      ? []
      : [
          face(font.regular, 400),
          ...(font.bold === null ? [] : [face(font.bold, 700)]),
          `h1,h2,h3,.letterhead{font-family:"Office Sans","Waysheet Sans",sans-serif}`,
        ]),
    ...(colours.headings === undefined
      ? []
      : [`h1,h2:not(.headline),h3,.letterhead .strong{color:${colours.headings}}`]),
    ...(colours.rules === undefined ? [] : [`.letterhead{border-bottom-color:${colours.rules}}`]),
  ].join('\n');
}
