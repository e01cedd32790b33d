/** What an audit says of a report. */
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
  /** An option says that it is not compared. */
  readonly isWaived?: true;
}

export interface AuditFinding extends Readonly<Record<StatementName, Proof>> {
  /** Folder or PDF. */
  readonly report: string;
  /** null: no results that can be read. */
  readonly job: string | null;
  /** What was issued; null: a draft. */
  readonly issue: Issue | null;
  /** Tolerance set that judged a what-if report in place of the job's own; null: its own did. */
  readonly whatIf: string | null;
  /** Version and method that the report names. */
  readonly madeBy: string;
  /** SHA-256 of manifest.json: as it lies there, or, of a PDF alone, as it was made again; null: not known. */
  readonly manifestHash: string | null;
  /** What speaks for `vouched`, in words. */
  readonly vouchers: readonly string[];
  readonly differences: readonly AuditDifference[];
  readonly notCompared: readonly NotCompared[];
  /** Statements that need not be proven: their comparison was waived, or nothing claims them. */
  readonly waived: readonly StatementName[];
  /** Pages that were not compared, where pictures of them were asked for. */
  readonly pictures: readonly PagePictures[];
}

/** A page as it was issued, and as it is printed today; PNG as data URLs, null where there is no such page. */
export interface PagePictures {
  readonly page: number;
  readonly issued: string | null;
  readonly today: string | null;
}

export const STATEMENTS: readonly StatementName[] = ['figures', 'pages', 'vouched'];

/** Whether all that can be asked was proven, or was waived. */
export const isProven = (f: AuditFinding): boolean =>
  STATEMENTS.every((name) => f[name] === 'proven' || f.waived.includes(name)) && f.differences.length === 0;

export const differs = (f: AuditFinding): boolean => f.differences.length > 0;

/** Name of the last statement where nothing speaks for it. */
export const WHO = 'who vouches for it';
