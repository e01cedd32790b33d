/** The single reading that, taken again, helps most to decide what is undecided; calculated with the model. */
import type { Job } from '../survey/job/job.js';
import { adjust, type Adjustment, type Functional } from '../solution/solve/adjustment.js';
import { buildNetwork } from '../solution/solve/network.js';
import { noiseIn } from '../solution/solve/noise-in.js';
import { readingLabel } from '../survey/readings/point-label.js';
import type { Reading } from '../survey/readings/readings.js';
import type { Open } from './helps-section.js';
import { again } from './remedies.js';
import type { CharacteristicResult } from './results-schema.js';

/** A reading, and the share of its width that the interval loses if it is taken again. */
export interface HelpfulReading {
  readonly what: string;
  readonly file: string;
  readonly row: number;
  readonly axis: string;
  readonly narrower: number;
}

export interface OneReading {
  /** For each open characteristic the reading that narrows its interval most. */
  readonly of: ReadonlyMap<CharacteristicResult, HelpfulReading>;
  /** The reading with the largest effect relative to what an open interval must lose; null: nothing is open. */
  readonly best: HelpfulReading | null;
}

/** Greatest number of readings of a survey that is searched. */
const MOST_READINGS = 5000;

/**
 * All readings are ordered by the variance after one more reading of each, var(f) − cov(f, a)²/(σ² + var(a)). The first
 * is then solved exactly, with its own placing of the target.
 *
 * @see C. R. Rao, Linear Statistical Inference and Its Applications, 1973: the least-squares solution with one more
 *   observation (from memory).
 */
export function helpOfOneReading(job: Job, adjustment: Adjustment, open: readonly Open[]): OneReading {
  const { observations } = adjustment.network;
  const readings = observations.flatMap((o) => (o.kind === 'prior' ? [] : [o]));
  const of = new Map<CharacteristicResult, HelpfulReading>();
  let best: HelpfulReading | null = null;
  if (readings.length > MOST_READINGS) return { of, best };
  let most = 0;
  for (const { made, functional, needed } of open) {
    const i = heaviest(adjustment, functional);
    const reading = i === null ? null : observations[i]!;
    if (reading === null || reading.kind === 'prior') continue;
    const then = adjust(buildNetwork(job, [...readings, ...again<Reading>([reading])]));
    const narrower = 1 - noiseIn(then, adjustment, functional) / noiseIn(adjustment, adjustment, functional);
    const found: HelpfulReading = {
      what:
        reading.kind === 'offset' ? `${readingLabel(reading)} from ${reading.setup}` : readingLabel(reading),
      file: reading.source.file,
      row: reading.source.row,
      axis: reading.kind === 'offset' ? reading.axis : reading.kind,
      narrower,
    };
    of.set(made, found);
    if (narrower / needed > most) [best, most] = [found, narrower / needed];
  }
  return { of, best };
}

/** The observation that, repeated, reduces the variance of f most; null: none reduces it. */
function heaviest(adjustment: Adjustment, f: Functional): number | null {
  const { network, redundancyNumber, scale } = adjustment;
  const withAll = adjustment.covarianceWith(f);
  let [found, most]: [number | null, number] = [null, 0];
  network.observations.forEach((o, i) => {
    if (o.kind === 'prior') return;
    let covariance = 0;
    for (let k = network.start[i]!; k < network.start[i + 1]!; k++)
      covariance += (network.coefficient[k]! * withAll[network.column[k]!]!) / scale ** 2;
    // The variance of the adjusted reading is (1 − r)σ².
    const lost = covariance ** 2 / ((2 - redundancyNumber[i]!) * network.sigma[i]! ** 2);
    if (lost > most) [found, most] = [i, lost];
  });
  return found;
}
