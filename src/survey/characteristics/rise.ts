import { characteristic } from './characteristic.js';

export const rise = characteristic({
  name: 'rise',
  title: 'Rise from end to end',
  family: 'length',
  rails: 'along',
  sign: 'rises with increasing along',
  meaning: 'rise-from-end-to-end',
  prompt: 'the rise from end to end, each rail',
});
