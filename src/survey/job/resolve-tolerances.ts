/** Tolerances: limits in µm or µm/m for a length in mm, each checked against its rail. */
import type { Findings } from '../../base/diagnostics/diagnostic.js';
import { characteristicOf } from '../characteristics/characteristics.js';
import type { Characteristic } from '../characteristics/characteristic.js';
import { datumOf, SAME_PLACE_MM } from './resolve-rails.js';
import { ifGiven, lookUp, soundOnes, type Declared } from './declared.js';
import type { Item } from './draft.js';
import { limitLengthMm, limitOver } from './growing-limit.js';
import { railLengthMm, type Rail, type Tolerance } from './job.js';
import type { ToleranceInput } from './job-schema.js';
import { unitWords } from './schema-findings.js';
import { familyOf, fromMm, toBase, toMm, type LengthUnit } from '../../base/units/units.js';

/**
 * The tolerances of a job file or of a shared set.
 *
 * Reports: what `checkTolerances` reports; ID_UNKNOWN, TOLERANCE_NOT_APPLICABLE for the rail (only a warning if the
 * tolerance names no rail and no rail of the job has the characteristic: a shared set has more than one job needs).
 *
 * @param isGiven The set is not the job's own (given-tolerances.ts). A tolerance for a rail that the job does not have, or
 *   that cannot have the characteristic, is then left out with the warning TOLERANCE_PASSED_OVER.
 */
export function resolveTolerances(
  items: readonly Item<ToleranceInput>[],
  rails: Declared<Rail>,
  unit: LengthUnit,
  findings: Findings,
  isGiven = false,
): Tolerance[] {
  const sound = checkTolerances(items, findings);
  for (const item of items) {
    if (item.input === null) continue;
    checkGroup(item.input, item, rails, findings);
    checkSteps(item.input, item, rails, unit, findings);
    if (item.input.rails !== undefined) continue;
    if (item.input.rail === undefined) checkAnyRail(item.input, item, rails, findings, isGiven);
    else (isGiven ? passOver : checkRail)(item.input, item, rails, findings);
  }
  const longest = Math.max(1000, ...soundOnes(rails).map(railLengthMm));
  return sound.flatMap(inZones).flatMap(({ input, item }) => {
    const tolerance = resolveTolerance(input, item, unit, datumOf(rails)?.id);
    const { from, to } = tolerance.zone ?? {
      from: 0,
      to: limitOver(tolerance.limit, longest),
    };
    const largest = Math.max(...[from, to].filter(Number.isFinite).map(Math.abs));
    if (largest <= MAX_LIMIT) return [tolerance];
    findings.wrong(
      `a limit of ${largest.toPrecision(2)} µm (µm/m)`,
      'less than 1 km (1 km/m)',
      item.at('limit'),
    );
    return [];
  });
}

/** Each stretch with its own limit becomes a tolerance. */
const inZones = ({ input, item }: SoundItem): SoundItem[] =>
  input.zones === undefined
    ? [{ input, item }]
    : input.zones.map(({ between, limit }) => ({ input: { ...input, between, limit }, item }));

/** Reports: VALUE_WRONG for stretches that overlap, or next to another kind of limit. */
function checkZones(
  { zones = [], limit, from, to, between }: ToleranceInput,
  item: Item<ToleranceInput>,
  findings: Findings,
): void {
  if (zones.length === 0) return;
  const wrong = (found: string, wanted: string, ...place: (string | number)[]) =>
    findings.wrong(found, wanted, item.at(...place));
  for (const [key, value] of Object.entries({ limit, from, to, between }))
    if (value !== undefined) wrong(`${key} next to zones`, 'one of the two', key);
  zones.forEach((zone, i) => {
    const text = (z: typeof zone) => `${z.between[0]} to ${z.between[1]}`;
    if (zone.between[0] >= zone.between[1])
      wrong(text(zone), 'two positions, the lesser first', 'zones', i, 'between');
    const other = zones
      .slice(0, i)
      .find((z) => zone.between[0] < z.between[1] && z.between[0] < zone.between[1]);
    if (other !== undefined)
      wrong(`${text(zone)}, over ${text(other)}`, 'stretches that do not overlap', 'zones', i, 'between');
  });
}

