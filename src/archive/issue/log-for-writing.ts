/** The log of an output folder, verified before a line is added; and the output folder of a report's folder. */
import { basename, dirname } from 'node:path';
import { brokenSignatures, problemWords, readLog, type IssueLog } from '../issue-log.js';
import { EARLIER } from '../keep-earlier.js';
import { orderProblems } from '../report-states.js';
import { DRAFTS } from '../report-places.js';
import type { SigningKey } from '../signing.js';
import { NotIssued } from './not-issued.js';

/** The output folder of a report's folder. */
export function outOf(folder: string): string {
  const parent = dirname(folder);
  return basename(parent) === DRAFTS ? dirname(parent) : parent;
}

/** @throws {NotIssued} the log is damaged, its lines are inconsistent, or the folder is not that of a report in force. */
export async function logFor(folder: string, key: SigningKey | null): Promise<IssueLog> {
  const out = outOf(folder);
  if (basename(out) === EARLIER)
    throw new NotIssued(
      'this report was kept when another took its place; issue and withdraw what lies in the output folder itself',
    );
  const log = readLog(out);
  const troubles = [
    ...log.troubles,
    ...orderProblems(log.entries),
    ...(key === null ? [] : brokenSignatures(log, key)),
  ];
  if (troubles.length > 0)
    throw new NotIssued(
      `the log of issued reports is damaged, so nothing is added to it: ${troubles.map(problemWords).join('; ')}`,
    );
  return log;
}
