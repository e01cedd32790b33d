/** The worker process of `waysheet audit`: one report after the other, with one browser for all of them. */
import { lazyPrinter } from '../archive/batch/lazy-printer.js';
import type { Served } from '../archive/batch/serve-tasks.js';
import { trustIn, type Trust } from '../archive/signing.js';
import { drawPages } from '../pages/report/browser/draw-pages.js';
import { audit } from '../archive/audit/audit.js';
import { auditArchive, auditLog, type LogFinding } from '../archive/audit/audit-log.js';
import { auditRegister } from '../archive/audit/audit-register.js';
import type { AuditFinding, NotCompared } from '../archive/audit/statements.js';

export interface AuditSettings {
  readonly job: string | null;
  readonly tolerances: string | null;
  /** Whether PDFs are printed again. */
  readonly print: boolean;
  /** Whether the register of an output folder is made again. */
  readonly register: boolean;
  /** Folder of public keys and certificates; null: who vouches is not asked. */
  readonly trust: string | null;
  /** SHA-256 of a log's last line, as it was noted elsewhere. */
  readonly head: string | null;
  /** Day of the states; null: as the log ends. */
  readonly on: string | null;
  /** Whether pages that were not compared are drawn. */
  readonly pictures: boolean;
}

/** A report; the log of an output folder; such a folder with everything in it. */
export interface AuditTask {
  readonly path: string;
  readonly what: 'report' | 'log' | 'folder';
  /** How many there are in the folder. */
  readonly reports?: number;
}

export type FromAudit = AuditFinding | LogFinding | { readonly report: string; readonly error: string };

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
    async task({ path, what }) {
      const { job, tolerances, pictures, head, on } = settings;
      const print = settings.print ? printer.open : null;
      try {
        const questions = { head, trust: (await trust) ?? null, day: on };
        if (what === 'log') return auditLog(path, questions);
        if (what === 'folder') {
          const log = await auditArchive(path, questions);
          const register = settings.register
            ? await auditRegister(path, print)
            : { differences: [], notCompared: [waivedRegister] };
          return {
            ...log,
            troubles: [...log.troubles, ...register.differences.map(ofNoReport)],
            notCompared: [...log.notCompared, ...register.notCompared],
          };
        }
        return await audit(path, {
          ...{ job, tolerances, print, trust: questions.trust },
          ...(pictures && { draw: (pdf) => drawPages(pdf) }),
        });
      } catch (error) {
        return { report: path, error: (error as Error).message };
      }
    },
    end: () => printer.close(),
  };
}

const waivedRegister: NotCompared = {
  what: 'register and changes',
  why: 'they were not asked about (--no-register)',
  isWaived: true,
};
const ofNoReport = (what: string) => ({ what, report: null, job: null, number: null });
