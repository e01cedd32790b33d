import { characteristic } from './characteristic.js';

export const squareness = characteristic({
  name: 'squareness',
  title: 'Squareness',
  family: 'slope',
  rails: 'cross',
  sign: 'larger than a right angle',
  relative: true,
  meaning: {
    label: 'Squareness',
    text: 'angle between the datum rail’s line (increasing along) and the cross rail’s line (increasing across) less 90°; + larger than a right angle.',
  },
});
