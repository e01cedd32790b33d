/** Keeps a list of findings readable: a file with one mistake in every row says so once, not a million times. */
import { Findings } from './diagnostic.js';
import type { Diagnostic, DiagnosticCode } from './diagnostic.js';

/** How many of a code are listed one by one; warnings that come in swarms have fewer. */
const MOST = 100;
const MOST_OF: Partial<Record<DiagnosticCode, number>> = { READING_NEAR_RANGE: 10, READING_ROW_EMPTY: 10 };

/** The findings of one file with the first ones of each code, and MORE_LIKE_THIS for the rest of that code. */
export function capPerCode(findings: Findings): Findings {
  const counts = new Map<DiagnosticCode, number>();
  const capped = new Findings();
  const last = new Map<DiagnosticCode, Diagnostic>();
  for (const d of findings.list) {
    const count = (counts.get(d.code) ?? 0) + 1;
    counts.set(d.code, count);
    if (count > (MOST_OF[d.code] ?? MOST)) continue;
    capped.list.push(d);
    last.set(d.code, d);
  }
  for (const [code, count] of counts) {
    const more = count - (MOST_OF[code] ?? MOST);
    const shown = last.get(code)!;
    if (more <= 0) continue;
    const data = { like: code, count: more };
    if (shown.severity === 'error') capped.error('MORE_LIKE_THIS', data, shown.at);
    else capped.warn('MORE_LIKE_THIS', data, shown.at);
  }
  return capped;
}
