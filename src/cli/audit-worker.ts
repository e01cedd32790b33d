/** The worker process of `waysheet audit`: one report after the other, with one browser for all of them. */
import { lazyPrinter } from '../archive/batch/lazy-printer.js';
import type { Served } from '../archive/batch/serve-tasks.js';
import { trustIn, type Trust } from '../archive/signing.js';
import { drawPages } from '../pages/report/browser/draw-pages.js';
import { audit } from '../archive/audit/audit.js';
import { auditRegister, type RegisterFinding } from '../archive/audit/audit-register.js';
import type { AuditFinding } from '../archive/audit/statements.js';

export interface AuditSettings {
  readonly job: string | null;
  readonly tolerances: string | null;
  /** Whether PDFs are printed again. */
  readonly print: boolean;
  /** Folder of public keys and certificates; null: who vouches is not asked. */
  readonly trust: string | null;
  /** Whether pages that were not compared are drawn. */
  readonly pictures: boolean;
}

/** A report, or an output folder whose register is audited. */
export interface AuditTask {
  readonly path: string;
  readonly isRegister: boolean;
}

export type FromAudit = AuditFinding | RegisterFinding | { readonly report: string; readonly error: string };

export function worker(): Served<AuditTask, FromAudit> {
  let settings: AuditSettings;
  let trust: Promise<Trust> | null;
  const printer = lazyPrinter();
  return {
    start(told) {
      settings = told as AuditSettings;
      trust = settings.trust === null ? null : trustIn(settings.trust);
      trust?.catch(() => undefined);
    },
    async task({ path, isRegister }) {
      const { job, tolerances, pictures } = settings;
      const print = settings.print ? printer.open : null;
      try {
        if (isRegister) return await auditRegister(path, print);
        return await audit(path, {
          ...{ job, tolerances, print, trust: await trust },
          ...(pictures && { draw: drawPages }),
        });
      } catch (error) {
        return { report: path, error: (error as Error).message };
      }
    },
    end: () => printer.close(),
  };
}
