/** Which sheets make a move: as few as may be, for each is a thing to find, to clean and to lose. */
import { Programme } from './programme.js';

export interface Sheets {
  readonly add: number[];
  readonly take: number[];
}

/** Sheets of one thickness that are put in or taken out at one place at most. */
export const MOST_SHEETS = 12;

/** How many of a thickness lie there at most. */
export const sheetsIn = (inUm: number, um: number): number =>
  Math.min(MOST_SHEETS, Math.floor(inUm / um + 1e-9));

/** @param have Thicknesses at hand, µm. @param inUm What lies there now. @param um The move that they are to make. */
export async function fewestSheets(have: readonly number[], inUm: number, um: number): Promise<Sheets> {
  const programme = new Programme();
  const sum = new Map<string, number>();
  const taken = new Map<string, number>();
  const cost = new Map<string, number>();
  have.forEach((sheet, s) => {
    const add = programme.variable(`a${s}`, 0, MOST_SHEETS, true);
    const take = programme.variable(`t${s}`, 0, sheetsIn(inUm, sheet), true);
    sum.set(add, sheet);
    sum.set(take, -sheet);
    taken.set(take, sheet);
    // Of equally many, those that are put in: what lies there stays.
    cost.set(add, 1);
    cost.set(take, 1.01);
  });
  programme.row(sum, { least: um - 1e-6, most: um + 1e-6 });
  programme.row(taken, { most: inUm });
  const found = await programme.solve(cost, 10);
  const sheets = (kind: string) =>
    have.flatMap((sheet, s) => new Array<number>(Math.round(found.value(`${kind}${s}`))).fill(sheet));
  return { add: sheets('a'), take: sheets('t') };
}
