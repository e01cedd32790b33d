/** The audit's own report: a line for each report that was audited, what was compared, what differs. */
import { visible } from '../../base/diagnostics/messages.js';
import { sheetPage } from '../../pages/report/sheet-page.js';
import { SOFTWARE } from '../../base/version.js';
import { isSound, isUndecided } from './audit.js';
import type { LogFinding } from './audit-log.js';
import { comparedWords, countText, differenceLines, type Audited } from './finding-words.js';

export const AUDIT_TITLE = 'Audit of rail alignment reports';

/** Differences printed of one report. */
const LISTED = 12;

/** @param sampled What a sample says; '' where every report was audited. */
export function auditPage(
  findings: readonly Audited[],
  logs: readonly LogFinding[],
  sampled: string,
): string {
  const software = `${SOFTWARE.name} ${SOFTWARE.version}, method ${SOFTWARE.method}`;
  return sheetPage(
    'audit',
    {
      title: AUDIT_TITLE,
      software,
      count: countText(findings),
      sampled,
      logs: logs
        .filter(({ lines, troubles }) => lines > 0 || troubles.length > 0)
        .map(({ path, lines, head, troubles }) => ({
          path: visible(path),
          text:
            troubles.length === 0
              ? `${lines} lines, each as it was written; the last has the SHA-256 ${head}.`
              : 'It does not stand:',
          troubles: troubles.map(visible),
        })),
      rows: findings.map(rowOf),
    },
    { paper: 'A4', printPt: 8.5, title: AUDIT_TITLE, software, note: '' },
  );
}

function rowOf(f: Audited) {
  const path = visible(f.path);
  if ('error' in f)
    return {
      path,
      report: '',
      outcome: 'could not be read',
      compared: '',
      lines: [visible(f.error)],
      css: 'strong',
    };
  const lines = isUndecided(f) ? f.absent : differenceLines(f);
  const more = lines.length - LISTED;
  const isGood = isSound(f);
  return {
    path,
    report: visible(f.number ?? `draft of ${f.job}`),
    outcome: isGood ? 'stands' : isUndecided(f) ? 'could not be made again' : 'does not stand',
    compared: [
      ...(f.recomputed ? ['results and files made again'] : []),
      comparedWords[f.pagesCompared],
      ...[f.note, f.signed].filter((text) => text !== ''),
      `by ${f.issuedBy}`,
    ]
      .map(visible)
      .join('; '),
    lines: isGood
      ? []
      : [...lines.slice(0, LISTED).map(visible), ...(more > 0 ? [`and ${more} more; --json lists all`] : [])],
    css: isGood ? '' : 'strong',
  };
}
