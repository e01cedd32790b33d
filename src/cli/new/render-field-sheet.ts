/** The field sheet as a page to print. */
import { sheetPage } from '../../pages/report/sheet-page.js';
import type { FieldSheet } from './field-sheet.js';

export const renderFieldSheet = (sheet: FieldSheet): string =>
  sheetPage('field-sheet', sheet, {
    paper: sheet.paper,
    printPt: 8.5,
    title: `Field sheet ${sheet.job}`,
    software: sheet.software,
    note: 'The raw record: keep it with the job',
  });
