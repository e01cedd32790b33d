/** The expected result of a plan for one characteristic. */
import type { Identity } from '../identity.js';
import type { BudgetSource, CharacteristicResult } from '../results-schema.js';
import type { Chances } from './chances.js';

export interface Foreseen extends Identity {
  readonly unit: 'um' | 'um/m';
  /** null: the planned readings do not determine it. */
  readonly u: number | null;
  readonly why?: string;
  readonly reasons?: Extract<CharacteristicResult, { value: null }>['reasons'];
  readonly limit: number | null;
  /** Decision rule of this limit; left out: that of the job. */
  readonly rule?: CharacteristicResult['rule'];
  /** The greatest value that will be accepted; 0: none. */
  readonly acceptsUpTo: number | null;
  readonly budget: Partial<Record<BudgetSource, number>>;
  /** Limits to two sides, as in results.json. */
  readonly zone?: { readonly from: number | null; readonly to: number | null };
  /** For a signed figure: the range that will be accepted; null: none. */
  readonly accepts?: { readonly from: number | null; readonly to: number | null } | null;
  /** Expected expanded uncertainty U. */
  readonly expanded: number | null;
  /** The source with the greatest share of the variance, and its share. */
  readonly greatest?: { readonly source: BudgetSource; readonly share: number };
  /** Frequencies of the verdicts in simulated surveys of a rail at a share of the limit. */
  readonly chances?: readonly Chances[] | undefined;
}
