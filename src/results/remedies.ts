/**
 * What could be done otherwise in a new survey, each as the job and the readings that it would bring: the uncertainty that
 * they would have is then worked out with the same model as that of the readings at hand. Values do not matter to it, so
 * that a reading that is taken again is a copy.
 */
import type { Instrument, Job, Setup } from '../survey/job/job.js';
import type { OffsetReading, Reading } from '../survey/readings/readings.js';
import type { Network } from '../solution/solve/network.js';
import { sourcesOf } from '../solution/solve/roles.js';
import type { BudgetSource, Remedy } from './results-schema.js';

export interface Survey {
  readonly job: Job;
  readonly readings: readonly Reading[];
}

interface Way {
  /** Where none of these makes a part of the variance it is of no use; absent: it may always be. */
  readonly against?: readonly BudgetSource[];
  /** null: it cannot be done with this survey, or is done already. */
  readonly survey: (now: Survey, network: Network) => Survey | null;
}

/** A set-up this near to the middle of what it reads, as a share of the length, stands in the middle. */
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
    survey: (now) => ({
      ...now,
      job: {
        ...now.job,
        setups: now.job.setups.map((setup) => ({
          ...setup,
          air: setup.air.map((air) => ({
            ...air,
            vertical: air.vertical && { ...air.vertical, u: air.vertical.u / 2 },
            sideways: air.sideways && { ...air.sideways, u: air.sideways.u / 2 },
          })),
        })),
      },
    }),
  },
  'centred-target': { against: ['target-scale'], survey: (now) => withTargets(now, { scaleU: null }) },
  // Of two readings between which the target was turned over, the mean is free of its roll.
  'turned-target': {
    against: ['target-roll'],
    survey: (now) => {
      const turned = withTargets(now, { rollU: null });
      return { ...turned, readings: [...turned.readings, ...again(turned.readings)] };
    },
  },
  'own-placings': {
    against: ['seating'],
    survey: (now) => ({
      ...now,
      readings: now.readings.map((r) => (r.kind === 'offset' ? { ...r, placing: null } : r)),
    }),
  },
  'lower-rod': {
    against: ['rail-tilt'],
    survey: (now) => ({
      ...now,
      job: {
        ...now.job,
        targets: now.job.targets?.map((t) => ({ ...t, rodMm: t.rodMm && t.rodMm / 2 })) ?? null,
      },
    }),
  },
  'known-temperature': {
    against: ['temperature'],
    survey: ({ job, readings }) => {
      const { spanAt20 } = job.corrections;
      const rails = job.rails.map((rail) => ({
        ...rail,
        thermal: rail.thermal && { ...rail.thermal, u: rail.thermal.u && rail.thermal.u / 2 },
      }));
      return {
        readings,
        job: {
          ...job,
          rails,
          corrections: {
            ...job.corrections,
            spanAt20: spanAt20 && {
              ...spanAt20,
              temperatureU: spanAt20.temperatureU && spanAt20.temperatureU / 2,
            },
          },
        },
      };
    },
  },
  quicker: {
    against: ['drift'],
    survey: (now) => withInstruments(now, ({ driftU }) => ({ driftU: driftU && driftU / 2 })),
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
      if (first === undefined) return null;
      return {
        ...now,
        readings: now.readings.map((r) => (r.kind === 'offset' ? { ...r, target: first } : r)),
      };
    },
  },
};

/** Each once more, the target sat down anew. */
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

/** Everything that was read from set-ups, read once more from others. */
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

const withTargets = (
  { job, readings }: Survey,
  change: Partial<NonNullable<Job['targets']>[number]>,
): Survey => ({
  readings,
  job: { ...job, targets: job.targets?.map((target) => ({ ...target, ...change })) ?? null },
});

const withInstruments = (
  { job, readings }: Survey,
  change: (instrument: Instrument) => Partial<Instrument>,
): Survey => ({
  readings,
  job: { ...job, instruments: job.instruments.map((one) => ({ ...one, ...change(one) })) },
});
