import { characteristic } from './characteristic.js';

const shared = {
  family: 'slope',
  rails: 'any',
  local: true,
  sign: 'it rises, or turns to the left, with increasing along',
  meaning: {
    label: 'Rate of change',
    text: 'slope from a station to the farthest one within the stated length, less that of the rail’s least-squares line, where it is farthest from zero; + it rises, or turns to the left, with increasing along.',
  },
} as const;

export const rateOfChange = [
  characteristic({ ...shared, name: 'rate-of-change-vertical', title: 'Rate of change, vertical' }),
  characteristic({ ...shared, name: 'rate-of-change-horizontal', title: 'Rate of change, horizontal' }),
] as const;
