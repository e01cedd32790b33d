import { characteristic } from './characteristic.js';

export const levelAlong = characteristic({
  name: 'level-along',
  title: 'Level along the rail',
  family: 'slope',
  rails: 'along',
  sign: 'rises with increasing along',
  meaning: {
    label: 'Level along the rail',
    text: 'slope of the rail’s least-squares line against gravity; + rises with increasing along.',
  },
  prompt: 'level along, each rail',
});
