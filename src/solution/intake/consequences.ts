/** Each cause is reported once: findings that follow from another finding of the same file are left out. */
import type { Diagnostic, DiagnosticCode } from '../../base/diagnostics/diagnostic.js';
import type { PhaseName } from '../../survey/job/job-schema.js';
import { phaseWords } from '../../survey/readings/phase-words.js';
import type { Readings } from '../../survey/readings/readings.js';

/** After these findings, values are not in the columns that name them. */
const CELLS_MISPLACED: ReadonlySet<DiagnosticCode> = new Set<DiagnosticCode>([
  'CSV_DECIMALS_SPLIT',
  'CSV_SECOND_HEADER',
  'CSV_ROWS_ABOVE_HEADER',
  'CSV_ROW_LENGTH',
]);

/**
 * Without suspicions about readings in files whose cells are not in the right columns. They are checked again when the file
 * can be read.
 */
export function withoutConsequences(list: readonly Diagnostic[]): Diagnostic[] {
  const misread = new Set(
    list.flatMap(({ code, severity, at }) =>
      severity === 'error' && CELLS_MISPLACED.has(code) && at !== undefined ? [at.file] : [],
    ),
  );
  return list.filter(
    ({ severity, at, code }) =>
      severity === 'error' || code.startsWith('CSV_') || at === undefined || !misread.has(at.file),
  );
}

/** Findings of readings that contradict each other, with possible causes. */
const MISFITS: ReadonlySet<DiagnosticCode> = new Set<DiagnosticCode>([
  'MISFIT_EXPLAINED',
  'NOISE_FAR_ABOVE_CLAIM',
]);
/** Other signs of the same contradiction. */
const SIGNS_OF_MISFIT: ReadonlySet<DiagnosticCode> = new Set<DiagnosticCode>([
  'NOISE_ABOVE_CLAIM',
  'PRIOR_SUSPECT',
  'REPEATABILITY_ABOVE_CLAIM',
  'CLOSURE_EXCEEDED',
]);

/**
 * Without the other signs of a misfit in phases whose misfit must be confirmed. When it is confirmed they are reported, because
 * the report is then made with the readings as they are.
 */
export function withoutSignsOfMisfit(list: readonly Diagnostic[], { phases }: Readings): Diagnostic[] {
  const phaseOf = ({ data }: Diagnostic) => (data as { phase?: string }).phase;
  const asked = new Set(
    list.flatMap((d) => (d.severity === 'confirm' && MISFITS.has(d.code) ? [phaseOf(d)] : [])),
  );
  if (asked.size === 0) return [...list];
  const isAsked = (phase: PhaseName | string) => asked.has(phaseWords(phase as PhaseName));
  const filesOf = (keep: (phase: PhaseName) => boolean) =>
    new Set([...phases].flatMap(([phase, own]) => (keep(phase) ? own.map(({ source }) => source.file) : [])));
  const others = filesOf((phase) => !isAsked(phase));
  const files = [...filesOf(isAsked)].filter((file) => !others.has(file));
  return list.filter((d) => {
    if (d.severity !== 'warning' || d.confirmed !== undefined || !SIGNS_OF_MISFIT.has(d.code)) return true;
    const phase = phaseOf(d);
    return !(phase === undefined ? d.at !== undefined && files.includes(d.at.file) : isAsked(phase));
  });
}
