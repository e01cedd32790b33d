/** The field sheet as a page to print. */
import { sheetPage } from '../../pages/report/sheet-page.js';
import type { FieldSheet } from './field-sheet.js';

export const renderFieldSheet = (sheet: FieldSheet): string =>
  sheetPage('field-sheet', sheet, {
    paper: sheet.paper,
    printPt: 8.5,
    title: sheet.words.say('field.head', { job: sheet.job }),
    software: sheet.software,
    note: sheet.words.say('field.note'),
    words: sheet.words,
  });
