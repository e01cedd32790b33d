/** Why a job was refused, on one line: its first problem, and how many more there are. */
import type { RefusedEntry } from '../archive/batch/entry.js';
import { visible } from '../base/diagnostics/messages.js';

export function problemText({ problems, problemCount }: RefusedEntry): string {
  const [first] = problems;
  if (first === undefined) return 'no reason is known';
  const place = [first.file, first.row, first.column]
    .filter((part) => part !== null && part !== '')
    .join(':');
  const more = problemCount > 1 ? ` (and ${problemCount - 1} more; waysheet check lists all)` : '';
  return visible(`${place === '' ? '' : `${place}: `}${first.message}${more}`);
}
