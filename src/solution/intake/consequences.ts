/** Each cause is reported once: findings that follow from another finding of the same file are left out. */
import type { Diagnostic, DiagnosticCode } from '../../base/diagnostics/diagnostic.js';
import { kindOf } from '../../base/diagnostics/groups.js';
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
/** The same of the readings of one file. */
const MISFITS_OF_FILES: ReadonlySet<DiagnosticCode> = new Set<DiagnosticCode>([
  'READINGS_CONSTANT',
  'READING_REPEATED',
  'UNIT_IMPLAUSIBLE',
]);
/** Other signs of the same contradiction. */
const SIGNS_OF_MISFIT: ReadonlySet<DiagnosticCode> = new Set<DiagnosticCode>([
  'NOISE_ABOVE_CLAIM',
  'PRIOR_SUSPECT',
  'REPEATABILITY_ABOVE_CLAIM',
  'CLOSURE_EXCEEDED',
]);

/** What follows from a finding until that is answered, in the same file or in all of the job. */
interface Effect {
  readonly of: (d: Diagnostic) => boolean;
  readonly are: (code: string, severity: Diagnostic['severity']) => boolean;
  readonly isOfTheWhole?: true;
}

const asked =
  (...codes: readonly DiagnosticCode[]) =>
  ({ code, severity }: Diagnostic): boolean =>
    severity === 'confirm' && codes.includes(code);

const effects: readonly Effect[] = [
  {
    of: ({ code, severity }) => code === 'CSV_DECIMALS_SPLIT' && severity === 'error',
    are: (code, severity) =>
      code === 'CSV_ROW_LENGTH' || (code === 'CSV_DECIMALS_SPLIT' && severity === 'confirm'),
  },
  {
    of: ({ code, severity }) => severity === 'error' && code.startsWith('CSV_COLUMN_'),
    are: (code) => !code.startsWith('CSV_'),
  },
  { of: asked('FILES_IDENTICAL'), are: (code) => code === 'ROWS_COPIED' },
  {
    of: asked('UNIT_IMPLAUSIBLE'),
    are: (code) => code === 'READING_OUT_OF_RANGE' || code === 'READING_NEAR_RANGE',
  },
  {
    // Distances go into every uncertainty, and into what has a value.
    of: asked('GEOMETRY_IMPLAUSIBLE'),
    are: (code) =>
      [...MISFITS, ...SIGNS_OF_MISFIT].includes(code as DiagnosticCode) ||
      ['MISFIT_UNEXPLAINED', 'UNIT_IMPLAUSIBLE', 'LIMIT_IMPLAUSIBLE', 'TOLERANCE_WITHOUT_VALUE'].includes(
        code,
      ),
    isOfTheWhole: true,
  },
  {
    of: asked('DATE_IMPLAUSIBLE', 'PHASES_REVERSED'),
    are: (code) => ['TIME_OUTSIDE_SURVEY', 'DATES_REVERSED', 'CALIBRATION_OVERDUE'].includes(code),
    isOfTheWhole: true,
  },
];

/** That nothing was read follows from whatever else cannot be used. */
const NOTHING_READ: ReadonlySet<DiagnosticCode> = new Set(['NO_READINGS_USED', 'SETUP_READS_NOTHING']);

/** Without what the other findings cause, and each but once. @param list With the answers of job.json. */
export function withoutEffects(list: readonly Diagnostic[]): Diagnostic[] {
  const isOther = ({ severity, code }: Diagnostic) => severity === 'error' && !NOTHING_READ.has(code);
  const hasOther = list.some(isOther);
  const causes = effects.map(({ of }) => list.filter(of));
  const follows = (d: Diagnostic) => {
    const { code, at, severity } = d;
    const own = kindOf(d);
    if (hasOther && NOTHING_READ.has(code)) return true;
    return effects.some(
      ({ are, isOfTheWhole }, k) =>
        are(own, severity) &&
        causes[k]!.some((cause) => isOfTheWhole || (at !== undefined && cause.at?.file === at.file)),
    );
  };
  const left = list.filter((d) => !follows(d));
  return [...new Map(left.map((d) => [JSON.stringify(d), d])).values()];
}

/**
 * Without the other signs of a misfit in phases whose misfit must be confirmed. When it is confirmed they are reported, because
 * the report is then made with the readings as they are.
 */
export function withoutSignsOfMisfit(list: readonly Diagnostic[], { phases }: Readings): Diagnostic[] {
  const phaseOf = ({ data }: Diagnostic) => (data as { phase?: string }).phase;
  const phasesWith = (file: string | undefined) =>
    [...phases].flatMap(([phase, own]) =>
      own.some(({ source }) => source.file === file) ? [phaseWords(phase)] : [],
    );
  const asked = new Set(
    list.flatMap((d) => {
      if (d.severity !== 'confirm') return [];
      if (MISFITS.has(d.code)) return [phaseOf(d)];
      return MISFITS_OF_FILES.has(d.code) ? phasesWith(d.at?.file) : [];
    }),
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
