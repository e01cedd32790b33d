/** A plan as job.json says it. What is only known at the machine (places, signs, serial numbers) is as planned. */
import type { JobInput } from '../../survey/job/job-schema.js';
import { MONUMENT_TARGET, MONUMENTS, RAIL_TARGET, SETUPS } from './planned-rows.js';
import {
  offsetFiles,
  railIds,
  readingUnit,
  slopeFile,
  slopeUnit,
  spanFile,
  tidy,
  type Plan,
} from './plan.js';

/** Next to job.json, so that editors find it without a network. */
export const SCHEMA_FILE = 'job.schema.json';

export const LASER = 'L1';
/** Any instrument that measures distances across. */
export const SPAN_GAUGE = 'D1';
export const LEVEL = 'E1';

export function plannedJob(plan: Plan): JobInput {
  const { units, spans, slopes } = plan;
  return {
    $schema: `./${SCHEMA_FILE}`,
    format: 'waysheet-job/1',
    id: plan.id,
    ...(plan.title !== null && { title: plan.title }),
    ...(plan.customer !== null && { customer: plan.customer }),
    ...(plan.site !== null && { site: plan.site }),
    ...(plan.machine !== null && { machine: { name: plan.machine } }),
    ...((plan.by !== null || plan.on !== null) && {
      surveyed: { ...(plan.by !== null && { by: plan.by }), ...(plan.on !== null && { on: plan.on }) },
    }),
    units: { length: units, reading: readingUnit(plan) },
    report: { paper: plan.paper },
    ...(plan.language !== 'en' && { language: plan.language }),
    rails: railIds(plan).map((id, k) => ({
      id,
      ...(k === 0 && { datum: true }),
      across: plan.across[k]!,
      stations: stationsOf(plan),
    })),
    ...(plan.setups === 'two' && { monuments: monumentsOf(plan) }),
    instruments: [
      {
        id: LASER,
        reading: { u: plan.u, perMetre: plan.perMetre, unit: readingUnit(plan) },
        level: { u: plan.level.value, unit: plan.level.unit },
        ...(plan.range !== null && { range: { limit: plan.range, unit: units } }),
      },
      ...(spans === 0 ? [] : [{ id: SPAN_GAUGE, reading: { u: plan.spanU, unit: units } }]),
      ...(slopes === 'none' ? [] : [{ id: LEVEL, reading: { u: plan.slopeU, unit: slopeUnit(plan) } }]),
    ],
    setups: setupsOf(plan).map((place) => ({
      ...place,
      instrument: LASER,
      levelled: true,
      plus: { vertical: 'up', horizontal: 'left', along: 'ahead' },
      ...(plan.air !== null && {
        air: { vertical: { gradient: plan.air.value, u: plan.air.u, unit: 'K/m' as const } },
      }),
    })),
    ...(plan.targetScale !== null && { targets: targetsOf(plan, plan.targetScale) }),
    readings: plan.phases.flatMap((phase) => [
      ...offsetFiles(phase, plan).map(({ file }) => ({ file, phase })),
      ...(spans === 0
        ? []
        : [{ file: spanFile(phase), phase, kind: 'span' as const, instrument: SPAN_GAUGE, unit: units }]),
      ...(slopes === 'none'
        ? []
        : [
            {
              file: slopeFile(phase),
              phase,
              kind: 'slope' as const,
              instrument: LEVEL,
              unit: slopeUnit(plan),
            },
          ]),
    ]),
    ...(plan.toleranceSet === null
      ? { tolerances: plan.tolerances.map((tolerance) => ({ ...tolerance })) }
      : {
          tolerances: plan.toleranceSet.file,
          ...(plan.toleranceSet.grade !== null && { grade: plan.toleranceSet.grade }),
        }),
    ...adjustersOf(plan),
    decision: { rule: plan.rule, coverage: 0.95 },
  };
}

function stationsOf({ stations }: Plan): JobInput['rails'][number]['stations'] {
  const first = stations[0]!;
  const spacing = tidy(stations[1]! - first);
  // A micrometre: what is lost by writing a third of a length with nine digits.
  const isEven = stations.every((place, k) => Math.abs(place - (first + k * spacing)) < 1e-3);
  return isEven ? { first, spacing, count: stations.length } : { at: [...stations] };
}

const targetsOf = ({ setups }: Plan, u: number): NonNullable<JobInput['targets']> =>
  [RAIL_TARGET, ...(setups === 'two' ? [MONUMENT_TARGET] : [])].map((id) => ({
    id,
    scale: { u, unit: '%' },
  }));

/** At even steps from the first station to the last of each rail. */
function adjustersOf(plan: Plan): Pick<JobInput, 'adjusters'> {
  const { adjusterSpacing: spacing, travel, stations, units } = plan;
  if (spacing === null || travel === null) return {};
  const [first, last] = [stations[0]!, stations[stations.length - 1]!];
  const count = Math.min(MOST_ADJUSTERS, Math.floor((last - first) / spacing + 1e-6) + 1);
  return {
    adjusters: railIds(plan).flatMap((rail) =>
      Array.from({ length: count }, (_, k) => ({
        id: `${rail}${k + 1}`,
        rail,
        along: tidy(first + k * spacing),
        moves: { vertical: { up: travel, down: travel, unit: units } },
      })),
    ),
  };
}

/** Most stations of a rail: with the most rails that can be planned, a job has room for no more. */
const MOST_ADJUSTERS = 120;

interface Placed {
  readonly id: string;
  readonly along: number;
  readonly across: number;
}

const middleOf = ({ stations }: Plan): number => tidy((stations[0]! + stations[stations.length - 1]!) / 2);

/** How far from a rail that is alone. */
const BESIDE = { mm: 500, in: 20 } as const;

/**
 * Half way along, for the sake of the shortest distances: between the rails; or, of two set-ups, each next to the
 * rails that it reads, a quarter of the distance across inside of them.
 */
export function setupsOf(plan: Plan): Placed[] {
  const along = middleOf(plan);
  const last = plan.across.at(-1)!;
  const next = plan.across[1] ?? 0;
  const aside = next / 4;
  const middle = plan.rails === 1 ? BESIDE[plan.units] : last / 2;
  const places = plan.setups === 'one' ? [middle] : [aside, (next + last) / 2 - aside];
  return places.map((across, k) => ({ id: SETUPS[plan.setups][k]!, along, across: tidy(across) }));
}

/** In the square plane of the set-ups, half the distance across outside the outer rails. */
export function monumentsOf(plan: Plan): Placed[] {
  const along = middleOf(plan);
  const outside = (plan.across[1] ?? 0) / 2;
  const last = plan.across.at(-1)!;
  return [-outside, last + outside].map((across, k) => ({ id: MONUMENTS[k]!, along, across: tidy(across) }));
}
