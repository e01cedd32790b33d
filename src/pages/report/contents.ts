/** The contents on page 1: each entry is a link, and a place for the number of its page, which is known once it is printed. */

const PLACE = /<span data-page="([\w-]+)">[^<]*<\/span>/g;

/** Ids of the sections that the contents of a page name. */
export const placesOfContents = (html: string): string[] =>
  [...html.matchAll(PLACE)].map(([, place]) => place!);

/** @param pages Number by id; an entry without one has none. */
export const numbered = (html: string, pages: ReadonlyMap<string, number>): string =>
  html.replace(PLACE, (_, place: string) => `<span data-page="${place}">${pages.get(place) ?? ''}</span>`);
