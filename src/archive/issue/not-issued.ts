import type { AuditFinding } from '../audit/statements.js';

/** Nothing was issued, and why; nothing was written. */
export class NotIssued extends Error {
  /** Of a report that was audited and was not proven. */
  readonly finding: AuditFinding | null;
  constructor(message: string, finding: AuditFinding | null = null) {
    super(message);
    this.finding = finding;
  }
}
