/** Priors as a crew would name them, and which of them the readings contradict only by their own noise. */
import type { Observation } from './network.js';

/** true: a scale or a roll that few readings determine. */
export const isOwnNoise = (o: Observation, redundancy: number): boolean =>
  o.kind === 'prior' && (o.prior === 'scale' || o.prior === 'target-roll') && redundancy < 0.1;

/** A prior in words. */
export function priorName(o: Observation & { kind: 'prior' }): string {
  switch (o.prior) {
    case 'level':
      return `level of set-up ${o.setup} (${o.of})`;
    case 'square':
      return `squareness of instrument ${o.instrument}`;
    case 'drift':
      return `no drift of set-up ${o.setup} (${o.of.slice('drift-'.length)})`;
    case 'air':
      return `the ${o.of} of set-up ${o.setup} as stated`;
    case 'cone':
      return `no cone of instrument ${o.instrument} (${o.of.slice('cone-'.length)})`;
    case 'rods':
      return `difference of the ${o.of} as stated`;
    case 'scale':
    case 'target-roll':
    case 'seating':
    case 'level-zero':
    case 'rail-tilt':
    case 'thermal-bow':
    case 'span-temperature':
      return `the ${o.of} as stated`;
  }
}
