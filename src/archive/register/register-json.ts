/** register.json: a line for every job, so that a long register is small and two registers can be compared line by line. */
import type { Register } from './register.js';

export function registerJson({ jobs, ...head }: Register): string {
  const opening = JSON.stringify(head, null, 2).replace(/\n}$/, '');
  const lines = jobs.map((row) => `    ${JSON.stringify(row)}`);
  return `${opening},\n  "jobs": [${lines.length === 0 ? '' : `\n${lines.join(',\n')}\n  `}]\n}\n`;
}
