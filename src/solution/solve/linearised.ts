/**
 * The network of a phase, linear about its own solution. One effect is a product of two unknown things: a target's scale multiplies what
 * the target should read. Its coefficient is the adjusted reading, not the reading: the noise of a reading would else be taken for a
 * trace of the scale, and a scale of −100 % would explain every misfit.
 *
 * @see W. E. Deming, Statistical Adjustment of Data, 1943 (products of observed values: derivatives at the adjusted ones), from memory.
 */
import type { Job } from '../../survey/job/job.js';
import type { Reading } from '../../survey/readings/readings.js';
import { rowProducts } from './adjustment.js';
import { factorize } from './factor.js';
import { buildNetwork, type Network } from './network.js';
import { solution } from './substitution.js';

/** @param readings All used readings of one phase, in any order. @throws As `buildNetwork`. */
export function linearisedNetwork(job: Job, readings: readonly Reading[]): Network {
  const network = buildNetwork(job, readings);
  const scales = new Set(network.unknowns.flatMap(({ kind }, at) => (kind === 'scale' ? [at] : [])));
  if (scales.size === 0) return network;
  const factor = factorize(network);
  const computed = rowProducts(network, factor.position, solution(factor));
  const coefficient = network.coefficient.slice();
  network.observations.forEach((o, row) => {
    if (o.kind === 'prior') return;
    for (let k = network.start[row]!; k < network.start[row + 1]!; k++)
      if (scales.has(network.column[k]!)) coefficient[k]! -= (network.observed[row]! - computed[row]!) / 100;
  });
  return { ...network, coefficient };
}
