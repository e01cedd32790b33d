/** What a picture of trends is made from, in the units in which it is drawn. */
import type { PhaseName } from '../../../survey/job/job-schema.js';
import type { Verdict } from '../../../results/results-schema.js';

export interface TrendValue {
  /** Since 1970-01-01. */
  readonly day: number;
  readonly phase: PhaseName;
  /** null: not determined. */
  readonly value: number | null;
  readonly interval: readonly [number, number] | null;
  readonly limit: number | null;
  readonly verdict: Verdict;
}

export interface TrendPanel {
  /** "Straightness, vertical, rail A" */
  readonly name: string;
  /** The last value in words. */
  readonly outcome: string;
  readonly signed: boolean;
  /** In order of time, two or more. */
  readonly values: readonly TrendValue[];
}

export interface TrendInput {
  readonly key: string;
  /** Whose trends they are. */
  readonly title: string;
  readonly alt: string;
  readonly panels: readonly TrendPanel[];
  readonly intervalLabel: string;
}
