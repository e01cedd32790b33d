/** Cells of the CSV files that we write. */
import { plainNumber } from '../../results/words/format-quantity.js';

/** Numbers are written in full, never as 1e-7; texts are guarded; null is blank. */
export const cellText = (cell: string | number | null | undefined): string =>
  typeof cell === 'number' ? plainNumber(cell) : guarded(cell ?? '');

/** A text that a spreadsheet would take for a formula gets an apostrophe before it (OWASP ASVS 1.2.10, CWE-1236). */
export const guarded = (text: string): string => (/^[=+\-@\t\r\n＝＋－＠]/.test(text) ? `'${text}` : text);
