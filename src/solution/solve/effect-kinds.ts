/** Effects that are common to many readings, so that repetition does not average them. */
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
