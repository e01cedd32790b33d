/** The sheets that make a move: as few as possible. */
import { Programme } from './programme.js';

export interface Sheets {
  readonly add: number[];
  readonly take: number[];
}

/** Greatest number of sheets of one thickness that are put in or taken out at one place. */
export const MOST_SHEETS = 12;

/** Greatest number of sheets of one thickness at one place. */
export const sheetsIn = (inUm: number, um: number): number =>
  Math.min(MOST_SHEETS, Math.floor(inUm / um + 1e-9));

/**
 * The step of moves by sheets, if every multiple of it is possible: 0.05 mm with sheets of 0.05, 0.1 and 0.2 mm. One whole
 * number then represents all combinations of sheets.
 *
 * @param up, down Range of the moves, µm.
 * @returns null: not every multiple is possible.
 */
export function stepOfSheets(have: readonly number[], inUm: number, up: number, down: number): number | null {
  // Whole nanometres, so that sums are exact.
  const sizes = have.map((um) => Math.round(1000 * um));
  const step = sizes.reduce(greatestCommonDivisor);
  const counts = (of: (um: number) => number) => sizes.map((size, s) => [size / step, of(have[s]!)] as const);
  const reaches = (most: number, sheets: readonly (readonly [number, number])[]) => {
    const can = new Uint8Array(most + 1);
    can[0] = 1;
    for (const [size, count] of sheets)
      for (let total = most; total >= 0; total--)
        for (let k = 1; k <= count && k * size <= total && can[total] === 0; k++)
          can[total] = can[total - k * size]!;
    return can.every((one) => one === 1);
  };
  const steps = (um: number) => Math.floor((1000 * um) / step + 1e-9);
  const mostDown = Math.min(down, inUm);
  const isWhole =
    reaches(
      steps(up),
      counts(() => MOST_SHEETS),
    ) &&
    reaches(
      steps(mostDown),
      counts((um) => sheetsIn(inUm, um)),
    );
  return isWhole ? step / 1000 : null;
}

const greatestCommonDivisor = (a: number, b: number): number =>
  b === 0 ? a : greatestCommonDivisor(b, a % b);

/** Limit of iterations of the search for the sheets of one place; about ten are usual. */
const MOST_WORK = 10_000;

/** @param have Available thicknesses, µm. @param inUm Sheets that are there now. @param um The move. */
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
    // With equal numbers, sheets are put in: the present ones stay.
    cost.set(add, 1);
    cost.set(take, 1.01);
  });
  programme.row(sum, { least: um - 1e-6, most: um + 1e-6 });
  programme.row(taken, { most: inUm });
  const found = await programme.solve(cost, { mostWork: MOST_WORK });
  const sheets = (kind: string) =>
    have.flatMap((sheet, s) => new Array<number>(Math.round(found.value(`${kind}${s}`))).fill(sheet));
  return { add: sheets('a'), take: sheets('t') };
}
