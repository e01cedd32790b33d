import { characteristic } from './characteristic.js';

export const heightDifference = characteristic({
  name: 'height-difference',
  title: 'Height difference',
  family: 'length',
  rails: 'against-datum',
  sign: 'the rail is higher than the datum rail',
  ofGroups: true,
  relative: true,
  meaning: 'height-difference',
});
