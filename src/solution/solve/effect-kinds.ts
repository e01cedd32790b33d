/** What is common to many readings, and no repetition averages (measurement.md §8). */
export const effectKinds = [
  'air',
  'cone',
  'scale',
  'target-roll',
  'seating',
  'level-zero',
  'rail-tilt',
  'thermal-bow',
  'span-temperature',
] as const;
export type EffectKind = (typeof effectKinds)[number];
