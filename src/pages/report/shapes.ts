/**
 * The shapes that page 1 may have: with all rows that it was made with, or with fewer, down to one. Which of them fits shows
 * when it is printed. A page without such rows has one shape.
 */
const ROW = /<tr class="[^"]*" data-row="(\d+)">[^]*?<\/tr>\n?/g;
const REST = /<p class="rest" data-rows="(\d+)">[^]*?<\/p>\n?/g;

export interface Shape {
  /** Number of rows; 0: there are none. */
  readonly rows: number;
  /** What is still too much for the page is not printed: the foot of page 1, never its verdict. */
  readonly isCut: boolean;
}

export const wholeShape = (html: string): Shape => ({ rows: html.match(ROW)?.length ?? 0, isCut: false });

export const inShape = (html: string, { rows, isCut }: Shape): string =>
  html
    .replace(ROW, (row, n: string) => (Number(n) <= rows ? row : ''))
    .replace(REST, (rest, n: string) => (Number(n) === rows ? rest : ''))
    .replace('<section class="page-one', (section) => (isCut ? `${section} cut` : section));

/**
 * The shape with most rows that fits, in about log₂ rows questions: it does not depend on what was printed before.
 *
 * @param tooLong Does not fit.
 */
export async function fittingShape(tooLong: Shape, fits: (shape: Shape) => Promise<boolean>): Promise<Shape> {
  let [most, over] = [0, tooLong.rows];
  while (over - most > 1) {
    const rows = Math.floor((most + over) / 2);
    if (await fits({ rows, isCut: false })) most = rows;
    else over = rows;
  }
  return most > 0 ? { rows: most, isCut: false } : { rows: Math.min(1, tooLong.rows), isCut: true };
}
