import { characteristic } from './characteristic.js';

export const squareness = characteristic({
  name: 'squareness',
  title: 'Squareness',
  family: 'slope',
  rails: 'cross',
  sign: 'larger than a right angle',
  relative: true,
  meaning: 'squareness',
  clause: '5.5',
});
