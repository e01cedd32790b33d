/** The checks of the readings: redundancy, outliers, and what nothing checks. */
import { groupBy } from '../../../base/lists.js';
import { mostOf } from '../../../base/statistics/extent.js';
import type {
  AdjustmentResult,
  PhaseResults,
  ResidualResult,
  Results,
  Suspect,
} from '../../../results/results-schema.js';
import { probabilityText, unitFor, withUnit } from '../../../results/words/format-quantity.js';
import { phasesOf, type Figures, type NamedPhase } from '../figures.js';
import { capitalised, sentence } from '../sentence.js';
import { cell, figure, figureHead, head, plain, rowHeader, tableIfAny, type Table } from '../table.js';
import type { CharacteristicName } from '../../../survey/characteristics/characteristics.js';
import { axisText, nameText, phaseText, whyText } from '../../words/names.js';
import { phrase, sentences, withNames } from '../../words/phrases.js';
import type { Words } from '../../words/words.js';
import { tableByPhase } from './by-phase.js';
import { datumId } from './characteristic-names.js';
import { chartPictures } from './pictures.js';
import { section, type Lacking } from './section.js';
import { reasonsOf, undeterminedLines } from './shared-reasons.js';

/** Standardised residuals with a smaller difference belong to readings that cannot be distinguished. */
const SAME_STANDARDISED = 1e-6;
/** Greatest number of printed entries of a list; all are in results.json. */
const MOST_SUSPECTS = 20;
const MOST_EXCLUDED = 60;
const MOST_WARNINGS = 60;

/** Sentences that are one short paragraph: it is not divided into two columns. */
const FEW_SENTENCES = 3;

export const checksSection = section({
  id: 'checks',
  css: 'annex',
  make: ({ results, figures, charts, lacking, number }) => {
    const { say } = figures;
    const phases = phasesOf(results);
    const summaries = phases.map(({ name, phase }, i) => ({
      title: phases.length > 1 ? capitalised(phaseText(name, figures)) : '',
      sentences: [
        ...adjustmentSentences(phase.adjustment, i === phases.length - 1, figures),
        // Errors that could be undetected in the judged phase.
        ...(i === phases.length - 1 ? tieSentences(phase.adjustment, figures) : []),
      ],
    }));
    return {
      summaries,
      isLong: summaries.flatMap(({ sentences }) => sentences).length > FEW_SENTENCES,
      leftOut: say(results.excluded.length === 0 ? 'left-out.none' : 'left-out.some'),
      confirmed: (results.confirmations ?? []).map(({ message, by, because }) =>
        say('confirmed.line', { message: withNames(sentences(message, figures), figures), by, because }),
      ),
      undeterminedTitle: say('undetermined.title'),
      undetermined: undeterminedSentences(phases, datumId(results), figures),
      ...number.tables({
        suspects: suspectTable(phases, figures),
        excluded: excludedTable(results, figures),
        repeatability: repeatabilityTable(phases, figures),
        warnings: warningTable(results, lacking, figures),
      }),
      pictures: number.pictures(chartPictures(charts, 'annex')),
    };
  },
});

/** Printed once if it is the same in both phases. */
function undeterminedSentences(phases: readonly NamedPhase[], datum: string, figures: Figures): string[] {
  const lines = phases.flatMap(({ name, phase }) =>
    openLines(phase, datum, figures).map((line) => ({ line, phase: phaseText(name, figures) })),
  );
  return [...groupBy(lines, ({ line }) => line)].map(([line, said]) =>
    said.length === phases.length
      ? line
      : figures.say('of-phase', { phase: capitalised(figures.list(said.map((one) => one.phase))), line }),
  );
}

/** With the names of the tables; a sentence without a characteristic is printed unchanged. */
function openLines(phase: PhaseResults, datum: string, figures: Figures): string[] {
  const explained = reasonsOf(phase.characteristics);
  const others = phase.undetermined.filter(({ why }) => !explained.has(why));
  return [
    ...undeterminedLines(phase.characteristics, datum, figures),
    ...others.map((one) =>
      capitalised(
        figures.say('undetermined.line', { names: one.what, why: sentence(whyText(one, figures)) }),
      ),
    ),
  ];
}

