/** Whether the readings can be trusted: how they check each other, which stand out, what they leave open. */
import type {
  AdjustmentResult,
  PhaseResults,
  ResidualResult,
  Results,
  Suspect,
} from '../../../results/results-schema.js';
import { numberText, probabilityText, unitFor, withUnit } from '../../../results/words/format-quantity.js';
import { phasesOf, type Figures, type NamedPhase } from '../figures.js';
import { capitalised, counted, listed, sentence } from '../sentence.js';
import { cell, figure, figureHead, head, row, rowHeader, table, type Row, type Table } from '../table.js';
import { axisWords, characteristicNames, phaseWords, UNDETERMINED } from '../../../results/words/texts.js';
import { byPhase } from './by-phase.js';
import { datumId } from './characteristic-names.js';
import { reasonsOf, undeterminedLines } from './shared-reasons.js';

/** |standardised| nearer to each other than this belong to readings that cannot be told apart. */
const SAME_STANDARDISED = 1e-6;
/** Of a long list the first are printed; all are in results.json. */
const MOST_SUSPECTS = 20;
const MOST_EXCLUDED = 60;
const MOST_WARNINGS = 60;

export interface Checks {
  readonly summaries: readonly { readonly title: string; readonly sentences: readonly string[] }[];
  readonly leftOut: string;
  readonly suspects: Table | null;
  readonly repeatability: Table | null;
  readonly excluded: Table | null;
  /** What looked wrong and was confirmed: what, by whom, why. */
  readonly confirmed: readonly string[];
  readonly undeterminedTitle: string;
  readonly undetermined: readonly string[];
  readonly warnings: Table | null;
}

/** @param lacking Characters in the job's texts that the report's font cannot draw. */
export function checks(results: Results, figures: Figures, lacking: readonly string[] = []): Checks {
  const phases = phasesOf(results);
  return {
    summaries: phases.map(({ name, phase }) => ({
      title: phases.length > 1 ? capitalised(phaseWords(name)) : '',
      sentences: [...adjustmentSentences(phase.adjustment), ...tieSentences(phase.adjustment, figures)],
    })),
    leftOut:
      results.excluded.length === 0
        ? 'No reading was left out: the program never leaves one out, and nobody marked one.'
        : 'No reading was left out by the program. A reading is left out only by a person, who marks its row and notes why; those rows are listed below.',
    suspects: suspectTable(phases, figures),
    repeatability: repeatabilityTable(phases, figures),
    excluded: excludedTable(results),
    confirmed: (results.confirmations ?? []).map(
      ({ message, by, because }) => `${message} Confirmed by ${by}: ${because}`,
    ),
    undeterminedTitle: UNDETERMINED,
    undetermined: undeterminedSentences(phases, datumId(results), figures),
    warnings: warningTable(results, lacking),
  };
}

/** Said once where it holds of both phases. */
function undeterminedSentences(phases: readonly NamedPhase[], datum: string, figures: Figures): string[] {
  const said = new Map<string, string[]>();
  for (const { name, phase } of phases)
    for (const line of openLines(phase, datum, figures))
      said.set(line, [...(said.get(line) ?? []), phaseWords(name)]);
  return [...said].map(([line, names]) =>
    names.length === phases.length ? line : `${capitalised(listed(names))}: ${line}`,
  );
}

/** By the names of the tables; what no characteristic says is told as it stands. */
function openLines(phase: PhaseResults, datum: string, figures: Figures): string[] {
  const explained = reasonsOf(phase.characteristics);
  const others = phase.undetermined.filter(({ why }) => !explained.has(why));
  return [
    ...undeterminedLines(phase.characteristics, datum, figures),
    ...others.map(({ what, why }) => capitalised(`${what}: ${sentence(why)}`)),
  ];
}

/** Redundancy, σ₀ and what follows from it, in words. */
function adjustmentSentences(adjustment: AdjustmentResult): string[] {
  const { readings, priors, unknowns, rank, redundancy, sigma0, scale, chiSquare, noticedNoise, critical } =
    adjustment;
  const suspects = adjustment.suspects;
  const stated =
    priors === 0
      ? ''
      : ` and ${counted(priors, 'value')} known from before the survey (level, squareness or drift)`;
  const open = unknowns - rank;
  const first = `${counted(readings - priors, 'reading')}${stated}, for ${counted(unknowns, 'unknown')}${open > 0 ? ` (${numberText(open, 0)} of them fixed by convention)` : ''}; redundancy ${numberText(redundancy, 0)}.`;
  if (redundancy === 0 || sigma0 === null)
    return [first, 'No reading is checked by another: a mistake in any of them would not show.'];
  const chance =
    chiSquare === null ? '' : ` By chance alone ${chanceText(chiSquare.upperTail)} would scatter more.`;
  const fit = `σ₀\u00a0=\u00a0${numberText(sigma0, 2)}, where 1 means that the readings scatter just as the instruments’ stated uncertainty says.${chance}`;
  const widened =
    scale > 1
      ? `That is more than chance explains at 1 %, so every uncertainty and interval of this phase is multiplied by ${numberText(scale, 2)}.`
      : `Stated uncertainties are kept; they are never made smaller.${noticed(noticedNoise)}`;
  const level = ` (Baarda’s test, at 1\u00a0% for all readings of the phase together: beyond ${numberText(critical ?? 0, 1)}\u00a0standard deviations)`;
  const blunders =
    suspects.length === 0
      ? `No reading stands out${level}.`
      : `${counted(suspects.length, 'reading stands', 'readings stand')} out${level}; see below.`;
  return [first, fit, widened, blunders];
}

