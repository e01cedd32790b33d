/** Effects that a whole set-up, instrument or target shares: what was stated about each, and what the readings give. */
import { effects as descriptions } from '../solution/solve/effects/effects.js';
import { rowOf, type Adjustment } from '../solution/solve/adjustment.js';
import type { PhaseResults } from './results-schema.js';

type Effects = NonNullable<PhaseResults['effects']>;

const LISTED = descriptions.filter(({ isListed }) => isListed);

/** Left out if the job states none. */
export function effectsSection(adjustment: Adjustment): Pick<PhaseResults, 'effects'> {
  const { network } = adjustment;
  const effects = network.observations.flatMap((o, i): Effects => {
    if (o.kind !== 'prior') return [];
    const effect = LISTED.find(({ name }) => name === o.prior);
    if (effect === undefined) return [];
    const f = rowOf(network, i);
    return [
      {
        kind: effect.name,
        of: o.of,
        setup: o.setup,
        unit: effect.unit,
        value: adjustment.value(f),
        u: adjustment.standardUncertainty(f),
        statedU: network.sigma[i]!,
      },
    ];
  });
  return effects.length === 0 ? {} : { effects };
}
