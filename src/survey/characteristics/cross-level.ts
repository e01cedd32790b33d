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
  meaning: {
    label: 'Cross-level',
    text: 'height above the datum rail divided by the distance across, where it is farthest from zero; + the rail is higher than the datum rail.',
  },
  prompt: 'cross-level from rail A to another',
});
