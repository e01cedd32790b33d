import { characteristic } from './characteristic.js';

export const levelAlong = characteristic({
  name: 'level-along',
  title: 'Level along the rail',
  family: 'slope',
  rails: 'along',
  overLength: true,
  sign: 'rises with increasing along',
  meaning: 'level-along-the-rail',
  prompt: 'level along, each rail',
});
