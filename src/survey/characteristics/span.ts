import { characteristic } from './characteristic.js';

export const span = characteristic({
  name: 'span',
  title: 'Span',
  family: 'length',
  rails: 'against-datum',
  needsDistance: true,
  sign: 'wider than nominal',
  relative: true,
  meaning: {
    label: 'Span',
    text: 'distance across from the datum rail less its nominal, where it is farthest from zero; + wider than nominal.',
  },
  prompt: 'the distance across, either way',
});
