export const budgetSources = [
  'readings',
  'distance',
  'level',
  'direction-carry-over',
  'height-carry-over',
  'target-assemblies',
  'drift',
  'air',
  'cone',
  'target-scale',
  'target-roll',
  'seating',
  'rail-tilt',
  'temperature',
  'benchmarks',
] as const;
export type BudgetSource = (typeof budgetSources)[number];
