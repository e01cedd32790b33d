/**
 * An empty cell of a table is left out of the tags of a printed PDF, so that its row seems to have too few: a space that
 * does not break keeps it.
 *
 * @see ISO 14289-1, 7.5 (tables).
 */
export const fillCells = (html: string): string =>
  html.replace(/(<t[dh]\b[^>]*>)\s*(<\/t[dh]>)/g, '$1&nbsp;$2');
