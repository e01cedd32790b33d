/** Parallelism of a rail to another one. Its trend counts: it is not the straightness of the difference. */
import { characteristic } from './characteristic.js';

const shared = {
  family: 'length',
  rails: 'against-datum',
  ofGroups: true,
  overLength: true,
  relative: true,
  meaning: 'parallelism',
  clause: '5.4',
} as const;

/** Distances from the datum rail's least-squares line, not from its stations. @see ISO 1101, parallelism to a datum line */
const toLine = { ...shared, ofGroups: false, onlyByTolerance: true, meaning: 'parallelism-to-line' } as const;

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
  characteristic({
    ...toLine,
    name: 'parallelism-to-line-vertical',
    title: 'Parallelism to the line, vertical',
  }),
  characteristic({
    ...toLine,
    name: 'parallelism-to-line-horizontal',
    title: 'Parallelism to the line, horizontal',
  }),
] as const;

/** Of a cross rail, from the plane of all rails along. @see ISO 1101, parallelism to a datum plane */
export const parallelismToPlane = characteristic({
  name: 'parallelism-to-plane',
  title: 'Parallelism to the plane of the rails',
  family: 'length',
  rails: 'cross',
  onlyByTolerance: true,
  meaning: 'parallelism-to-plane',
  clause: '5.4',
});
