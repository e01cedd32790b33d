import type { AuditFinding } from '../audit/statements.js';

/** The report was not issued; nothing was written. The message is the reason. */
export class NotIssued extends Error {
  /** The findings of the audit, if the report was not proven. */
  readonly finding: AuditFinding | null;
  constructor(message: string, finding: AuditFinding | null = null) {
    super(message);
    this.finding = finding;
  }
}
