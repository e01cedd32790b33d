import { characteristic } from './characteristic.js';

const shared = { family: 'slope', overLength: true } as const;

export const levelAlong = characteristic({
  ...shared,
  name: 'level-along',
  title: 'Level along the rail',
  rails: 'along',
  sign: 'rises with increasing along',
  meaning: 'level-along-the-rail',
  prompt: 'level along, each rail',
});

/** Of a cross rail, against gravity. */
export const levelAcross = characteristic({
  ...shared,
  name: 'level-across',
  title: 'Level of a cross rail',
  rails: 'cross',
  onlyByTolerance: true,
  sign: 'rises to the left',
  meaning: 'level-of-a-cross-rail',
});
