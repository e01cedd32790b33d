/** What every section needs to print a figure: the report's units and its coverage factor. */
import {
  coverageFactor,
  coverageText,
  measuredText,
  measuredWithUnit,
  plusMinus,
  reportUnits,
  withUnit,
  type JudgedText,
  type NumberStyle,
  type ReportUnit,
  type ReportUnits,
} from '../../results/words/format-quantity.js';
import { english, type Words } from '../words/words.js';
import type { PhaseName } from '../../survey/job/job-schema.js';
import { isKnown, type Known } from '../../results/known.js';
import type { PhaseResults, Results } from '../../results/results-schema.js';

/** With the words of its language. */
export interface Figures extends Words {
  readonly units: ReportUnits;
  /** Coverage factor of expanded uncertainties. */
  readonly k: number;
  readonly kText: string;
  /** "U = 2·u", on one line. */
  readonly expanded: string;
  /** "95 %" */
  readonly coverage: string;
}

export function figuresOf(results: Results, words: Words = english): Figures {
  const k = coverageFactor(results.settings.coverage);
  const kText = words.trimmed(k, 2);
  return {
    ...words,
    units: reportUnits(results.style, words.mark),
    k,
    kText,
    expanded: `U\u00a0=\u00a0${kText}·u`,
    coverage: coverageText(results.settings.coverage, words.mark),
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

/** An amount without an uncertainty of its own. */
export const twoDigits = (x: number, { number }: Words): string =>
  number(x, Math.min(6, Math.max(0, 1 - Math.floor(Math.log10(Math.max(Math.abs(x), 1e-9))))));

/** One figure in a sentence: "+15 ± 31 µm" where it has a sign, "16.8 µm, 8.7 to 22.3 µm" where it is a range. */
export function figureText(isSigned: boolean, text: JudgedText, unit: ReportUnit, { say }: Words): string {
  if (isSigned || text.interval === null) return withUnit(plusMinus(text), unit);
  const [from, to] = text.interval;
  return say('figure.range', { figure: withUnit(text.value, unit), from, to: withUnit(to, unit) });
}

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
