/** A characteristic in two reports of a job, in words: for the first page of an amended report, and for changes.html. */
import { namingFor, type IdentityOrNull, type Naming } from '../../../results/identity.js';
import type { JudgedChange, JudgedFigures, Results, Verdict } from '../../../results/results-schema.js';
import {
  coverageFactor,
  reportUnits,
  resultText,
  unitFor,
  withUnit,
  type ReportUnits,
} from '../../../results/words/format-quantity.js';
import { verdictMarks } from '../../../results/words/texts.js';
import { identityText, phaseText, verdictText } from '../../words/names.js';
import type { Words } from '../../words/words.js';
import { figureText } from '../figures.js';
import { datumId, limitWords } from './characteristic-names.js';

/** Units, coverage factor and names with which a job's figures are printed. */
export interface Style extends Words {
  readonly units: ReportUnits;
  readonly k: number;
  readonly naming: Naming;
}

const BASE = { length: 'mm', deviation: 'um', slope: 'um/m' } as const;

/** @param of Units of the later report, with the coverage of its uncertainties: null without one. */
export function styleOf(
  of: {
    readonly style: (Parameters<typeof reportUnits>[0] & { readonly coverage: number }) | null;
    readonly about: { readonly datum: string | null } | null;
    readonly characteristics: readonly IdentityOrNull[];
  },
  words: Words,
): Style {
  const units = reportUnits(of.style ?? BASE, words.mark);
  const naming = namingFor(of.characteristics, { datum: of.about?.datum ?? null, length: units.length });
  return { ...words, units, k: of.style === null ? 2 : coverageFactor(of.style.coverage), naming };
}

export const characteristicText = (c: JudgedChange, style: Style): string =>
  style.say('changes.name', { name: identityText(c, style.naming, style), phase: phaseText(c.phase, style) });

/** "no report" if there is none. */
export const verdictOrNone = (verdict: Verdict | null, words: Words): string =>
  verdict === null ? words.say('changes.no-report') : verdictText(verdict, words);

export const verdictCell = (verdict: Verdict | null, words: Words) => ({
  mark: verdict === null ? '' : verdictMarks[verdict],
  css: verdict ?? 'none',
  words: verdictOrNone(verdict, words),
});

export function sideText(side: JudgedFigures | null, c: JudgedChange, style: Style) {
  if (side === null) return { mark: '', css: 'none', words: style.say('changes.not-asked'), figures: '' };
  return { ...verdictCell(side.verdict, style), figures: judgedText(side, c, style) };
}

/** "16.8 µm, 8.0 to 19.0 µm, limit 15 µm" */
export function judgedText(side: JudgedFigures, { unit, signed }: JudgedChange, style: Style): string {
  const shownUnit = unitFor(style.units, unit);
  const limit = (text: string) =>
    withUnit(limitWords({ ...side, signed }, text, shownUnit, style), shownUnit);
  const { say, number } = style;
  if (side.value === null)
    return side.limit === null
      ? say('not-determined')
      : say('changes.figure.open', {
          limit: limit(number(shownUnit.fromBase(side.limit), shownUnit.decimals)),
        });
  const { value, u, interval } = side;
  const text = resultText({ value, u, interval, limit: side.limit, signed }, style.k, shownUnit);
  return say('changes.figure', {
    figure: figureText(signed, text, shownUnit, style),
    limit: text.limit === null ? 'none' : limit(text.limit),
  });
}

/** Differences between an amended report and the report before: one sentence per changed verdict and figure, the job's verdict first. */
export function amendedLines(results: Results, words: Words): string[] {
  const { amends } = results.issue ?? {};
  if (amends === undefined) return [];
  const { say } = words;
  const before = amends.verdictBefore;
  const changes = amends.changes.filter((change) => typeof change !== 'string');
  const style = styleOf(
    {
      style: { ...results.style, coverage: results.settings.coverage },
      about: { datum: datumId(results) },
      characteristics: changes,
    },
    words,
  );
  const side = (figures: JudgedFigures | null, change: JudgedChange) => {
    const { figures: text, words: verdict } = sideText(figures, change, style);
    return text === '' ? verdict : say('amended.figure', { figure: text, verdict });
  };
  return [
    ...(before === undefined
      ? []
      : [
          say('amended.verdict', {
            before: verdictText(before, words),
            after: verdictText(results.verdict, words),
          }),
        ]),
    ...amends.changes.map((change) =>
      typeof change === 'string'
        ? change
        : say('amended.line', {
            name: characteristicText(change, style),
            before: side(change.before, change),
            after: side(change.after, change),
          }),
    ),
  ];
}
