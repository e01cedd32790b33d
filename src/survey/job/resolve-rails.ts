/** Rails and monuments: nominal places in mm, numbered stations, one datum. */
import type { Findings } from '../../base/diagnostics/diagnostic.js';
import { nearest } from '../../base/diagnostics/nearest.js';
import { declare, ifGiven, slopeU, soundOnes, type Declared } from './declared.js';
import type { Draft, Item, MonumentInput, RailInput } from './draft.js';
import type { Monument, Place2D, Rail, Shape, Station } from './job.js';
import { valueAt } from './key-path.js';
import { fromMm, toMm, toUm, type LengthUnit } from '../../base/units/units.js';

/** Stations must be at least this far apart, because a `position` matches a station within this distance. */
export const SAME_PLACE_MM = 0.5;
/** No machine is larger. Beyond this distance a double cannot resolve a micrometre well. */
const MAX_PLACE_MM = 1e8;

/**
 * Every rail of the job file in mm.
 *
 * Reports: ID_DUPLICATE; DATUM_COUNT unless exactly one rail is the datum; KEY_MISSING, KEY_MISPLACED for
 * `across`, `along` and the two ways to give stations; VALUE_WRONG for stations that do not ascend.
 */
export function resolveRails(draft: Draft, unit: LengthUnit, findings: Findings): Declared<Rail> {
  const resolve = (input: RailInput, item: Item<RailInput>) => resolveRail(input, item, unit, findings);
  const rails = declare('rail', draft.rails, resolve, draft.isComplete('rails'), findings);
  reportDatumCount(draft, findings);
  return rails;
}

/** A rail counts if it is marked, even if something else in it is faulty. A mark that cannot be read may be the right one. */
function reportDatumCount(draft: Draft, findings: Findings): void {
  const marks = draft.rails.map((item) => datumMark(valueAt(draft.source.value, item.path)));
  const marked = draft.rails.filter((_, i) => marks[i] === 'marked');
  if (marked.length === 1 || (marked.length === 0 && (marks.length === 0 || marks.includes('unclear'))))
    return;
  const place = marked[1]?.at('datum') ?? draft.source.at(['rails']);
  findings.error('DATUM_COUNT', { count: marked.length }, place);
}

function datumMark(rail: unknown): 'marked' | 'unmarked' | 'unclear' {
  if (typeof rail !== 'object' || rail === null) return 'unclear';
  const mark = valueAt(rail, ['datum']);
  if (typeof mark === 'boolean') return mark ? 'marked' : 'unmarked';
  return mark !== undefined || Object.keys(rail).some((key) => nearest(key, ['datum']) !== '')
    ? 'unclear'
    : 'unmarked';
}

/** The datum rail; null: none or several are marked, which was reported. */
export function datumOf(rails: Declared<Rail>): Rail | null {
  const marked = soundOnes(rails).filter((r) => r.datum);
  return marked.length === 1 ? marked[0]! : null;
}

function resolveRail(
  input: RailInput,
  item: Item<RailInput>,
  unit: LengthUnit,
  findings: Findings,
): Rail | null {
  const direction = input.direction ?? 'along';
  const datum = input.datum ?? false;
  const fixed = fixedPlace(input, item, findings);
  if (datum && direction === 'across') {
    findings.misplaced('datum', 'cross-rail', item.at('datum'));
  }
  const positions = stationPositions(input.stations, item, unit, findings);
  if (fixed === null || positions === null) return null;
  const farthest = [fixed, positions[0]!, positions[positions.length - 1]!].find(
    (p) => Math.abs(toMm(p, unit)) > MAX_PLACE_MM,
  );
  if (farthest !== undefined) {
    findings.wrong(`${farthest} ${unit}`, 'places within 100 km of the origin', item.at('stations'));
    return null;
  }
  const fixedMm = toMm(fixed, unit);
  const station = (position: number, i: number): Station => {
    const here = toMm(position, unit);
    const place: Place2D =
      direction === 'along' ? { alongMm: here, acrossMm: fixedMm } : { alongMm: fixedMm, acrossMm: here };
    return { number: i + 1, ...place };
  };
  return {
    id: input.id,
    name: input.name ?? null,
    datum,
    direction,
    thermal: ifGiven(input.thermal, ({ height, topWarmerBy, expansion, u = null }) => ({
      heightMm: toMm(height, unit),
      topWarmerByK: topWarmerBy,
      expansion: expansion * 1e-6,
      u,
    })),
    tiltU: ifGiven(input.tilt, slopeU),
    jointsMm: resolveJoints(input, positions, item, unit, findings),
    nominal: resolveNominal(input, positions, item, unit, findings),
    ...resolveBeam(input, item, findings),
    stations: positions.map(station),
  };
}

