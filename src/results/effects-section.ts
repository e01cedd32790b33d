/** Effects that a whole set-up, instrument or target shares: what was stated of each, and what the readings make of it. */
import { effectKinds } from '../solution/solve/effect-kinds.js';
import { rowOf, type Adjustment } from '../solution/solve/adjustment.js';
import type { PhaseResults } from './results-schema.js';

type Effects = NonNullable<PhaseResults['effects']>;

const unitOf: Readonly<Record<(typeof effectKinds)[number], Effects[number]['unit']>> = {
  air: 'K/m',
  cone: 'um/m',
  scale: '%',
  'target-roll': 'mrad',
  seating: 'um',
  'level-zero': 'um/m',
  'rail-tilt': 'um/m',
  'thermal-bow': 'K',
  'span-temperature': 'K',
};

/** Of each placing and each station there would be too many; they are in the budget. */
const LISTED = effectKinds.filter((kind) => kind !== 'seating' && kind !== 'rail-tilt');

/** Absent where the job states none. */
export function effectsSection(adjustment: Adjustment): Pick<PhaseResults, 'effects'> {
  const { network } = adjustment;
  const effects = network.observations.flatMap((o, i): Effects => {
    if (o.kind !== 'prior') return [];
    const kind = LISTED.find((k) => k === o.prior);
    if (kind === undefined) return [];
    const f = rowOf(network, i);
    return [
      {
        kind,
        of: o.of,
        setup: o.setup,
        unit: unitOf[kind],
        value: adjustment.value(f),
        u: adjustment.standardUncertainty(f),
        statedU: network.sigma[i]!,
      },
    ];
  });
  return effects.length === 0 ? {} : { effects };
}
