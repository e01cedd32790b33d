/** Warnings as the report prints them. */
import type { Results } from './results-schema.js';
import type { Diagnostic, DiagnosticCode } from '../base/diagnostics/diagnostic.js';
import { describe, whatHappened } from '../base/diagnostics/messages.js';

/** Findings about the folder and the run, not about the survey: no part of a document that others must be able to make again. */
export const OF_THE_FOLDER: ReadonlySet<DiagnosticCode> = new Set(['FILE_UNNAMED', 'JOB_LARGE']);

/** Warnings as results.json keeps them, in words: all that the front door found, but for what is of the folder alone. */
export const warningLines = (diagnostics: readonly Diagnostic[]): Results['warnings'] =>
  diagnostics
    .filter((d) => d.severity === 'warning' && !OF_THE_FOLDER.has(d.code))
    .map((d) => ({
      code: d.code,
      file: d.at?.file ?? null,
      row: d.at?.row ?? null,
      column: d.at?.column ?? null,
      message: describe(d),
    }));

/** What had to be confirmed and was, for page 1. */
export const confirmationLines = (
  diagnostics: readonly Diagnostic[],
): NonNullable<Results['confirmations']> =>
  diagnostics.flatMap((d) =>
    d.confirmed === undefined
      ? []
      : [{ code: d.code, file: d.at?.file ?? null, message: whatHappened(d), ...d.confirmed }],
  );
