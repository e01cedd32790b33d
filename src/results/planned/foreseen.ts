/** What a plan foresees of one characteristic. */
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
  /** The greatest value that will be accepted; 0: none will. */
  readonly acceptsUpTo: number | null;
  readonly budget: Partial<Record<BudgetSource, number>>;
  /** Limits to two sides, as in results.json. */
  readonly zone?: { readonly from: number | null; readonly to: number | null };
  /** Of a signed figure: from where to where it will be accepted; null: no such value. */
  readonly accepts?: { readonly from: number | null; readonly to: number | null } | null;
  /** The expanded uncertainty U to be expected. */
  readonly expanded: number | null;
  /** What makes most of the variance, and its share. */
  readonly greatest?: { readonly source: BudgetSource; readonly share: number };
  /** How often each verdict was reached in simulated surveys of a rail at a share of the limit. */
  readonly chances?: readonly Chances[] | undefined;
}
