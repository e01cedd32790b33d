/** A problem of a refused job on one line of a document; a terminal has file:row:column (cli/problem-text.ts). */
import type { RefusedRow } from './register.js';

/** "spans.csv: 14: span: what is wrong" */
export const problemWords = ({ file, row, column, message }: RefusedRow['problems'][number]): string =>
  [file, row, column, message].filter((part) => part !== null && part !== '').join(': ');
