import { characteristic } from './characteristic.js';

export const span = characteristic({
  name: 'span',
  title: 'Span',
  family: 'length',
  rails: 'against-datum',
  needsDistance: true,
  sign: 'wider than nominal',
  ofGroups: true,
  relative: true,
  meaning: 'span',
  prompt: 'the distance across, either way',
});
