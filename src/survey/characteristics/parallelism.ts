/** Parallelism of a rail to another one. Its trend counts: it is not the straightness of the difference. */
import { characteristic } from './characteristic.js';

const shared = {
  family: 'length',
  rails: 'against-datum',
  ofGroups: true,
  relative: true,
  meaning: 'parallelism',
  clause: '5.4',
} as const;

export const parallelism = [
  characteristic({
    ...shared,
    name: 'parallelism-vertical',
    title: 'Parallelism, vertical',
    prompt: 'parallelism in height, rail against rail A',
  }),
  characteristic({
    ...shared,
    name: 'parallelism-horizontal',
    title: 'Parallelism, horizontal',
    prompt: 'parallelism sideways, rail against rail A',
  }),
] as const;
