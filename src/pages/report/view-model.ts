/**
 * Results and charts → the plain texts and flags of the templates. Every decision is made and every figure is formatted here; a
 * template only places them.
 */
import type { Results } from '../../results/results-schema.js';
import type { Brand } from '../../survey/brand/read-brand.js';
import { documentTitle } from './document-title.js';
import { inUnitsOf, NO_TEXT } from './both-units.js';
import { figuresOf } from './figures.js';
import { english, type Words } from '../words/words.js';
import { sectionIds, sectionNumber } from './section-list.js';
import { lackingFields } from './sections/checks.js';
import { judgedRows } from './sections/judged-rows.js';
import { sections, type Parts } from './sections/made.js';
import { officeOf } from './sections/office.js';
import { pageOne } from './sections/page-one.js';
import type { ReportChart } from './sections/pictures.js';
import { largestTable } from './sections/results-table.js';
import { numbering, type Lacking } from './sections/section.js';

export type { ReportChart } from './sections/pictures.js';

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
  const number = numbering(words);
  // In the order of printing.
  const page1 = pageOne(results, figures, rows);
  if (page1.bars !== null) number.skipFigure();
  const largest = number.table(largestTable(results, figures));
  const input = { results, figures, charts, rows, lacking, brand, number };
  const parts = Object.fromEntries(sectionIds.map((id) => [id, sections[id].make(input)])) as Parts;
  return {
    report: results.job,
    title: documentTitle(results, words),
    software: say('software', results.software),
    paper: results.style.paper,
    page1,
    largest,
    sections: sectionIds
      .filter((id) => parts[id] !== null)
      .map((id) => ({
        id,
        css: sections[id].css,
        heading: say(`section.${id}`, { n: sectionNumber(id) }),
      })),
    parts,
    office: brand === null ? null : officeOf(brand),
    footer: brand?.document.footer ?? page1.issuer,
    end: say('end.report', { report: page1.report }),
  };
}

/** Every text of the page. Names in pictures are also on the page. */
function textsOf(value: unknown, found: string[] = []): string[] {
  if (typeof value === 'string') found.push(value);
  else if (Array.isArray(value)) for (const part of value) textsOf(part, found);
  else if (value !== null && typeof value === 'object')
    for (const [name, part] of Object.entries(value)) if (!NO_TEXT.has(name)) textsOf(part, found);
  return found;
}