/** Reports: VALUE_WRONG for a table of limits that ends before the length of the measured feature. */
function checkSteps(
  { what, rail, rails: ids, against, limit, over, between }: ToleranceInput,
  item: Item<ToleranceInput>,
  rails: Declared<Rail>,
  unit: LengthUnit,
  findings: Findings,
): void {
  if (typeof limit !== 'object' || !('steps' in limit)) return;
  const last = limit.steps[limit.steps.length - 1]!.upTo;
  const named = ids ?? (rail === undefined ? null : [rail]);
  const rule = characteristicOf(what);
  const datum = datumOf(rails);
  const partner = against === undefined ? datum : (rails.get(against) ?? null);
  const asked = {
    what,
    over: over && toMm(over.length, over.unit),
    between: between && ([toMm(between[0], unit), toMm(between[1], unit)] as const),
  };
  const lengthOf = (one: Rail): number => fromMm(limitLengthMm(asked, one, partner ?? one), unit);
  const concerned = soundOnes(rails).filter((one) =>
    named === null ? whyNot(rule, one, datum) === null : named.includes(one.id),
  );
  const beyond = concerned.find((one) => lengthOf(one) > last * (1 + 1e-12));
  if (beyond === undefined) return;
  findings.wrong(
    `a table up to ${last} ${unit}`,
    `a last step that reaches ${Number(lengthOf(beyond).toPrecision(12))} ${unit}, for rail ${beyond.id}`,
    item.at('limit', 'steps'),
  );
}

/** µm or µm/m: no deviation of a machine is larger, and no report could print it. */
const MAX_LIMIT = 1e9;

interface SoundItem {
  readonly input: ToleranceInput;
  readonly item: Item<ToleranceInput>;
}

/**
 * The checks of tolerances that need no job.
 *
 * Reports: UNIT_UNKNOWN for a unit of the wrong family; KEY_MISSING, KEY_MISPLACED for `over` and `reference`;
 * VALUE_WRONG for an impossible reference or limit; ID_DUPLICATE for two limits of the same thing.
 */
export function checkTolerances(items: readonly Item<ToleranceInput>[], findings: Findings): SoundItem[] {
  const seen = new Set<string>();
  return items.flatMap((item) => {
    const { input } = item;
    if (input === null) return [];
    reportRepeat(input, item, seen, findings);
    return checkShape(input, item, findings) ? [{ input, item }] : [];
  });
}

function resolveTolerance(
  input: ToleranceInput,
  item: Item<ToleranceInput>,
  unit: LengthUnit,
  datum: string | undefined,
): Tolerance {
  const { limit, unit: limitUnit, over, from, to, side, between } = input;
  return {
    what: input.what,
    rail: input.rail ?? null,
    reference: input.reference ?? null,
    limit: ifGiven(limit, (stated) => ({ stated, unit: limitUnit, lengthUnit: unit })),
    zone:
      from === undefined && to === undefined
        ? null
        : {
            from: toBase(from ?? -Infinity, limitUnit),
            to: toBase(to ?? Infinity, limitUnit),
          },
    against: input.against === undefined || input.against === datum ? null : input.against,
    rails: input.rails ?? null,
    betweenMm: ifGiven(between, ([start, end]) => [toMm(start, unit), toMm(end, unit)] as const),
    side: side ?? null,
    rule: input.rule ?? null,
    overMm: ifGiven(over, (window) => toMm(window.length, window.unit)),
    at: item.at(),
  };
}

/** true: unit, window, reference and limits fit the characteristic. */
function checkShape(input: ToleranceInput, item: Item<ToleranceInput>, findings: Findings): boolean {
  const rule = characteristicOf(input.what);
  const before = findings.list.length;
  if (familyOf(input.unit) !== rule.family) {
    const data = { found: JSON.stringify(input.unit), wanted: `${unitWords(rule.family)} for ${input.what}` };
    findings.error('UNIT_UNKNOWN', data, item.at('unit'));
  }
  if (rule.local && input.over === undefined) {
    findings.missing('over', 'the length and unit of the window', item.at('over'));
  }
  if (!rule.local && !rule.overLength && input.over !== undefined) {
    findings.misplaced('over', 'not-local', item.at('over'));
  }
  checkReference(input, item, rule, findings);
  checkLimits(input, item, rule, findings);
  checkZones(input, item, findings);
  if (input.between !== undefined && input.between[0] >= input.between[1]) {
    findings.wrong(JSON.stringify(input.between), 'two positions, the lesser first', item.at('between'));
  }
  if (typeof input.limit === 'object' && 'steps' in input.limit)
    input.limit.steps.forEach(({ upTo }, i, steps) => {
      if (i === 0 || upTo > steps[i - 1]!.upTo) return;
      findings.wrong(
        `${upTo} after ${steps[i - 1]!.upTo}`,
        'lengths in ascending order',
        item.at('limit', 'steps', i, 'upTo'),
      );
    });
  else if (typeof input.limit === 'object' && (input.limit.most ?? Infinity) < input.limit.limit) {
    findings.wrong(
      String(input.limit.most),
      `at least the limit ${input.limit.limit} it grows from`,
      item.at('limit', 'most'),
    );
  }
  return findings.list.length === before;
}

