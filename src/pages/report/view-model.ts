/**
 * Results and charts → the plain texts and flags of the templates. Every decision is made and every figure is formatted here; a
 * template only places them.
 */
import { rulesOf } from '../../results/rules.js';
import type { Results } from '../../results/results-schema.js';
import type { Brand } from '../../survey/brand/read-brand.js';
import { documentTitle, isDraft } from './document-title.js';
import { inUnitsOf } from './both-units.js';
import { figuresOf } from './figures.js';
import { english, type Words } from '../words/words.js';
import { checks, lackingFields, type Lacking } from './sections/checks.js';
import { judgedRows } from './sections/judged-rows.js';
import { officeOf } from './sections/office.js';
import { conditions, method } from './sections/method.js';
import { moves } from './sections/moves.js';
import { pageOne, STATE, stateOf } from './sections/page-one.js';
import { chartPictures, type Picture, type ReportChart } from './sections/pictures.js';
import { largestTable, otherTable, resultsTable, roundsTable } from './sections/results-table.js';
import { electronicSignature, signatures } from './sections/signatures.js';
import { stationTables } from './sections/stations.js';
import { survey } from './sections/survey.js';
import { traceability } from './sections/traceability.js';
import type { Table } from './table.js';

export type { ReportChart } from './sections/pictures.js';

/** Height of the letterhead, in rows of Figure 1. */
const ROWS_OF_LETTERHEAD = 3;

export type ReportView = ReturnType<typeof viewModel>;

/**
 * @param missingGlyphs The characters of a text that the report's font lacks (fonts.ts).
 * @throws {RangeError} results without a phase or in unknown units: the document was not written by waysheet.
 */
export function viewModel(
  results: Results,
  charts: readonly ReportChart[],
  missingGlyphs: (text: string) => readonly string[] = () => [],
  words: Words = english,
  brand: Brand | null = null,
) {
  const view = viewInUnits(results, charts, [], words, brand);
  const lacking = lackingFields(results, missingGlyphs(textsOf(view).join('')), missingGlyphs);
  return lacking.length === 0 ? view : viewInUnits(results, charts, lacking, words, brand);
}

const viewInUnits: typeof viewOf = (results, ...rest) => inUnitsOf(results, (one) => viewOf(one, ...rest));

function viewOf(
  results: Results,
  charts: readonly ReportChart[],
  lacking: readonly Lacking[],
  words: Words,
  brand: Brand | null,
) {
  const figures = figuresOf(results, words);
  const { say } = words;
  const rows = judgedRows(results, figures);
  const movesPage = moves(results, figures);
  const others = otherTable(results, figures);
  const largest = largestTable(results, figures);
  const results1 = resultsTable(results, figures, rows);
  const number = numbering(words);
  // In the order of printing.
  const page1 = pageOne(results, figures, rows, brand === null ? 0 : ROWS_OF_LETTERHEAD);
  if (page1.bars !== null) number.skipFigure();
  const body = {
    largest: number.table(largest),
    tolerances: number.table(results1),
    // Without a limit, the table for information is the result.
    unjudged: results1 === null ? number.table(others) : null,
    rounds: number.table(roundsTable(results, figures, rows)),
    machine: number.pictures(chartPictures(charts, 'plan')),
    charts: number.pictures(chartPictures(charts, 'body')),
    moves: movesPage && {
      ...movesPage,
      plan: number.table(movesPage.plan),
      done: number.table(movesPage.done),
    },
    movesPictures: number.pictures(chartPictures(charts, 'moves')),
  };
  const made = survey(results, figures);
  const checked = checks(results, figures, lacking);
  const traced = traceability(results, figures);
  const annex = {
    survey: {
      ...made,
      setups: number.table(made.setups),
      stood: number.table(made.stood),
      drift: number.table(made.drift),
      ties: number.table(made.ties),
      loops: number.table(made.loops),
      closures: number.table(made.closures),
      instruments: number.table(made.instruments),
    },
    conditions: conditions(results, figures, (stateOf(results, figures) ?? '').length > STATE),
    stations: stationTables(results, figures).map((one) => number.table(one)),
    checks: {
      ...checked,
      suspects: number.table(checked.suspects),
      excluded: number.table(checked.excluded),
      repeatability: number.table(checked.repeatability),
      warnings: number.table(checked.warnings),
    },
    annexPictures: number.pictures(chartPictures(charts, 'annex')),
    method: method(results, figures),
    traceability: { ...traced, inputs: number.table(traced.inputs) },
    others: results1 === null ? null : number.table(others),
  };
  return {
    report: results.job,
    title: documentTitle(results, words),
    software: say('software', results.software),
    paper: results.style.paper,
    page1,
    heading: {
      results: say('section.results', { n: 1 }),
      charts: body.machine.length + body.charts.length > 0 ? say('section.figures', { n: 2 }) : null,
      moves: movesPage && say('section.moves', { n: 3 }),
      survey: say('section.survey', { n: 'A' }),
      stations: annex.stations.length > 0 ? say('section.stations', { n: 'B' }) : null,
      checks: say('section.checks', { n: 'C' }),
      method: say('section.method', { n: 'D' }),
    },
    figuresIntro:
      body.charts.length === 0
        ? null
        : say('figures.intro', { guarded: rulesOf(results).has('guarded') ? 'yes' : 'no' }),
    office: brand === null ? null : officeOf(brand),
    footer: brand?.document.footer ?? page1.issuer,
    terms: brand?.document.terms ?? null,
    opinion: say('opinion'),
    statement: isDraft(results)
      ? `${say('statement.items')} ${say('statement.draft')}`
      : say('statement.items'),
    signatures: signatures(results, figures, brand?.document.signatories ?? []),
    electronic: electronicSignature(results, figures),
    end: say('end.report', { report: page1.report }),
    ...body,
    ...annex,
  };
}

/** Tables and figures, numbered through the report. */
function numbering({ say }: Words) {
  let [tables, figures] = [0, 0];
  return {
    table: <T extends Table | null>(one: T): T =>
      one === null
        ? one
        : ({ ...one, caption: say('caption.table', { n: ++tables, caption: one.caption }) } as T),
    pictures: (list: readonly Picture[]): Picture[] =>
      list.map((one) => ({ ...one, caption: say('caption.figure', { n: ++figures, caption: one.caption }) })),
    /** Figure 1 is on page 1. */
    skipFigure: () => void figures++,
  };
}

/** Every text of the page. Names in pictures are also on the page. */
function textsOf(value: unknown, found: string[] = []): string[] {
  if (typeof value === 'string') found.push(value);
  else if (Array.isArray(value)) for (const part of value) textsOf(part, found);
  else if (value !== null && typeof value === 'object')
    for (const [name, part] of Object.entries(value))
      if (name !== 'source' && name !== 'logo' && name !== 'bar' && name !== 'scale') textsOf(part, found);
  return found;
}
