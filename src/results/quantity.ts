/** Linear quantities as results: a value with its u, or the reason why there is none. */
import type { Adjustment, Functional } from '../solve/adjustment.js';
import {
  applyFamily,
  combine,
  uncertainties,
  undetermined,
  type LinearFamily,
} from '../characteristics/linear-family.js';
import type { Quantity } from './results-schema.js';

/** Says why functionals that are not determined are not. */
export type Explain = (moved: readonly Functional[]) => string;

export function quantityOf(adjustment: Adjustment, f: Functional, explain: Explain): Quantity {
  if (!adjustment.isDetermined(f)) return { value: null, why: explain([f]) };
  return { value: adjustment.value(f), u: adjustment.standardUncertainty(f) };
}

/** One quantity a member of the family, by rail and station. */
export function quantitiesOf(
  adjustment: Adjustment,
  family: LinearFamily | null,
  explain: Explain,
): Map<string, Quantity> {
  const result = new Map<string, Quantity>();
  if (family === null) return result;
  const values = applyFamily(family, adjustment.x);
  const u = uncertainties(family, adjustment);
  const moves = undetermined(family, adjustment);
  // One explanation for the family: neighbours lack the same thing.
  const first = moves.indexOf(true);
  const last = moves.lastIndexOf(true);
  const why = first < 0 ? '' : explain([first, last].map((index) => combine(family, [{ index, weight: 1 }])));
  family.points.forEach((point, i) => {
    result.set(
      stationKey(point.rail, point.station),
      moves[i] ? { value: null, why } : { value: values[i]!, u: u[i]! },
    );
  });
  return result;
}

export const stationKey = (rail: string, station: number): string => `${rail}\u0000${station}`;