/** Checks `limit`, or `from` and `to` instead, and `side`. */
function checkLimits(
  { what, limit, from, to, side, reference, zones }: ToleranceInput,
  item: Item<ToleranceInput>,
  rule: Characteristic,
  findings: Findings,
): void {
  const hasZone = from !== undefined || to !== undefined;
  if (!hasZone && limit === undefined && zones === undefined)
    findings.missing('limit', 'a limit, or "from" and "to"', item.at('limit'));
  if (hasZone && limit !== undefined)
    findings.wrong('limit next to from or to', 'one of the two', item.at('limit'));
  if (from !== undefined && to !== undefined && from >= to)
    findings.wrong(`from ${from} to ${to}`, '"from" below "to"', item.at('from'));
  const isWholeStraightness = what === 'straightness-vertical' || what === 'straightness-horizontal';
  if (side !== undefined && !isWholeStraightness) findings.misplaced('side', 'no-side', item.at('side'));
  if (side !== undefined && hasZone)
    findings.wrong('side next to from or to', 'one of the two', item.at('side'));
  if (hasZone && rule.sign === null && !isWholeStraightness)
    findings.misplaced(
      from === undefined ? 'to' : 'from',
      'unsigned',
      item.at(from === undefined ? 'to' : 'from'),
    );
  if (
    (side !== undefined || (hasZone && isWholeStraightness)) &&
    (reference ?? 'end-points') !== 'end-points'
  )
    findings.wrong(
      JSON.stringify(reference),
      'end-points, or none: departures to a side are from the line through the ends',
      item.at('reference'),
    );
}

/** Checks `rails` (a group) and `against` (a partner that is not the datum). */
function checkGroup(
  { what, rail, rails: ids, against }: ToleranceInput,
  item: Item<ToleranceInput>,
  rails: Declared<Rail>,
  findings: Findings,
): void {
  const rule = characteristicOf(what);
  const misplace = (key: string, because: string) => findings.misplaced(key, because, item.at(key));
  if (ids !== undefined && !rule.ofGroups) misplace('rails', 'no-group');
  if (against !== undefined && rule.rails !== 'against-datum') misplace('against', 'no-pair');
  for (const key of ['rail', 'against'] as const)
    if (ids !== undefined && (key === 'rail' ? rail : against) !== undefined) misplace(key, 'group');
  if (against !== undefined && rail === undefined)
    findings.missing('rail', 'the rail that is held against it', item.at('rail'));
  const partners = ids ?? (against === undefined ? [] : [against]);
  partners.forEach((id, i) => {
    const place = ids === undefined ? item.at('against') : item.at('rails', i);
    const found = lookUp('rail', rails, id, place, findings);
    // The flatness of all rails is that of cross rails too.
    if (found?.direction === 'across' && (what !== 'coplanarity' || ids === undefined))
      findings.error('TOLERANCE_NOT_APPLICABLE', { what, rail: id, reason: 'cross-rail' }, place);
    if (partners.indexOf(id) < i || id === rail) findings.wrong(JSON.stringify(id), 'another rail', place);
    const own = ids === undefined ? (rail === undefined ? undefined : rails.get(rail)) : null;
    const others = own === null ? partners.slice(0, i).map((o) => rails.get(o)) : [own];
    const isSame = (o: Rail | null | undefined) =>
      o && found && Math.abs(o.stations[0]!.acrossMm - found.stations[0]!.acrossMm) < SAME_PLACE_MM;
    if (rule.needsDistance && others.some(isSame))
      findings.error('TOLERANCE_NOT_APPLICABLE', { what, rail: id, reason: 'no-distance' }, place);
  });
}

function checkReference(
  input: ToleranceInput,
  item: Item<ToleranceInput>,
  rule: Characteristic,
  findings: Findings,
): void {
  const { reference, what } = input;
  if (reference === undefined || rule.references.includes(reference)) return;
  if (rule.references.length === 0) {
    findings.misplaced('reference', 'no-reference', item.at('reference'));
    return;
  }
  const wanted = `one of ${rule.references.join(' ')} for ${what}`;
  findings.wrong(JSON.stringify(reference), wanted, item.at('reference'));
}

