/** On which page each named place of a printed file is, so that its contents can say so. */
import { readDictionary } from './dictionary.js';
import { numberOf, readPdf, type PdfFile } from './read-file.js';

/**
 * @returns Number of the page, from 1, by the id that a link of the page names; empty where the file has no such places or
 *   is written in a way that Chromium does not write.
 * @see ISO 32000-1, 7.7.3 (page tree), 12.3.2.3 (named destinations).
 */
export function placesIn(printed: Uint8Array): ReadonlyMap<string, number> {
  try {
    const file = readPdf(printed);
    const catalog = readDictionary(file.plain.get(numberOf(file.trailer.get('Root')))!);
    const pages = pagesUnder(file, numberOf(catalog.get('Pages')));
    const numbers = new Map(pages.map((object, i) => [object, i + 1]));
    const places = readDictionary(file.plain.get(numberOf(catalog.get('Dests')))!);
    return new Map(
      [...places].flatMap(([name, place]) => {
        const page = numbers.get(Number(/^\[\s*(\d+) 0 R/.exec(place)?.[1]));
        return page === undefined ? [] : [[name, page]];
      }),
    );
  } catch {
    return new Map();
  }
}

/** Objects of the pages, in order. */
function pagesUnder(file: PdfFile, node: number): number[] {
  const kids = readDictionary(file.plain.get(node)!).get('Kids');
  if (kids === undefined) return [node];
  return [...kids.matchAll(/(\d+) 0 R/g)].flatMap(([, kid]) => pagesUnder(file, Number(kid)));
}
