import { characteristic } from './characteristic.js';

export const crossLevel = characteristic({
  name: 'cross-level',
  title: 'Cross-level',
  family: 'slope',
  rails: 'against-datum',
  needsDistance: true,
  sign: 'the rail is higher than the datum rail',
  ofGroups: true,
  relative: true,
  meaning: 'cross-level',
  prompt: 'cross-level from rail A to another',
});