/** Redundancy, σ₀ and the consequences, in words. @param isLast The judged phase, which has the explanation. */
function adjustmentSentences(adjustment: AdjustmentResult, isLast: boolean, words: Words): string[] {
  const { say, number } = words;
  const { readings, priors, unknowns, rank, redundancy, sigma0, scale, chiSquare, noticedNoise, critical } =
    adjustment;
  const first = say('fit.readings', {
    readings: readings - priors,
    priors,
    unknowns,
    open: unknowns - rank,
    redundancy: number(redundancy, 0),
  });
  if (redundancy === 0 || sigma0 === null) return [first, say('fit.unchecked')];
  const fit = say('fit.sigma', {
    sigma: number(sigma0, 2),
    chance: chiSquare === null ? 'none' : chanceText(chiSquare.upperTail, words),
  });
  const widened =
    scale > 1
      ? say('fit.widened', { scale: number(scale, 2) })
      : say('fit.kept', { times: noticedNoise === undefined ? 'none' : number(noticedNoise, 1) });
  const suspects = say('fit.suspects', {
    count: adjustment.suspects.length,
    bound: number(critical ?? 0, 1),
  });
  return isLast
    ? [first, fit, widened, suspects]
    : [
        first,
        say('fit.sigma.short', { sigma: number(sigma0, 2) }),
        ...(scale > 1 ? [widened] : []),
        suspects,
      ];
}

/** Ties without a check on which verdicts depend; else the smallest detectable errors. */
function tieSentences({ reliability = [] }: AdjustmentResult, figures: Figures): string[] {
  const { say, list, number } = figures;
  const movesOf = (moves: (typeof reliability)[number]['moves']) =>
    moves.map(({ what, rail, by, unit }) => {
      const shown = unitFor(figures.units, unit);
      return say('ties.moves', {
        name: figures.lower(nameText(what as CharacteristicName, figures)),
        rail,
        by: withUnit(number(Math.abs(shown.fromBase(by)), shown.decimals), shown),
      });
    });
  const unchecked = reliability.filter(({ shows, moves }) => shows === null && moves.length > 0);
  const checked = reliability.filter(({ shows }) => shows !== null);
  // Ties that move the same characteristics are told together.
  const moved = ({ moves }: (typeof unchecked)[number]) =>
    moves.map(({ what, rail }) => `${what} ${rail}`).join();
  const groups = [...groupBy(unchecked, moved).values()];
  const { deviation } = figures.units;
  const size = (um: number) => withUnit(number(deviation.fromBase(um), deviation.decimals), deviation);
  return [
    ...groups.map((ties) =>
      say('ties.unchecked', {
        ties: list(ties.map(({ what }) => phrase(what, figures))),
        size: size(10),
        moves: list(movesOf(greatestMoves(ties.map(({ moves }) => moves)))),
      }),
    ),
    ...(checked.length === 0
      ? []
      : [
          say('ties.smallest', {
            list: checked
              .slice(0, 6)
              .map(({ what, shows }) => say('ties.shows', { tie: phrase(what, figures), size: size(shows!) }))
              .join('; '),
          }),
        ]),
  ];
}

type Moves = NonNullable<AdjustmentResult['reliability']>[number]['moves'];

/** Of lists of the same characteristics the greatest move of each. */
const greatestMoves = (lists: readonly Moves[]): Moves =>
  lists[0]!.map((move, k) => ({ ...move, by: mostOf(lists.map((list) => Math.abs(list[k]!.by))) }));

/** Probability by chance alone, never rounded to 0 or 1. */
function chanceText(p: number, { say, number, mark }: Words): string {
  if (p < 0.0001) return say('chance.hardly', { surveys: number(10_000, 0) });
  if (p > 0.999) return say('chance.nearly-all', { share: `${number(99.9, 1)}\u00a0%` });
  if (p < 0.01) return say('chance.one-in', { surveys: number(1 / p, 0) });
  return say('chance.share', { share: probabilityText(p, mark) });
}