function checkRail(
  input: ToleranceInput,
  item: Item<ToleranceInput>,
  rails: Declared<Rail>,
  findings: Findings,
): void {
  const { what, rail: id = '', against } = input;
  const rail = lookUp('rail', rails, id, item.at('rail'), findings);
  const partner = against === undefined ? datumOf(rails) : (rails.get(against) ?? null);
  const reason = rail === null ? null : whyNot(characteristicOf(what), rail, partner);
  if (reason === null) return;
  findings.error('TOLERANCE_NOT_APPLICABLE', { what, rail: id, reason }, item.at('rail'));
}

/** Checks a tolerance that names no rail. */
function checkAnyRail(
  { what }: ToleranceInput,
  item: Item<ToleranceInput>,
  rails: Declared<Rail>,
  findings: Findings,
  isGiven: boolean,
): void {
  const datum = datumOf(rails);
  const along = soundOnes(rails).filter((r) => r.direction === 'along').length;
  // Each rail in one plane with the datum is a weaker demand than all rails in one plane.
  if (what === 'coplanarity' && along > 2) {
    const data = { what, rail: '', reason: 'whole' };
    if (isGiven) findings.warn('TOLERANCE_NOT_APPLICABLE', data, item.at());
    else findings.error('TOLERANCE_NOT_APPLICABLE', data, item.at());
    return;
  }
  const isUnsure = [...rails.values()].includes(null);
  if (isUnsure || soundOnes(rails).some((r) => whyNot(characteristicOf(what), r, datum) === null)) return;
  findings.warn('TOLERANCE_NOT_APPLICABLE', { what, rail: '', reason: 'no-rail' }, item.at());
}

/** Leaves out a tolerance of a given set that the rail cannot have. */
function passOver(
  { what, rail: id = '' }: ToleranceInput,
  item: Item<ToleranceInput>,
  rails: Declared<Rail>,
  findings: Findings,
): void {
  const rail = rails.get(id);
  if (rail === null || (rail === undefined && !rails.complete)) return; // the job is faulty, which is reported
  const reason = rail === undefined ? 'none' : whyNot(characteristicOf(what), rail, datumOf(rails));
  if (reason !== null) findings.warn('TOLERANCE_PASSED_OVER', { what, rail: id, reason }, item.at('rail'));
}

/** Why a rail cannot have the characteristic, as a code for messages.ts; null: it can. */
function whyNot(rule: Characteristic, rail: Rail, datum: Rail | null): string | null {
  if (rule.ofJoints && rail.jointsMm.length === 0) return 'no-joints';
  if (rule.rails === 'any') return null;
  if (rule.rails === 'cross') return rail.direction === 'across' ? null : 'along-rail';
  if (rail.direction === 'across') return 'cross-rail';
  if (rule.rails === 'along') return null;
  if (rail === datum) return 'datum';
  const apart =
    datum === null ? Infinity : Math.abs(rail.stations[0]!.acrossMm - datum.stations[0]!.acrossMm);
  return rule.needsDistance && apart < SAME_PLACE_MM ? 'no-distance' : null;
}

/** With two limits for the same thing it would not be clear which one holds. */
function reportRepeat(
  input: ToleranceInput,
  item: Item<ToleranceInput>,
  seen: Set<string>,
  findings: Findings,
): void {
  const key = toleranceName(input);
  if (seen.has(key)) findings.error('ID_DUPLICATE', { kind: 'tolerance', id: key }, item.at('what'));
  seen.add(key);
}

/** What a tolerance limits, in words. Two tolerances with the same name limit the same thing. */
export function toleranceName(input: Omit<ToleranceInput, 'limit' | 'from' | 'to'>): string {
  const over = input.over === undefined ? '' : ` over ${input.over.length} ${input.over.unit}`;
  const reference = input.reference === undefined ? '' : ` by ${input.reference}`;
  const rail =
    input.rails !== undefined
      ? `rails ${input.rails.join(', ')}`
      : input.rail === undefined
        ? 'all rails'
        : `rail ${input.rail}${input.against === undefined ? '' : ` against ${input.against}`}`;
  const between = input.between === undefined ? '' : ` between ${input.between.join(' and ')}`;
  const side = input.side === undefined ? '' : ` to its ${input.side} side`;
  return `${input.what} of ${rail}${over}${between}${side}${reference}`;
}
