/** Compares what must be confirmed with what a person confirmed in job.json. */
import {
  renamed,
  type ConfirmableCode,
  type Diagnostic,
  type DiagnosticCode,
} from '../../base/diagnostics/diagnostic.js';
import type { Confirmation } from '../../survey/job/job.js';

/**
 * A confirmed finding becomes a warning that names who confirmed it and why. A confirmation of something that is not found
 * any more is reported (CONFIRMATION_IDLE).
 *
 * @param isWhole true: everything was checked. Only then can a confirmation be idle.
 */
export function applyConfirmations(
  diagnostics: readonly Diagnostic[],
  confirmed: readonly Confirmation[],
  isWhole: boolean,
): Diagnostic[] {
  const used = new Set<Confirmation>();
  const answered = diagnostics.map((d): Diagnostic => {
    if (d.severity !== 'confirm') return d;
    const found = confirmed.find(
      ({ what, file }) => isOf(what, d.code) && (file === null || file === (d.at?.file ?? null)),
    );
    if (found === undefined) return d;
    used.add(found);
    return { ...d, severity: 'warning', confirmed: { by: found.by, because: found.because } };
  });
  if (!isWhole) return answered;
  const idle = confirmed
    .filter((c) => !used.has(c))
    .map(({ what, file, at }): Diagnostic => ({
      code: 'CONFIRMATION_IDLE',
      severity: 'warning',
      data: { what, file: file ?? '' },
      at,
    }));
  return [...answered, ...idle];
}

const isOf = (what: ConfirmableCode, code: DiagnosticCode): boolean =>
  what === code || (what in renamed && renamed[what as keyof typeof renamed] === code);
