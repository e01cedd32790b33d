import { characteristic } from './characteristic.js';

export const twist = characteristic({
  name: 'twist',
  title: 'Twist',
  family: 'slope',
  rails: 'against-datum',
  needsDistance: true,
  overLength: true,
  ofGroups: true,
  relative: true,
  meaning: 'twist',
});
