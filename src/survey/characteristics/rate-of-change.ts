import { characteristic } from './characteristic.js';

const shared = {
  family: 'slope',
  rails: 'any',
  local: true,
  sign: 'it rises, or turns to the left, with increasing along',
  meaning: 'rate-of-change',
} as const;

export const rateOfChange = [
  characteristic({ ...shared, name: 'rate-of-change-vertical', title: 'Rate of change, vertical' }),
  characteristic({ ...shared, name: 'rate-of-change-horizontal', title: 'Rate of change, horizontal' }),
] as const;
