/** What every section needs to print a figure: the report's units and its coverage factor. */
import {
  coverageFactor,
  coverageText,
  measuredText,
  measuredWithUnit,
  reportUnits,
  trimmedText,
  type NumberStyle,
  type ReportUnit,
  type ReportUnits,
} from '../../results/words/format-quantity.js';
import type { PhaseName } from '../../survey/job/job-schema.js';
import { isKnown, type Known } from '../../results/known.js';
import type { PhaseResults, Results } from '../../results/results-schema.js';

export interface Figures {
  readonly units: ReportUnits;
  /** Coverage factor of expanded uncertainties. */
  readonly k: number;
  readonly kText: string;
  /** "U = 2·u", on one line. */
  readonly expanded: string;
  /** "95 %" */
  readonly coverage: string;
}

export function figuresOf(results: Results): Figures {
  const k = coverageFactor(results.settings.coverage);
  const kText = trimmedText(k, 2);
  return {
    units: reportUnits(results.style),
    k,
    kText,
    expanded: `U\u00a0=\u00a0${kText}·u`,
    coverage: coverageText(results.settings.coverage),
  };
}

export { isKnown, type Known };

/** "+3.1" and "2.4", from a quantity with its standard uncertainty. */
export const quantityText = (figures: Figures, quantity: Known, unit: ReportUnit, style: NumberStyle = {}) =>
  measuredText(quantity.value, figures.k * quantity.u, unit, style);

/** "+3.1 ± 2.4 µm" */
export const quantityWithUnit = (
  figures: Figures,
  quantity: Known,
  unit: ReportUnit,
  style: NumberStyle = {},
) => measuredWithUnit(quantity.value, figures.k * quantity.u, unit, style);

export interface NamedPhase {
  readonly name: PhaseName;
  readonly phase: PhaseResults;
}

/** The phases that were surveyed, in the order of the work. */
export function phasesOf(results: Results): readonly NamedPhase[] {
  return Object.entries(results.phases).map(([name, phase]) => ({ name, phase }));
}

/** The phase that carries the job's verdict. @throws {RangeError} a document without phases. */
export function lastPhase(results: Results): NamedPhase {
  const last = phasesOf(results).at(-1);
  if (!last) throw new RangeError('results hold no phase');
  return last;
}