/** What the test would not have noticed. */
const noticed = (times: number | undefined): string =>
  times === undefined
    ? ''
    : ` Readings ${numberText(times, 1)} times as noisy as stated would be noticed in 95 of 100 such surveys; less may pass, and intervals are then too narrow by as much.`;

/** Ties that nothing checks and verdicts hang on; else the smallest errors that would show. */
function tieSentences({ reliability = [] }: AdjustmentResult, figures: Figures): string[] {
  const movesOf = (moves: (typeof reliability)[number]['moves']) =>
    moves.map(({ what, rail, by, unit }) => {
      const shown = unitFor(figures.units, unit);
      return `${characteristicNames[what as keyof typeof characteristicNames].toLowerCase()} of rail ${rail} by ${withUnit(numberText(Math.abs(shown.fromBase(by)), shown.decimals), shown)}`;
    });
  const unchecked = reliability.filter(({ shows, moves }) => shows === null && moves.length > 0);
  const checked = reliability.filter(({ shows }) => shows !== null);
  const { deviation } = figures.units;
  const size = (um: number) => withUnit(numberText(deviation.fromBase(um), deviation.decimals), deviation);
  return [
    ...(unchecked.length === 0
      ? []
      : [
          `Nothing checks ${listed(unchecked.map(({ what }) => what))}: an error of ${size(10)} in one of them would not show, and would move ${listed(movesOf(unchecked[0]!.moves))}.`,
        ]),
    ...(checked.length === 0
      ? []
      : [
          `Smallest error that would show (α\u00a0=\u00a00.001, power 0.80): ${checked
            .slice(0, 6)
            .map(({ what, shows }) => `${what}, ${size(shows!)}`)
            .join('; ')}.`,
        ]),
  ];
}

/** How often chance alone does it, not rounded to never or always. */
function chanceText(p: number): string {
  if (p < 0.0001) return 'less than 1 in 10\u202f000 surveys';
  if (p > 0.999) return 'more than 99.9\u00a0% of surveys';
  if (p < 0.01) return `about 1 in ${numberText(1 / p, 0)} surveys`;
  return `${probabilityText(p)} of surveys`;
}

function suspectTable(phases: readonly NamedPhase[], figures: Figures): Table | null {
  const rows = byPhase(phases, ({ phase }) =>
    phase.adjustment.suspects
      .slice(0, MOST_SUSPECTS)
      .map((suspect, i, list) =>
        suspectRow(suspect, isTwin(list, i), isSlope(phase.residuals, suspect), figures),
      ),
  );
  if (rows.groups.length === 0) return null;
  const twins = phases.some(({ phase }) => phase.adjustment.suspects.some((_, i, list) => isTwin(list, i)));
  const cut = phases.some(({ phase }) => phase.adjustment.suspects.length > MOST_SUSPECTS);
  return table(
    'Readings that stand out (suspects)',
    [
      [
        ...rows.head,
        head('File and row', { css: 'wide' }),
        head('Reading', { css: 'wide' }),
        head('Axis'),
        figureHead('Residual'),
        figureHead('Standardised'),
      ],
    ],
    rows.groups,
    {
      css: 'suspects',
      notes: [
        'Residual: reading less the solution, as read, sign included. Standardised: the residual divided by its own standard uncertainty. None of them was left out; look at the row, the note and the target before deciding.',
        ...(twins ? ['= cannot be told apart from the one above: either may be the wrong one.'] : []),
        ...(cut ? [`The first ${MOST_SUSPECTS} of each phase; all are in results.json.`] : []),
      ],
    },
  );
}

/** The row's number stays beside its word. */
const fileRow = (file: string, row: number | string): string => `${file}, row\u00a0${row}`;

const isTwin = (list: readonly Suspect[], i: number): boolean =>
  i > 0 &&
  Math.abs(Math.abs(list[i]!.standardised) - Math.abs(list[i - 1]!.standardised)) < SAME_STANDARDISED;

/** What was stated of a drift is tested as a rate. */
const DRIFT = /^drift-/;

/** Slope readings, and stated levels and squareness, have residuals in slope units. */
const isSlope = (residuals: readonly ResidualResult[], suspect: Suspect): boolean =>
  suspect.prior === null
    ? residuals.some((r) => r.file === suspect.file && r.row === suspect.row && r.kind === 'slope')
    : !DRIFT.test(suspect.axis);

