/** Standard uncertainties of all members of a family at once are those of its members one by one. */
import { describe, expect, test } from 'vitest';
import { combine, uncertainties } from '../../../src/solution/characteristics/linear-family.js';
import { profilesOf } from '../../../src/solution/characteristics/ask.js';
import {
  differences,
  heights,
  offsetsFromDatumLine,
  ownDeviations,
} from '../../../src/solution/characteristics/profiles.js';
import { adjust } from '../../../src/solution/solve/adjustment.js';
import { buildNetwork } from '../../../src/solution/solve/network.js';
import { loadJob } from '../../../src/solution/intake/load-job.js';
import { sample } from '../../support/folders.js';

// Its steps of a level from rail to rail tie the heights of neighbours: their covariances are at hand.
const loaded = await loadJob(sample('TH-3318'));
if (!loaded.ok) throw new Error('the sample is sound');
const { job, readings } = loaded.value;
const adjustment = adjust(buildNetwork(job, readings.phases.get('as-left')!));
const [a, b] = job.rails.map((rail) => profilesOf(adjustment.network, rail));

describe('uncertainties of a family', () => {
  test.each([
    ['heights from the datum', heights(b!.vertical!, a!.vertical!)],
    ['differences of two rails', differences(b!.vertical!, a!.vertical!)],
    ['deviations from the own line', ownDeviations(b!.horizontal!)],
    ['offsets from the line of the datum', offsetsFromDatumLine(b!.horizontal!, a!.horizontal!)],
  ] as const)('%s', (_, family) => {
    const together = uncertainties(family!, adjustment);
    family!.points.forEach((_point, index) => {
      const alone = adjustment.standardUncertainty(combine(family!, [{ index, weight: 1 }]));
      expect(alone).toBeGreaterThan(0);
      expect(together[index]).toBeCloseTo(alone, 9);
    });
  });
});