/** N m². */
const STIFFNESS = { 'MN m2': 1e6, 'kN m2': 1e3, 'N m2': 1 };
/** Smallest and largest EI, N m²: from a strip that a finger bends to more than any machine bed. */
const STIFFNESS_RANGE = [1, 1e11] as const;
/** N/kg, standard acceleration of free fall (3rd CGPM, 1901). */
const FREE_FALL = 9.806_65;

/** The rail as a beam. Reports: VALUE_WRONG for a stiffness that no rail has. */
function resolveBeam(
  { beam }: RailInput,
  item: Item<RailInput>,
  findings: Findings,
): Pick<Rail, 'stiffness' | 'weight'> {
  if (beam === undefined) return { stiffness: null, weight: null };
  const { value, unit } = beam.stiffness;
  const stiffness = value * STIFFNESS[unit];
  if (stiffness < STIFFNESS_RANGE[0] || stiffness > STIFFNESS_RANGE[1])
    findings.wrong(
      `${value} ${unit}`,
      `the stiffness EI of a rail, from ${STIFFNESS_RANGE[0]} N m2 to ${STIFFNESS_RANGE[1] / 1e6} MN m2`,
      item.at('beam', 'stiffness', 'value'),
    );
  return {
    stiffness,
    weight: ifGiven(beam.weight, (load) => load.value * (load.unit === 'kg/m' ? FREE_FALL : 1)),
  };
}

/** Joints in mm. Reports: VALUE_WRONG for a joint that is not on the rail, or is not in ascending order. */
function resolveJoints(
  { joints = [] }: RailInput,
  positions: readonly number[],
  item: Item<RailInput>,
  unit: LengthUnit,
  findings: Findings,
): number[] {
  const [first, last] = [positions[0]!, positions.at(-1)!];
  joints.forEach((joint, i) => {
    const isInside = joint > first && joint < last;
    if (isInside && (i === 0 || joint > joints[i - 1]!)) return;
    const wanted = isInside
      ? 'ascending positions'
      : `a position between the rail's first and last station, ${first} and ${last}`;
    findings.wrong(`${joint} ${unit}`, wanted, item.at('joints', i));
  });
  return joints.map((joint) => toMm(joint, unit));
}

/** The wanted shape in mm and µm. Reports: VALUE_WRONG if its points do not ascend, or do not reach every station. */
function resolveNominal(
  { nominal }: RailInput,
  positions: readonly number[],
  item: Item<RailInput>,
  unit: LengthUnit,
  findings: Findings,
): Rail['nominal'] {
  if (nominal === undefined) return null;
  const shapeOf = (plane: 'vertical' | 'horizontal'): Shape | null => {
    const points = nominal[plane];
    if (points === undefined) return null;
    points.forEach(({ along }, i) => {
      if (i === 0 || along > points[i - 1]!.along) return;
      findings.wrong(
        `${along} after ${points[i - 1]!.along}`,
        'ascending positions',
        item.at('nominal', plane, i, 'along'),
      );
    });
    const [from, to] = [points[0]!.along, points.at(-1)!.along];
    if (from > positions[0]! || to < positions.at(-1)!) {
      findings.wrong(
        `a shape from ${from} to ${to} ${unit}`,
        `one that reaches from the first to the last station, ${positions[0]!} to ${positions.at(-1)!} ${unit}`,
        item.at('nominal', plane),
      );
    }
    return points.map(({ along, offset }) => ({ atMm: toMm(along, unit), um: toUm(offset, nominal.unit) }));
  };
  const [vertical, horizontal] = [shapeOf('vertical'), shapeOf('horizontal')];
  if (vertical === null && horizontal === null)
    findings.missing('vertical', 'the wanted shape in one plane at least', item.at('nominal'));
  return { vertical, horizontal };
}

