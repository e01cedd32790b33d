/** The report of an audit: for each report the three statements, the differences, what was not compared, and pictures of pages. */
import { visible } from '../../base/diagnostics/messages.js';
import { sheetPage } from '../../pages/report/sheet-page.js';
import { SOFTWARE } from '../../base/version.js';
import type { LogFinding } from './audit-log.js';
import { countText, findingLines, gradeOf, logText, reportName, type Audited } from './finding-words.js';

export const AUDIT_TITLE = 'Audit of rail alignment reports';

export interface AuditWords {
  /** Statement of a sample; '' if every report was audited. */
  readonly sampled: string;
  readonly record: string;
  /** What was not proven, and the option that would prove it. */
  readonly unproven: string;
}

export function auditPage(
  findings: readonly Audited[],
  logs: readonly LogFinding[],
  words: AuditWords,
): string {
  const software = `${SOFTWARE.name} ${SOFTWARE.version}, method ${SOFTWARE.method}`;
  return sheetPage(
    'audit',
    {
      title: AUDIT_TITLE,
      software,
      count: countText(findings),
      ...{ sampled: words.sampled, record: visible(words.record), unproven: words.unproven },
      logs: logs.map((log) => {
        const [title, ...lines] = logText(log).split('\n');
        return { title, lines };
      }),
      rows: findings.map(rowOf),
      pictures: findings.flatMap((f) =>
        'error' in f || f.pictures.length === 0
          ? []
          : [{ path: visible(f.report), pages: f.pictures.map((one) => ({ ...one })) }],
      ),
    },
    { paper: 'A4', printPt: 8.5, title: AUDIT_TITLE, software, note: '' },
  );
}

function rowOf(f: Audited) {
  const grade = gradeOf(f);
  const head = { path: visible(f.report), outcome: grade, css: grade === 'proven' ? '' : 'strong' };
  if ('error' in f) return { ...head, report: '', state: '', lines: [visible(f.error)] };
  return {
    ...head,
    report: visible(reportName(f)),
    state: visible(f.stateWords),
    lines: [...findingLines(f, 12), visible(`made by ${f.madeBy}`)],
  };
}
