/**
 * Remedies for a new survey, each as the job and the readings after the change. Their uncertainty is calculated with the
 * same model as that of the present readings. It does not depend on the values, so a repeated reading is a copy.
 */
import type { Job, Setup } from '../survey/job/job.js';
import type { OffsetReading, Reading } from '../survey/readings/readings.js';
import type { Network } from '../solution/solve/network.js';
import { sourcesOf } from '../solution/solve/roles.js';
import type { BudgetSource, Remedy } from './results-schema.js';

export interface Survey {
  readonly job: Job;
  readonly readings: readonly Reading[];
}

interface Way {
  /** Sources of variance that it reduces: without any of them it is useless. Absent: it can always help. */
  readonly against?: readonly BudgetSource[];
  /** null: it is not possible with this survey, or was done already. */
  readonly survey: (now: Survey, network: Network) => Survey | null;
}

/** Greatest distance from the middle of the read length, as a share of it, at which a set-up is in the middle. */
const MIDDLE = 0.1;

export const ways: Readonly<Record<Remedy, Way>> = {
  'more-passes': { survey: (now) => ({ ...now, readings: [...now.readings, ...again(now.readings)] }) },
  'other-end': {
    survey: (now) =>
      onceMore(now, (setup, { from, to }) => ({ ...setup, alongMm: from + to - setup.alongMm })),
  },
  middle: {
    survey: (now) => {
      const reach = reachOf(now.readings, now.job);
      const offCentre = now.job.setups.filter((setup) => isOffCentre(setup, reach));
      if (offCentre.length === 0) return null;
      const setups = now.job.setups.map((setup) => {
        const own = offCentre.includes(setup) ? reach.get(setup.id) : undefined;
        return own === undefined ? setup : { ...setup, alongMm: (own.from + own.to) / 2 };
      });
      return { ...now, job: { ...now.job, setups } };
    },
  },
  'new-setups': {
    against: ['level', 'direction-carry-over', 'height-carry-over', 'drift'],
    survey: (now) => onceMore(now, (setup) => setup),
  },
  'turned-level': {
    against: ['level'],
    survey: (now) =>
      now.job.instruments.some(({ levelZeroU }) => levelZeroU !== null)
        ? onceMore(now, (setup) => ({ ...setup, headingDeg: setup.headingDeg + 180 }))
        : null,
  },
  'even-air': {
    against: ['air'],
    survey: (now) =>
      withEach(now, 'setups', ({ air }) => ({
        air: air.map((one) => ({ ...one, vertical: halved(one.vertical), sideways: halved(one.sideways) })),
      })),
  },
  'centred-target': {
    against: ['target-scale'],
    survey: (now) => withEach(now, 'targets', () => ({ scaleU: null })),
  },
  // The mean of two readings with the target turned over in between is free of its roll.
  'turned-target': {
    against: ['target-roll'],
    survey: (now) => {
      const turned = withEach(now, 'targets', () => ({ rollU: null }));
      return { ...turned, readings: [...turned.readings, ...again(turned.readings)] };
    },
  },
  'own-placings': { against: ['seating'], survey: (now) => withOffsets(now, { placing: null }) },
  'lower-rod': {
    against: ['rail-tilt'],
    survey: (now) => withEach(now, 'targets', ({ rodMm }) => ({ rodMm: rodMm && rodMm / 2 })),
  },
  'known-temperature': {
    against: ['temperature'],
    survey: (now) => {
      const { corrections } = now.job;
      const { spanAt20 } = corrections;
      const temperatureU = spanAt20?.temperatureU;
      const known = temperatureU ? { ...spanAt20, temperatureU: temperatureU / 2 } : spanAt20;
      const { readings, job } = withEach(now, 'rails', ({ thermal }) => ({ thermal: halved(thermal) }));
      return { readings, job: { ...job, corrections: { ...corrections, spanAt20: known } } };
    },
  },
  quicker: {
    against: ['drift'],
    survey: (now) => withEach(now, 'instruments', ({ driftU }) => ({ driftU: driftU && driftU / 2 })),
  },
  'monuments-again': {
    against: ['direction-carry-over'],
    survey: (now, network) => sourceAgain(now, network, 'direction-carry-over'),
  },
  'heights-again': {
    against: ['height-carry-over'],
    survey: (now, network) => sourceAgain(now, network, 'height-carry-over'),
  },
  'one-target': {
    against: ['target-assemblies'],
    survey: (now) => {
      const first = now.readings.find((r) => r.kind === 'offset')?.target;
      return first === undefined ? null : withOffsets(now, { target: first });
    },
  },
};