/** The coordinate that all stations of a rail share: `across` for a rail that runs along, `along` for a cross rail. */
function fixedPlace(input: RailInput, item: Item<RailInput>, findings: Findings): number | null {
  const crossing = input.direction === 'across';
  const [key, other] = crossing ? (['along', 'across'] as const) : (['across', 'along'] as const);
  if (input[other] !== undefined) {
    findings.misplaced(other, crossing ? 'cross-rail' : 'along-rail', item.at(other));
  }
  const value = input[key] ?? (input.datum === true && !crossing ? 0 : undefined);
  if (value === undefined) {
    const wanted = crossing
      ? 'the place along of this cross rail'
      : 'the distance across from the datum, + to the left';
    findings.missing(key, wanted, item.at(key));
  }
  return value ?? null;
}

/** Positions along the direction of the rail in the job's unit, strictly ascending; null: faulty. */
function stationPositions(
  stations: RailInput['stations'],
  item: Item<RailInput>,
  unit: LengthUnit,
  findings: Findings,
): number[] | null {
  const { first, spacing, count, at } = stations;
  const given = Object.keys(stations);
  if (at !== undefined ? given.length > 1 : given.length === 0) {
    const found = given.length === 0 ? 'neither' : given.join(', ');
    findings.wrong(found, 'either first, spacing and count, or at', item.at('stations'));
    return null;
  }
  if (at !== undefined) return ascending(at, item, unit, findings);
  for (const key of ['first', 'spacing', 'count'] as const) {
    if (stations[key] !== undefined) continue;
    findings.missing(key, 'first, spacing and count together', item.at('stations', key));
  }
  if (first === undefined || spacing === undefined || count === undefined) return null;
  if (toMm(spacing, unit) < SAME_PLACE_MM) {
    findings.wrong(
      `${spacing} ${unit}`,
      `at least ${leastApart(unit)} between stations`,
      item.at('stations', 'spacing'),
    );
    return null;
  }
  return Array.from({ length: count }, (_, i) => first + i * spacing);
}

function ascending(
  at: readonly number[],
  item: Item<RailInput>,
  unit: LengthUnit,
  findings: Findings,
): number[] | null {
  let sound = true;
  for (let i = 1; i < at.length; i++) {
    if (toMm(at[i]! - at[i - 1]!, unit) >= SAME_PLACE_MM) continue;
    sound = false;
    findings.wrong(
      `${at[i]} after ${at[i - 1]}`,
      `ascending positions, at least ${leastApart(unit)} apart`,
      item.at('stations', 'at', i),
    );
  }
  return sound ? [...at] : null;
}

const leastApart = (unit: LengthUnit): string =>
  `${Number(fromMm(SAME_PLACE_MM, unit).toPrecision(3))} ${unit}`;

/** Every monument in mm. Reports: ID_DUPLICATE. */
export function resolveMonuments(draft: Draft, unit: LengthUnit, findings: Findings): Declared<Monument> {
  const resolve = (input: MonumentInput): Monument => ({
    id: input.id,
    alongMm: toMm(input.along, unit),
    acrossMm: toMm(input.across, unit),
    heightUm: ifGiven(input.height, ({ value, u, unit }) => ({ value: toUm(value, unit), u: toUm(u, unit) })),
  });
  return declare('monument', draft.monuments, resolve, draft.isComplete('monuments'), findings);
}
