/** The report as one self-contained page: fonts, style sheet and charts inside, nothing fetched. */
import type { Brand } from '../../survey/brand/read-brand.js';
import { officeStyle } from './sections/office.js';
import type { Results } from '../../results/results-schema.js';
import { asTwoLanguages, inFirst } from '../words/pair.js';
import { english, firstOf, type Words } from '../words/words.js';
import { inEitherUnit, inOtherUnits, inOwnUnit, switchable } from './both-units.js';
import { cssString, pageCount } from './css-string.js';
import { circlesAsCurves } from './circles.js';
import { withoutFonts } from '../fonts/fonts.js';
import { missingGlyphs } from '../fonts/widths.js';
import { livePage } from './live-page.js';
import type { ReportChart } from './sections/pictures.js';
import { inShape, wholeShape } from './shapes.js';
import { compiledTemplate, templateText } from './templates.js';
import { viewModel, type ReportView } from './view-model.js';

export interface ReportPage {
  /** As it is read on a screen (live-page.ts). */
  readonly live: string;
  /** As it is printed, in each of its shapes (shapes.ts): pictures as images, no script. */
  readonly html: string;
  /** The same page for a browser that has the font of its own: half as long, and quicker to print. */
  readonly fontless: string;
}

/**
 * @param fonts `@font-face` rules with the fonts inside (fonts.ts).
 * @param brand The look of an office; null: as waysheet makes it.
 * @throws {Error} a template asks for a field that the view model lacks: a programming mistake.
 */
export function renderPage(
  results: Results,
  charts: readonly ReportChart[],
  fonts: string,
  words: Words = english,
  brand: Brand | null = null,
): ReportPage {
  const viewOf = (one: Results) => viewModel(one, charts, missingGlyphs, words, brand);
  const own = viewOf(results);
  const view = results.style.also === undefined ? inEitherUnit(own, viewOf(inOtherUnits(results))) : own;
  const style = [
    fonts,
    templateText('report.css'),
    pageRules(own, firstOf(words)),
    ...(brand === null ? [] : [officeStyle(brand)]),
  ].join('\n');
  const filled = keepDays(compiledTemplate(templateText('report.hbs'))(words, { ...view, style }));
  const inUnits = asTwoLanguages(filled, words.both?.[1].language ?? '');
  const text = inOwnUnit(inUnits);
  return {
    live: livePage(switchable(inShape(inUnits, wholeShape(text))), results, charts, firstOf(words)),
    html: withPictures(text, charts, (svg) => svg),
    fontless: withPictures(withoutFonts(text), charts, withoutFonts),
  };
}

/** No line ends within a day: after its hyphens one could. A text that is in two units or languages at once stays as it is. */
const keepDays = (page: string): string =>
  page.replace(
    /(<dd\b[^>]*>)([^<\ufdd0-\ufdef]*)(?=<\/dd>)/g,
    (_, tag: string, text: string) =>
      tag + text.replace(/\b\d{4}-\d\d-\d\d\b/g, '<span class="one-line">$&</span>'),
  );

/** Puts the pictures into the page. No text of a job can look like a source: its quotation marks are escaped. */
function withPictures(page: string, charts: readonly ReportChart[], change: (svg: string) => string): string {
  const bySource = new Map(charts.map(({ key, svg }) => [`chart:${key}`, svg]));
  return page.replace(/<img src="(chart:[^"]*)"/g, (_, source: string) => {
    const svg = circlesAsCurves(change(bySource.get(source)!));
    return `<img src="data:image/svg+xml;base64,${Buffer.from(svg, 'utf8').toString('base64')}"`;
  });
}

/** The bundled font; what it lacks a screen takes from the others. Named in report.css too. */
const FAMILIES = `'Waysheet Sans', 'Noto Sans', 'Segoe UI', 'Helvetica Neue', Arial, sans-serif`;

/** Paper, and what is in the margins of every page: report number, page n of N, software. */
function pageRules({ software, paper, page1, footer }: ReportView, { say }: Words): string {
  const inMargin = (text: string) => cssString(inFirst(text));
  const box = (name: string, content: string, more: string) =>
    `@${name} { content: ${content}; font: 7.8pt/1.2 ${FAMILIES}; color: #4d5961; ${more} }`;
  const head = 'vertical-align: bottom; padding-bottom: 4mm;';
  const foot = 'vertical-align: top; padding-top: 4mm;';
  return `@page { size: ${paper === 'Letter' ? 'letter' : 'A4'}; margin: 18mm 16mm 17mm;
${box('top-left', inMargin([`${page1.kind} ${page1.report}`, page1.serial, page1.isDraft ? say('head.draft') : ''].filter(Boolean).join(' · ')), `${head} text-align: left; width: 70%;`)}
${box('top-right', pageCount(say('page.of', { page: '\u0001', pages: '\u0002' })), `${head} text-align: right; width: 30%;`)}
${box('bottom-left', inMargin(footer), `${foot} text-align: left;`)}
${box('bottom-right', inMargin(software), `${foot} text-align: right;`)} }`;
}