/** Each reading again, after the target is placed again. */
export const again = <R extends Reading>(readings: readonly R[]): R[] =>
  readings.map((r) => ({
    ...r,
    pass: `${r.pass}\u2032`,
    ...(r.kind === 'offset' && (r.placing ?? null) !== null && { placing: `${r.placing}\u2032` }),
  }));

interface Reach {
  readonly from: number;
  readonly to: number;
}

/** The stations that each set-up reads, first to last, mm along. */
function reachOf(readings: readonly Reading[], job: Job): Map<string, Reach> {
  const rails = new Map(job.rails.map((rail) => [rail.id, rail]));
  const reach = new Map<string, Reach>();
  for (const r of readings) {
    if (r.kind !== 'offset' || r.point.kind !== 'station') continue;
    const { alongMm } = rails.get(r.point.rail)!.stations[r.point.station - 1]!;
    const own = reach.get(r.setup) ?? { from: alongMm, to: alongMm };
    reach.set(r.setup, { from: Math.min(own.from, alongMm), to: Math.max(own.to, alongMm) });
  }
  return reach;
}

function isOffCentre({ id, alongMm }: Setup, reach: ReadonlyMap<string, Reach>): boolean {
  const own = reach.get(id);
  if (own === undefined) return false;
  return Math.abs(alongMm - (own.from + own.to) / 2) > MIDDLE * (own.to - own.from);
}

/** All readings from set-ups, read again from other set-ups. */
function onceMore(now: Survey, otherSetup: (setup: Setup, reach: Reach) => Setup): Survey | null {
  const reach = reachOf(now.readings, now.job);
  const offsets = now.readings.filter((r): r is OffsetReading => r.kind === 'offset');
  if (offsets.length === 0) return null;
  const setups = now.job.setups.map((setup): Setup => {
    const own = reach.get(setup.id);
    const other = own === undefined ? setup : otherSetup(setup, own);
    return { ...other, id: `${setup.id}\u2032` };
  });
  return {
    job: { ...now.job, setups: [...now.job.setups, ...setups] },
    readings: [...now.readings, ...again(offsets).map((r) => ({ ...r, setup: `${r.setup}\u2032` }))],
  };
}

function sourceAgain(now: Survey, network: Network, source: BudgetSource): Survey {
  const sources = sourcesOf(network);
  const carried = network.observations.flatMap((o, i) =>
    o.kind !== 'prior' && sources[i] === source ? [o] : [],
  );
  return { ...now, readings: [...now.readings, ...again(carried)] };
}

type Lists = 'setups' | 'targets' | 'rails' | 'instruments';
type Item<L extends Lists> = NonNullable<Job[L]>[number];

/** The same survey after a change of each entry of one list of the job. */
const withEach = <L extends Lists>(
  { job, readings }: Survey,
  list: L,
  change: (item: Item<L>) => Partial<Item<L>>,
): Survey => ({
  readings,
  job: { ...job, [list]: job[list]?.map((item) => ({ ...item, ...change(item as Item<L>) })) ?? null },
});

const withOffsets = (now: Survey, change: Partial<OffsetReading>): Survey => ({
  ...now,
  readings: now.readings.map((r) => (r.kind === 'offset' ? { ...r, ...change } : r)),
});

/** A stated value with half the uncertainty. */
const halved = <T extends { readonly u: number | null }>(stated: T | null): T | null =>
  stated?.u ? { ...stated, u: stated.u / 2 } : stated;
