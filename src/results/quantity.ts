/** Linear quantities as results: a value with its u, or the reason why there is none. */
import type { Adjustment, Functional } from '../solution/solve/adjustment.js';
import {
  applyFamily,
  combine,
  uncertainties,
  undetermined,
  type LinearFamily,
} from '../solution/characteristics/linear-family.js';
import type { Quantity } from './results-schema.js';
import type { Explainer } from '../solution/solve/explain.js';
import type { Reason } from '../solution/reasons/reason.js';
import { reasonWords } from '../solution/reasons/words.js';

/** A quantity that the readings cannot give. */
export const unknown = (reasons: readonly Reason[]): Quantity & { readonly value: null } => ({
  value: null,
  ...whyOf(reasons),
});

/** The reason, for people and for programs. */
export const whyOf = (reasons: readonly Reason[]): { why: string; reasons: Reason[] } => ({
  why: reasonWords(reasons),
  reasons: [...reasons],
});

/** Value of a functional with its u; or null, and the reason. */
export function quantityOf(adjustment: Adjustment, f: Functional, explain: Explainer): Quantity {
  if (!adjustment.isDetermined(f)) return unknown(explain([f]));
  return { value: adjustment.value(f), u: adjustment.standardUncertainty(f) };
}

/** One quantity per member of the family, by rail and station. */
export function quantitiesOf(
  adjustment: Adjustment,
  family: LinearFamily | null,
  explain: Explainer,
): Map<string, Quantity> {
  const result = new Map<string, Quantity>();
  if (family === null) return result;
  const values = applyFamily(family, adjustment.x);
  const u = uncertainties(family, adjustment);
  const moves = undetermined(family, adjustment);
  // One explanation for the whole family: neighbours have the same reason.
  const first = moves.indexOf(true);
  const last = moves.lastIndexOf(true);
  const reasons =
    first < 0 ? [] : explain([first, last].map((index) => combine(family, [{ index, weight: 1 }])));
  const none = unknown(reasons);
  family.points.forEach((point, i) => {
    result.set(stationKey(point.rail, point.station), moves[i] ? none : { value: values[i]!, u: u[i]! });
  });
  return result;
}

/** Key of a station in a map. */
export const stationKey = (rail: string, station: number): string => `${rail}\u0000${station}`;
