/** Every station that was read in the phase: height, offset, deviation, and difference from the datum rail. */
import type { Job, Rail } from '../survey/job/job.js';
import type { Adjustment } from '../solution/solve/adjustment.js';
import { undetermined } from '../solution/characteristics/linear-family.js';
import { railUnread } from '../solution/characteristics/against.js';
import { profilesOf } from '../solution/characteristics/ask.js';
import type { RailProfiles } from '../solution/characteristics/plain-questions.js';
import {
  aboutMean,
  differences,
  heights,
  offsetsAboutOwnMean,
  offsetsFromDatumLine,
  ownDeviations,
  placesSquareToDatum,
} from '../solution/characteristics/profiles.js';
import { quantitiesOf, stationKey, unknown } from './quantity.js';
import type { Explainer } from '../solution/solve/explain.js';
import type { Quantity, StationResult } from './results-schema.js';
import { reason, type Reason } from '../solution/reasons/reason.js';

export interface StationsSection {
  readonly stations: StationResult[];
  /** true for a rail whose offsets and distance across are tied to the datum's by spans. */
  readonly offsetTied: Record<string, boolean>;
}

/** Stations rail by rail, without those that were not read. */
export function stationsSection(job: Job, adjustment: Adjustment, explain: Explainer): StationsSection {
  const datum = profilesOf(adjustment.network, job.datum);
  const offsetTied: Record<string, boolean> = {};
  const stations = job.rails.flatMap((rail) => {
    const own = profilesOf(adjustment.network, rail);
    const { columns, tied } = columnsOf(job, rail, own, datum, adjustment, explain);
    if (rail.direction === 'along' && !rail.datum) offsetTied[rail.id] = tied;
    return rail.stations.flatMap((station): StationResult[] => {
      const key = stationKey(rail.id, station.number);
      const pick = (name: keyof Columns) => columns[name].get(key);
      const present = Object.values(columns).some((column) => column.has(key));
      if (!present) return [];
      const difference = {
        ...named('height', pick('heightDifference')),
        ...named('offset', pick('offsetDifference')),
      };
      return [
        {
          rail: rail.id,
          station: station.number,
          along: station.alongMm,
          across: station.acrossMm,
          ...named('height', pick('height')),
          ...named('offset', pick('offset')),
          ...named('ahead', pick('ahead')),
          deviation: {
            ...named('vertical', pick('vertical')),
            ...named(rail.direction === 'along' ? 'horizontal' : 'along', pick('inPlane')),
          },
          ...(Object.keys(difference).length > 0 && { difference }),
        },
      ];
    });
  });
  return { stations, offsetTied };
}

type Column = Map<string, Quantity>;

interface Columns {
  height: Column;
  offset: Column;
  ahead: Column;
  vertical: Column;
  inPlane: Column;
  heightDifference: Column;
  offsetDifference: Column;
}

const named = <K extends string>(name: K, value: Quantity | undefined): { [P in K]?: Quantity } =>
  (value === undefined ? {} : { [name]: value }) as { [P in K]?: Quantity };

function columnsOf(
  job: Job,
  rail: Rail,
  own: RailProfiles,
  datum: RailProfiles,
  adjustment: Adjustment,
  explain: Explainer,
): { columns: Columns; tied: boolean } {
  const quantities = (family: Parameters<typeof quantitiesOf>[1]) =>
    quantitiesOf(adjustment, family, explain);
  const isAlong = rail.direction === 'along';
  const isOther = isAlong && !rail.datum;
  const { vertical, horizontal } = own;

  const matchedHeights = isOther && vertical && datum.vertical ? differences(vertical, datum.vertical) : null;
  const matchedOffsets =
    isOther && horizontal && datum.horizontal ? differences(horizontal, datum.horizontal) : null;
  const tiedOffsets =
    horizontal && datum.horizontal && isAlong ? offsetsFromDatumLine(horizontal, datum.horizontal) : null;
  // One station is enough: the reasons for the others can then be given.
  const tied = tiedOffsets !== null && undetermined(tiedOffsets, adjustment).includes(false);
  const freeOffsets =
    isOther && horizontal && datum.horizontal ? offsetsAboutOwnMean(horizontal, datum.horizontal) : null;
  const offsetFamily = tied || !isOther ? tiedOffsets : freeOffsets;

  const columns: Columns = {
    height:
      vertical && datum.vertical
        ? quantities(heights(vertical, datum.vertical))
        : notTaken(vertical, railUnread(job.datum, 'vertical')),
    offset: !isAlong
      ? new Map()
      : offsetFamily !== null
        ? quantities(offsetFamily)
        : notTaken(horizontal, reason('datum-no-line', { rail: job.datum.id })),
    ahead:
      !isAlong && horizontal && datum.horizontal
        ? quantities(placesSquareToDatum(horizontal, datum.horizontal))
        : new Map(),
    vertical: vertical ? orNone(ownDeviations(vertical), quantities, vertical) : new Map(),
    inPlane: horizontal ? orNone(ownDeviations(horizontal), quantities, horizontal) : new Map(),
    heightDifference: quantities(matchedHeights),
    offsetDifference: quantities(
      matchedOffsets === null ? null : tied ? matchedOffsets : aboutMean(matchedOffsets),
    ),
  };
  return { columns, tied };
}

type Profile = NonNullable<RailProfiles['vertical']>;

function notTaken(profile: Profile | null, why: Reason): Column {
  const none = unknown([why]);
  return new Map((profile?.points ?? []).map((p) => [stationKey(p.rail, p.station), none]));
}

function orNone(
  family: ReturnType<typeof ownDeviations>,
  quantities: (family: NonNullable<ReturnType<typeof ownDeviations>>) => Column,
  profile: Profile,
): Column {
  return family === null ? notTaken(profile, reason('own-line', {})) : quantities(family);
}
