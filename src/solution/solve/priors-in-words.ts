/** Priors as a crew would name them. */
import type { Observation } from './network.js';

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
