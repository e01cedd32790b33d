/**
 * The equations of a phase for testing what is stated of a target's scale. The scale multiplies what the target should read, and its
 * coefficient is the reading. There the noise of a reading is its own coefficient: a scale of −100 % would explain every misfit, and where
 * few readings tell of a scale, their noise alone seems to contradict what is stated. With the adjusted reading as coefficient, as for any
 * product of two unknown things, it does not.
 *
 * @see W. E. Deming, Statistical Adjustment of Data, 1943 (derivatives at the adjusted values), from memory.
 */
import { rowProducts } from './adjustment.js';
import { factorize } from './factor.js';
import type { Network } from './network.js';
import { solution } from './substitution.js';

/** @returns The network itself where no scale is stated. */
export function linearised(network: Network): Network {
  const scales = new Set(
    network.unknowns.flatMap((u, at) => ('effect' in u && u.effect === 'scale' ? [at] : [])),
  );
  if (scales.size === 0) return network;
  const factor = factorize(network);
  const computed = rowProducts(network, factor.position, solution(factor));
  const coefficient = network.coefficient.slice();
  network.observations.forEach((o, row) => {
    if (o.kind !== 'offset') return;
    const adjusted = o.um - (network.observed[row]! - computed[row]!);
    for (let k = network.start[row]!; k < network.start[row + 1]!; k++)
      if (scales.has(network.column[k]!)) coefficient[k] = adjusted / 100;
  });
  return { ...network, coefficient };
}
