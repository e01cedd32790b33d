/** The statements of an audit about a report. */
import type { Issue } from '../../results/results-schema.js';

export type Proof = 'proven' | 'differs' | 'not-compared';
export type StatementName = 'figures' | 'pages' | 'vouched';

export interface AuditDifference {
  readonly statement: StatementName;
  /** In words, with the name of the file or the place in the results. */
  readonly what: string;
}

export interface NotCompared {
  readonly what: string;
  readonly why: string;
  /** true: not compared because of an option. */
  readonly isWaived?: true;
}

export interface AuditFinding extends Readonly<Record<StatementName, Proof>> {
  /** Folder or PDF. */
  readonly report: string;
  /** null: the results cannot be read. */
  readonly job: string | null;
  /** Data of the issue; null: a draft. */
  readonly issue: Issue | null;
  /** Tolerance set of a what-if report; null: the job's own set. */
  readonly whatIf: string | null;
  /** Version and method of the report. */
  readonly madeBy: string;
  /** SHA-256 of manifest.json: of the file, or, for a PDF alone, of the one that was made again; null: not known. */
  readonly manifestHash: string | null;
  /** Reasons for `vouched`, in words. */
  readonly vouchers: readonly string[];
  readonly differences: readonly AuditDifference[];
  readonly notCompared: readonly NotCompared[];
  /** Statements that do not have to be proven: they were waived, or the report does not claim them. */
  readonly waived: readonly StatementName[];
  /** Pages that were not compared, if pictures were requested. */
  readonly pictures: readonly PagePictures[];
}

/** A page as it was issued, and as it is printed today; PNG as data URLs; null: there is no such page. */
export interface PagePictures {
  readonly page: number;
  readonly issued: string | null;
  readonly today: string | null;
}

export const STATEMENTS: readonly StatementName[] = ['figures', 'pages', 'vouched'];

/** true: every statement was proven or waived. */
export const isProven = (f: AuditFinding): boolean =>
  STATEMENTS.every((name) => f[name] === 'proven' || f.waived.includes(name)) && f.differences.length === 0;

export const differs = (f: AuditFinding): boolean => f.differences.length > 0;

/** Name of the third statement if there is no reason for it. */
export const WHO = 'who vouches for it';
