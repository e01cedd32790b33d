/** The field sheet as one self-contained page: font and style inside, no script, nothing fetched. */
import Handlebars from 'handlebars';
import { readFileSync } from 'node:fs';
import { fontFaceCss } from '../report/fonts.js';
import { cssString } from '../report/html.js';
import type { FieldSheet } from './field-sheet.js';

/** Beside src/ and beside dist/ alike. */
const TEMPLATE = new URL('../../templates/field-sheet.hbs', import.meta.url);
const STYLE = new URL('../../templates/field-sheet.css', import.meta.url);

/** @throws {Error} the template asks for a field that the sheet lacks: a programming mistake. */
export function renderFieldSheet(sheet: FieldSheet): string {
  const page = Handlebars.create().compile<FieldSheet & { style: string }>(readFileSync(TEMPLATE, 'utf8'), {
    strict: true,
    knownHelpersOnly: true,
    preventIndent: true,
  });
  const style = [fontFaceCss(), readFileSync(STYLE, 'utf8'), pageRules(sheet)].join('\n');
  return page({ ...sheet, style });
}

/** Paper, and what stands in the margins of every page. */
function pageRules({ job, software, paper }: FieldSheet): string {
  const box = (name: string, content: string, more: string) =>
    `@${name} { content: ${content}; font: 8.5pt/1.2 'Waysheet Sans', sans-serif; color: #4d5961; ${more} }`;
  const head = 'vertical-align: bottom; padding-bottom: 3mm;';
  const foot = 'vertical-align: top; padding-top: 3mm;';
  return `@page { size: ${paper === 'Letter' ? 'letter' : 'A4'}; margin: 16mm 14mm 15mm;
${box('top-left', cssString(`Field sheet ${job}`), `${head} text-align: left; width: 70%;`)}
${box('top-right', '"page " counter(page) " of " counter(pages)', `${head} text-align: right; width: 30%;`)}
${box('bottom-left', '"The raw record: keep it with the job"', `${foot} text-align: left;`)}
${box('bottom-right', cssString(software), `${foot} text-align: right;`)} }`;
}