function suspectTable(phases: readonly NamedPhase[], figures: Figures): Table | null {
  const { say, number } = figures;
  const twins = phases.some(({ phase }) => phase.adjustment.suspects.some((_, i, list) => isTwin(list, i)));
  const cut = phases.some(({ phase }) => phase.adjustment.suspects.length > MOST_SUSPECTS);
  return tableByPhase(phases, figures, {
    caption: say('suspects.caption'),
    itemsOf: ({ phase: { adjustment, residuals } }) =>
      adjustment.suspects.slice(0, MOST_SUSPECTS).map((suspect, i, list) => ({
        ...suspect,
        isTwin: isTwin(list, i),
        unit: figures.units[isSlope(residuals, suspect) ? 'slope' : 'deviation'],
      })),
    columns: [
      [
        head(say('head.file-row'), { css: 'wide' }),
        ({ file, row, ...one }) =>
          rowHeader(
            `${one.isTwin ? '= ' : ''}${file === null ? say('prior-value') : fileRow(file, row ?? '–', figures)}`,
            { css: 'wide' },
          ),
      ],
      [
        head(say('head.reading'), { css: 'wide' }),
        ({ what }) => cell(phrase(what, figures), { css: 'wide' }),
      ],
      [
        head(say('head.axis')),
        ({ axis }) => cell(axisText(phrase(axis.replace(DRIFT, ''), figures), figures)),
      ],
      [
        figureHead(say('head.residual')),
        ({ residual, axis, unit }) =>
          figure(
            withUnit(
              number(unit.fromBase(residual), unit.decimals, { signed: true }),
              DRIFT.test(axis) ? `${unit.label}/h` : unit.label,
            ),
          ),
      ],
      [
        figureHead(say('head.standardised')),
        ({ standardised }) => figure(number(standardised, 1, { signed: true })),
      ],
    ],
    css: 'suspects',
    notes: [
      say('suspects.note'),
      ...(twins ? [say('suspects.twins')] : []),
      ...(cut ? [say('first.of-each-phase', { most: MOST_SUSPECTS })] : []),
    ],
  });
}

/** The number of the row is not separated from its word. */
const fileRow = (file: string, row: number | string, { say }: Words): string =>
  say('file-row', { file, row });

const isTwin = (list: readonly Suspect[], i: number): boolean =>
  i > 0 &&
  Math.abs(Math.abs(list[i]!.standardised) - Math.abs(list[i - 1]!.standardised)) < SAME_STANDARDISED;

/** A stated drift is tested as a rate. */
const DRIFT = /^drift-/;

/** Slope readings, and stated levels and squareness, have residuals in slope units. */
const isSlope = (residuals: readonly ResidualResult[], suspect: Suspect): boolean =>
  suspect.prior === null
    ? residuals.some((r) => r.file === suspect.file && r.row === suspect.row && r.kind === 'slope')
    : !DRIFT.test(suspect.axis);

function repeatabilityTable(phases: readonly NamedPhase[], figures: Figures): Table | null {
  const { say } = figures;
  const inUnit = (value: number, name: 'um' | 'um/m') => {
    const unit = unitFor(figures.units, name);
    return figure(withUnit(figures.number(unit.fromBase(value), unit.decimals + 1), unit));
  };
  return tableByPhase(phases, figures, {
    caption: say('repeatability.caption'),
    itemsOf: ({ phase }) => phase.adjustment.repeatability,
    columns: [
      [head(say('head.instrument')), ({ instrument }) => rowHeader(instrument, { css: 'id' })],
      [head(say('head.axis')), ({ axis }) => cell(axisText(axis, figures))],
      [figureHead(say('head.deviation')), ({ s, unit }) => inUnit(s, unit)],
      [figureHead(say('head.stated')), ({ claimed, unit }) => inUnit(claimed, unit)],
      [figureHead(say('head.freedom')), ({ degreesOfFreedom }) => figure(String(degreesOfFreedom))],
    ],
    css: 'repeatability',
  });
}

/** The sentence if only the first entries of a list are printed. */
const firstOf = (list: readonly unknown[], most: number, { say }: Words): string[] =>
  list.length > most ? [say('first.of', { most, count: list.length })] : [];

