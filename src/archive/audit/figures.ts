/** results.json as it lies there against the one that its inputs make. */
import type { IssuedReport } from '../issued-report.js';
import { compareResults } from '../compare-results.js';
import { addedAfter, definedOtherwise } from '../../results/added-keys.js';
import type { Results } from '../../results/results-schema.js';
import type { Findings } from './findings.js';
import { unwritten } from './pages.js';

/** @param other Which made the report, where it is another one than this. */
export function compareFigures(
  { files }: Pick<IssuedReport, 'files'>,
  made: Uint8Array,
  other: Results['software'] | null,
  found: Findings,
): void {
  const [stood, now] = [Buffer.from(files.get('results.json')!), Buffer.from(made)];
  // The same bytes are a document that was just made, and nothing in it has to be looked at one by one.
  if (stood.equals(now)) return;
  const [before, again] = [stood, now].map((text) => JSON.parse(text.toString('utf8')) as unknown);
  if (other === null) {
    const all = compareResults(before, again, () => false, 0);
    for (const one of all) found.differs('figures', words(one));
    if (all.length === 0) found.differs('figures', unwritten('results.json'));
    return;
  }
  const isNew = addedAfter(other.version);
  const otherwise = definedOtherwise(other.version, before);
  const left = new Map<string, string>();
  for (const one of compareResults(before, again)) {
    const { place, issued } = one;
    if (/^software\b/.test(place) || (issued === 'nothing' && isNew(place))) continue;
    const rule = otherwise(place);
    if (rule === undefined) found.differs('figures', words(one));
    else left.set(rule.what, `${other.version} made it; ${rule.why}`);
  }
  for (const [what, why] of left) found.leaves(null, what, why);
}

const words = ({ place, issued, recomputed }: ReturnType<typeof compareResults>[number]): string =>
  `${place}: issued ${issued}, recomputed ${recomputed}`;
