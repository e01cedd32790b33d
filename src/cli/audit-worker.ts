/** The worker process of `waysheet audit`: one report after the other, with one browser for all of them. */
import { lazyPrinter } from '../archive/batch/lazy-printer.js';
import { serveTasks } from '../archive/batch/serve-tasks.js';
import { trustedKeys, type TrustedKey } from '../archive/signing.js';
import { audit } from '../archive/audit/audit.js';
import type { Audited } from '../archive/audit/finding-words.js';

export interface AuditSettings {
  readonly job: string | null;
  readonly tolerances: string | null;
  /** Whether PDFs are printed again. */
  readonly print: boolean;
  /** Folder of public keys; null: who signed is not asked. */
  readonly trust: string | null;
}

let settings: AuditSettings;
let keys: Promise<TrustedKey[]> | null;
const printer = lazyPrinter(() => undefined);

serveTasks<string, Audited>({
  start(told) {
    settings = told as AuditSettings;
    keys = settings.trust === null ? null : trustedKeys(settings.trust);
    keys?.catch(() => undefined);
  },
  async task(path) {
    const { job, tolerances, print } = settings;
    try {
      return await audit(path, { job, tolerances }, print ? printer.open : null, await keys);
    } catch (error) {
      return { path, error: (error as Error).message };
    }
  },
  end: () => printer.close(),
});