function excludedTable(results: Results, words: Words): Table | null {
  const { say } = words;
  const { excluded } = results;
  return tableIfAny(
    say('excluded.caption'),
    [
      [
        head(say('head.file-row'), { css: 'wide' }),
        ({ file, row }) => rowHeader(fileRow(file, row, words), { css: 'wide' }),
      ],
      phasesOf(results).length > 1 && [
        head(say('head.phase')),
        ({ phase }) => cell(phaseText(phase, words), { css: 'short-text' }),
      ],
      [
        head(say('head.as-it-was'), { css: 'wide' }),
        ({ what }) =>
          cell(
            phrase(what, words)
              .replace(/(\d) (?=\S+(?:,|$))/g, '$1\u00a0')
              .replace(/(?<= )-(?=[\d.,])/g, '\u2212'),
            { css: 'wide' },
          ),
      ],
      [
        head(say('head.note'), { css: 'wide' }),
        ({ note }) =>
          note.trim() === '' ? cell(say('no-note'), { css: 'wide quiet' }) : cell(note, { css: 'wide' }),
      ],
    ],
    plain(excluded.slice(0, MOST_EXCLUDED)),
    { css: 'excluded', notes: firstOf(excluded, MOST_EXCLUDED, words) },
  );
}

function warningTable(results: Results, lacking: readonly Lacking[], words: Words): Table | null {
  const { say } = words;
  // Sentences that are the same for both phases are printed once.
  const warnings = [
    ...new Map(results.warnings.map((one) => [`${one.file} ${one.row} ${one.message}`, one])).values(),
  ];
  const lines = warnings.slice(0, MOST_WARNINGS).map(({ file, row, column: name, message }) => {
    // Keys inside a JSON file are for those who edit it; the message names what it is about.
    const column = file?.endsWith('.json') === true ? null : name;
    const where = [file, row === null ? null : say('row', { row }), column].filter((part) => part !== null);
    return {
      where: where.join(', ') || say('the-job'),
      what: sentence(withNames(sentences(message, words), words)),
    };
  });
  return tableIfAny(
    say('warnings.caption'),
    [
      [head(say('warnings.where'), { css: 'wide' }), ({ where }) => rowHeader(where, { css: 'wide' })],
      [head(say('warnings.what'), { css: 'wide' }), ({ what }) => cell(what, { css: 'wide' })],
    ],
    plain([...lines, ...lackingLines(lacking, words)]),
    { css: 'warnings', notes: firstOf(warnings, MOST_WARNINGS, words) },
  );
}

/** Greatest numbers of missing characters and of fields that are named. */
const MOST_CHARACTERS = 40;
const MOST_FIELDS = 8;

/** The fields that contain the characters, in the order of the document, then characters that are in no field. */
export function lackingFields(
  { subject, survey, toleranceSet, excluded, confirmations = [] }: Results,
  onPage: readonly string[],
  missingGlyphs: (text: string) => readonly string[],
): Lacking[] {
  if (onPage.length === 0) return [];
  const fields: Lacking[] = [];
  const walk = (value: unknown, path: string): void => {
    if (typeof value === 'string') {
      const characters = missingGlyphs(value).filter((one) => onPage.includes(one));
      if (characters.length > 0) fields.push({ field: path, characters });
    } else if (Array.isArray(value)) value.forEach((part, k) => walk(part, `${path}[${k}]`));
    else if (value !== null && typeof value === 'object')
      for (const [key, part] of Object.entries(value)) walk(part, path === '' ? key : `${path}.${key}`);
  };
  walk({ ...subject, ...survey, tolerances: toleranceSet, excluded, confirmed: confirmations }, '');
  const rest = onPage.filter((one) => !fields.some(({ characters }) => characters.includes(one)));
  return rest.length === 0 ? fields : [...fields, { field: null, characters: rest }];
}

function lackingLines(lacking: readonly Lacking[], { say }: Words) {
  const more = lacking.slice(MOST_FIELDS).flatMap(({ characters }) => characters);
  const shown = [
    ...lacking.slice(0, MOST_FIELDS),
    ...(more.length === 0 ? [] : [{ field: null, characters: [...new Set(more)] }]),
  ];
  return shown.map(({ field, characters }) => {
    const cut = characters.length > MOST_CHARACTERS ? ' …' : '';
    const named = characters.slice(0, MOST_CHARACTERS).join(' ') + cut;
    return { where: field ?? say('lacking.where'), what: say('lacking', { characters: named }) };
  });
}
