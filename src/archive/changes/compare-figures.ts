/** The figures of stations and set-ups in two reports of one job. */
import { figuresOf, phasesOf, type Figures } from '../../pages/report/figures.js';
import { unitFor } from '../../results/words/format-quantity.js';
import type { Quantity, Results } from '../../results/results-schema.js';
import type { FigureChange } from './changes-schema.js';
import { digitsApart, hasMoved } from './moved.js';

/** Number of figures of one job that are listed: those that moved most. The list of an archive is then readable, and fits into memory. */
export const MAX_LISTED = 200;

interface Placed extends Pick<FigureChange, 'phase' | 'of' | 'name' | 'quantity' | 'unit'> {
  readonly figure: Quantity;
}

export function compareFigures(before: Results, after: Results): { count: number; listed: FigureChange[] } {
  const figures = figuresOf(before);
  const old = new Map(placedFigures(before).map((placed) => [keyOf(placed), placed]));
  const made = new Map(placedFigures(after).map((placed) => [keyOf(placed), placed]));
  const changes = [...new Map([...made, ...old])].flatMap(([key, about]) => {
    const change = changeOf(about, old.get(key)?.figure, made.get(key)?.figure, figures);
    return change === null ? [] : [change];
  });
  // The sort is stable: of two figures that moved equally, the first in the report comes first.
  const ordered = [...changes].sort((a, b) => (b.digits ?? Infinity) - (a.digits ?? Infinity) || 0);
  return { count: changes.length, listed: ordered.slice(0, MAX_LISTED) };
}

const keyOf = ({ phase, of, name, quantity }: Placed): string => JSON.stringify([phase, of, name, quantity]);

function changeOf(
  { phase, of, name, quantity, unit }: Placed,
  old: Quantity | undefined,
  made: Quantity | undefined,
  { units, k }: Figures,
): FigureChange | null {
  const before = sideOf(old);
  const after = sideOf(made);
  const about = { phase, of, name, quantity, unit, before, after };
  if (typeof before?.value !== 'number' || typeof after?.value !== 'number')
    return (before?.value ?? null) === (after?.value ?? null) ? null : { ...about, digits: null };
  const printed = { unit: unitFor(units, unit), k };
  const u = before.u ?? 0;
  const value = digitsApart(before.value, after.value, u, printed);
  const expanded = digitsApart(k * u, k * (after.u ?? 0), u, printed);
  const digits = Math.max(value, expanded);
  return hasMoved(digits) ? { ...about, digits } : null;
}

const sideOf = (figure: Quantity | undefined): FigureChange['before'] =>
  figure === undefined ? null : figure.value === null ? { value: null, u: null } : figure;

function placedFigures(results: Results): Placed[] {
  return phasesOf(results).flatMap(({ name: phase, phase: { stations, setups } }) => [
    ...setups.flatMap(({ id, yaw, pitch, roll }) =>
      placed({ phase, of: 'setup', name: id, unit: 'um/m' }, { yaw, pitch, roll }),
    ),
    ...stations.flatMap(({ rail, station, height, offset, ahead, deviation, difference }) =>
      placed(
        { phase, of: 'station', name: `${rail}:${station}`, unit: 'um' },
        {
          height,
          offset,
          ahead,
          'deviation vertical': deviation.vertical,
          'deviation horizontal': deviation.horizontal,
          'deviation along': deviation.along,
          'height from datum': difference?.height,
          'offset from datum': difference?.offset,
        },
      ),
    ),
  ]);
}

const placed = (
  about: Pick<Placed, 'phase' | 'of' | 'name' | 'unit'>,
  quantities: Readonly<Record<string, Quantity | undefined>>,
): Placed[] =>
  Object.entries(quantities).flatMap(([quantity, figure]) =>
    figure === undefined ? [] : [{ ...about, quantity, figure }],
  );