function suspectRow(suspect: Suspect, twin: boolean, slope: boolean, figures: Figures): Row {
  const unit = slope ? figures.units.slope : figures.units.deviation;
  const label = DRIFT.test(suspect.axis) ? `${unit.label}/h` : unit.label;
  const axis = suspect.axis.replace(DRIFT, '');
  const where = suspect.file === null ? 'prior value' : fileRow(suspect.file, suspect.row ?? '–');
  return row([
    rowHeader(`${twin ? '= ' : ''}${where}`, { css: 'wide' }),
    cell(suspect.what, { css: 'wide' }),
    cell(axisWords[axis] ?? axis),
    figure(withUnit(numberText(unit.fromBase(suspect.residual), unit.decimals, { signed: true }), label)),
    figure(numberText(suspect.standardised, 1, { signed: true })),
  ]);
}

function repeatabilityTable(phases: readonly NamedPhase[], figures: Figures): Table | null {
  const rows = byPhase(phases, ({ phase }) =>
    phase.adjustment.repeatability.map((r) => {
      const unit = unitFor(figures.units, r.unit);
      const decimals = unit.decimals + 1;
      return row([
        rowHeader(r.instrument, { css: 'id' }),
        cell(axisWords[r.axis] ?? r.axis),
        figure(withUnit(numberText(unit.fromBase(r.s), decimals), unit)),
        figure(withUnit(numberText(unit.fromBase(r.claimed), decimals), unit)),
        figure(String(r.degreesOfFreedom)),
      ]);
    }),
  );
  if (rows.groups.length === 0) return null;
  return table(
    'Repeatability of readings taken more than once, beside what the instrument claims',
    [
      [
        ...rows.head,
        head('Instrument'),
        head('Axis'),
        figureHead('Standard deviation'),
        figureHead('Stated u'),
        figureHead('Degrees of freedom'),
      ],
    ],
    rows.groups,
    { css: 'repeatability' },
  );
}

function excludedTable(results: Results): Table | null {
  const { excluded } = results;
  if (excluded.length === 0) return null;
  const both = phasesOf(results).length > 1;
  const rows = excluded.slice(0, MOST_EXCLUDED).map((e) =>
    row([
      rowHeader(fileRow(e.file, e.row), { css: 'wide' }),
      ...(both ? [cell(phaseWords(e.phase), { css: 'short-text' })] : []),
      cell(e.what.replace(/(\d) (?=\S+(?:,|$))/g, '$1\u00a0').replace(/(?<= )-(?=[\d.,])/g, '\u2212'), {
        css: 'wide',
      }),
      cell(e.note.trim() === '' ? 'no note given' : e.note, {
        css: e.note.trim() === '' ? 'wide quiet' : 'wide',
      }),
    ]),
  );
  return table(
    'Readings left out by a person',
    [
      [
        head('File and row', { css: 'wide' }),
        ...(both ? [head('Phase')] : []),
        head('Reading as it stood', { css: 'wide' }),
        head('Note', { css: 'wide' }),
      ],
    ],
    [{ title: '', rows }],
    {
      css: 'excluded',
      notes:
        excluded.length > MOST_EXCLUDED
          ? [`The first ${MOST_EXCLUDED} of ${excluded.length}; all are in results.json.`]
          : [],
    },
  );
}

function warningTable(results: Results, lacking: readonly string[]): Table | null {
  const { warnings } = results;
  if (warnings.length === 0 && lacking.length === 0) return null;
  const rows = warnings.slice(0, MOST_WARNINGS).map((w) => {
    const where = [w.file, w.row === null ? null : `row ${w.row}`, w.column].filter((part) => part !== null);
    return row([
      rowHeader(where.join(', ') || 'the job', { css: 'wide' }),
      cell(sentence(w.message), { css: 'wide' }),
    ]);
  });
  return table(
    'Warnings',
    [[head('Where', { css: 'wide' }), head('What', { css: 'wide' })]],
    [{ title: '', rows: [...rows, ...lackingRows(lacking)] }],
    {
      css: 'warnings',
      notes:
        warnings.length > MOST_WARNINGS
          ? [`The first ${MOST_WARNINGS} of ${warnings.length}; all are in results.json.`]
          : [],
    },
  );
}

/** Of the characters that the font lacks so many are named. */
const MOST_CHARACTERS = 40;

function lackingRows(lacking: readonly string[]): Row[] {
  if (lacking.length === 0) return [];
  const more = lacking.length > MOST_CHARACTERS ? ' …' : '';
  const named = lacking.slice(0, MOST_CHARACTERS).join(' ') + more;
  return [
    row([
      rowHeader('names and notes', { css: 'wide' }),
      cell(
        `The bundled font lacks: ${named}. Where they stand there may be boxes, or letters of another font.`,
        { css: 'wide' },
      ),
    ]),
  ];
}
