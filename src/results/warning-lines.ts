/** Warnings as the report prints them. */
import type { Results } from './results-schema.js';
import type { Diagnostic } from '../base/diagnostics/diagnostic.js';
import { describe, explain } from '../base/diagnostics/messages.js';

/** Warnings as results.json keeps them, in words. */
export const warningLines = (diagnostics: readonly Diagnostic[]): Results['warnings'] =>
  diagnostics
    .filter((d) => d.severity === 'warning')
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
      : [{ code: d.code, file: d.at?.file ?? null, message: `${explain(d).what}.`, ...d.confirmed }],
  );
