/** A sheet for a crew as one self-contained page: font and style inside, no script, nothing fetched. */
import { fontFaceCss } from '../fonts/fonts.js';
import { cssString, pageCount } from './css-string.js';
import { compiledTemplate, templateText } from './templates.js';
import { english, type Words } from '../words/words.js';

export interface SheetMargins {
  readonly paper: 'A4' | 'Letter';
  /** Size of print, pt. */
  readonly printPt: number;
  readonly title: string;
  readonly software: string;
  /** At the foot of every page; '' for nothing. */
  readonly note: string;
  /** Absent: the page is English. */
  readonly words?: Words;
}

/**
 * @param name Of the template and of its style sheet, `templates/NAME.hbs` and `.css`.
 * @throws {Error} the template asks for a field that the view lacks: a programming mistake.
 */
export function sheetPage<View extends object>(name: string, view: View, margins: SheetMargins): string {
  const { words = english } = margins;
  const sheets = [templateText('sheet.css'), templateText(`${name}.css`)];
  const style = [fontFaceCss(), ...sheets, pageRules(margins)].join('\n');
  return compiledTemplate(templateText(`${name}.hbs`))(words, { ...view, style });
}

/** Paper, and what is in the margins of every page. */
function pageRules({ paper, printPt, title, software, note, words = english }: SheetMargins): string {
  const box = (place: string, content: string, more: string) =>
    `@${place} { content: ${content}; font: ${printPt}pt/1.2 'Waysheet Sans', sans-serif; color: #4d5961; ${more} }`;
  const head = 'vertical-align: bottom; padding-bottom: 3mm;';
  const foot = 'vertical-align: top; padding-top: 3mm;';
  return `@page { size: ${paper === 'Letter' ? 'letter' : 'A4'}; margin: 16mm 14mm 15mm;
${box('top-left', cssString(title), `${head} text-align: left; width: 70%;`)}
${box('top-right', pageCount(words.say('sheet.page', { page: '\u0001', pages: '\u0002' })), `${head} text-align: right; width: 30%;`)}
${box('bottom-left', cssString(note), `${foot} text-align: left;`)}
${box('bottom-right', cssString(software), `${foot} text-align: right;`)} }`;
}
