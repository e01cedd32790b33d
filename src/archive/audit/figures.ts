/** Compares results.json with the one that is made again from its inputs. */
import type { IssuedReport } from '../issued-report.js';
import { compareResults } from '../compare-results.js';
import { addedAfter, definedOtherwise } from '../../results/added-keys.js';
import type { Results } from '../../results/results-schema.js';
import type { Findings } from './findings.js';
import { unwritten } from './pages.js';

/** @param other The version that made the report, if it is not this one. */
export function compareFigures(
  { files }: Pick<IssuedReport, 'files'>,
  made: Uint8Array,
  other: Results['software'] | null,
  found: Findings,
): void {
  const [stood, now] = [Buffer.from(files.get('results.json')!), Buffer.from(made)];
  // If the bytes are equal, no value has to be compared.
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
