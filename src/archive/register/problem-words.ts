/** A refused job's problem in one line of a document; a terminal has file:row:column (commands/problem-text.ts). */
import type { RefusedRow } from './register.js';

/** "spans.csv: 14: span: what is wrong" */
export const problemWords = ({ file, row, column, message }: RefusedRow['problems'][number]): string =>
  [file, row, column, message].filter((part) => part !== null && part !== '').join(': ');
