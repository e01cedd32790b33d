/**
 * Results and charts → the plain texts and flags that the templates place. Every decision is made and every figure
 * is written here; a template chooses nothing but where things stand.
 */
import { standingOut } from '../../results/standing-out.js';
import type { Results } from '../../results/results-schema.js';
import { documentTitle, isDraft } from './document-title.js';
import { figuresOf, lastPhase } from './figures.js';
import { checks } from './sections/checks.js';
import { cover } from './sections/cover.js';
import { conditions, differingConditions, method } from './sections/method.js';
import { moves } from './sections/moves.js';
import { picturesOf, resultPictures, type ReportChart } from './sections/pictures.js';
import { electronicSignature, signatures } from './sections/signatures.js';
import { stationTables } from './sections/stations.js';
import { otherTable, roundsTable, toleranceTable } from './sections/summary.js';
import { survey } from './sections/survey.js';
import { traceability } from './sections/traceability.js';
import { counted, listed } from './sentence.js';
import { DRAFT_STATEMENT, ITEMS_STATEMENT, phaseWords } from '../../results/words/texts.js';

export type { ReportChart } from './sections/pictures.js';

export type ReportView = ReturnType<typeof viewModel>;

/**
 * @param missingGlyphs The characters of a text that the report's font lacks (fonts.ts).
 * @throws {RangeError} results without a phase or in unknown units: not a document that waysheet wrote.
 */
export function viewModel(
  results: Results,
  charts: readonly ReportChart[],
  missingGlyphs: (text: string) => readonly string[] = () => [],
) {
  const figures = figuresOf(results);
  const tolerances = toleranceTable(results, figures);
  const others = otherTable(results, figures);
  const pictures = resultPictures(charts);
  const movesPage = moves(results, figures);
  const stations = stationTables(results, figures);
  const heading = sectionNumbers();
  const sections = {
    results: tolerances && heading('Results against the tolerances'),
    others: others && heading(tolerances ? 'Other results' : 'Results'),
    signatures: heading('Signatures'),
    moves: movesPage && heading('What to move'),
    charts: pictures.length > 0 ? heading('Charts') : null,
    stations: stations.length > 0 ? heading('Stations') : null,
    survey: heading('How the survey was made'),
    checks: heading('Checks on the readings'),
    method: heading('How to read the figures'),
    traceability: heading('Where the figures come from'),
  };
  const number = (title: string) => title.split(' ')[0]!;
  const view = {
    report: results.job,
    title: documentTitle(results),
    software: `${results.software.name} ${results.software.version}`,
    paper: results.style.paper,
    heading: sections,
    cover: cover(
      results,
      figures,
      [
        ...readingCautions(results, number(sections.checks), number(sections.survey)),
        ...differingConditions(results, figures),
      ],
      { signatures: number(sections.signatures), method: number(sections.method) },
    ),
    tolerances,
    others,
    rounds: roundsTable(results, figures),
    statement: isDraft(results) ? `${ITEMS_STATEMENT} ${DRAFT_STATEMENT}` : ITEMS_STATEMENT,
    signatures: signatures(results),
    electronic: electronicSignature(results),
    charts: pictures,
    moves: movesPage,
    movesPictures: picturesOf(charts, 'moves'),
    stations,
    plan: picturesOf(charts, 'plan'),
    survey: survey(results, figures),
    conditions: conditions(results, figures),
    checks: checks(results, figures),
    residuals: picturesOf(charts, 'residuals'),
    budget: picturesOf(charts, 'budget'),
    method: method(results, figures),
    traceability: traceability(results, figures),
  };
  const lacking = missingGlyphs(textsOf(view).join(''));
  return lacking.length === 0 ? view : { ...view, checks: checks(results, figures, lacking) };
}

/** Every text that reaches the page; a picture holds no name that does not. */
function textsOf(value: unknown, found: string[] = []): string[] {
  if (typeof value === 'string') found.push(value);
  else if (Array.isArray(value)) for (const part of value) textsOf(part, found);
  else if (value !== null && typeof value === 'object')
    for (const [name, part] of Object.entries(value)) if (name !== 'source') textsOf(part, found);
  return found;
}

/** Numbers the sections that are there, in the order in which they are asked for. */
function sectionNumbers(): (title: string) => string {
  let n = 0;
  return (title) => `${++n} ${title}`;
}

/** What a reader must know beside the verdict, with the section that says more. */
function readingCautions(results: Results, checksSection: string, surveySection: string): string[] {
  const { name, phase } = lastPhase(results);
  const { adjustment } = phase;
  const list: string[] = [];
  const overdue = results.survey.instruments.filter((instrument) => instrument.overdue);
  if (overdue.length > 0)
    list.push(
      `The calibration of ${listed(overdue.map(({ id }) => id))} had run out when the readings were taken (section ${surveySection}).`,
    );
  if (adjustment.redundancy === 0) list.push(`No reading is checked by another (section ${checksSection}).`);
  if (adjustment.scale > 1)
    list.push(
      `The readings ${phaseWords(name)} scatter more than the instruments’ stated uncertainty explains; the uncertainties given here are widened for it (section ${checksSection}).`,
    );
  const suspects = standingOut(adjustment);
  if (suspects.length > 0)
    list.push(
      `${counted(suspects.length, 'reading')} of this phase ${suspects.length === 1 ? 'stands' : 'stand'} out and ${suspects.length === 1 ? 'was' : 'were'} kept (section ${checksSection}).`,
    );
  const exceeded = phase.closures.filter((closure) => closure.exceeded).length;
  if (exceeded > 0)
    list.push(
      `${counted(exceeded, 'closing reading')} at a point did not close within what is allowed (section ${surveySection}).`,
    );
  return list;
}
