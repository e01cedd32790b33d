/** The contents on page 1: each entry is a link, and a place for the number of its page, which is known once it is printed. */

const PLACE = /<span data-page="([\w-]+)">[^<]*<\/span>/g;

/** Ids of the sections that the contents of a page name. */
export const placesOfContents = (html: string): string[] =>
  [...html.matchAll(PLACE)].map(([, place]) => place!);

/** Words of each link to a place of the page, by the id of the place. */
export const linkWords = (html: string): ReadonlyMap<string, string> =>
  new Map(
    [...html.matchAll(/<a href="#([\w-]+)">([^<]*)/g)].map(([, place, words]) => [place!, words!.trim()]),
  );

/** @param pages Number by id; an entry without one has none. */
export const numbered = (html: string, pages: ReadonlyMap<string, number>): string =>
  html.replace(PLACE, (_, place: string) => `<span data-page="${place}">${pages.get(place) ?? ''}</span>`);

/** The page with its pictures empty; each takes as much room as before. */
export const withoutDrawings = (html: string): string =>
  html.replace(/(<img src="data:image\/svg\+xml;base64,)([^"]*)/g, (whole, head: string, data: string) => {
    const opening = /<svg[^>]*>/.exec(Buffer.from(data, 'base64').toString())?.[0];
    return opening === undefined ? whole : head + Buffer.from(`${opening}</svg>`).toString('base64');
  });
