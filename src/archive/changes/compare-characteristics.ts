/** Compares the characteristics of two reports of one job: changed verdicts and moved figures, each with its causes. */
import { ruleOf } from '../../results/rules.js';
import { pick } from '../../base/pick.js';
import { figuresOf, phasesOf } from '../../pages/report/figures.js';
import { unitFor } from '../../results/words/format-quantity.js';
import { identityKey } from '../../results/identity.js';
import { judgedFigures, limitJudged } from '../../results/urgency.js';
import { decide, levelsOf, type Judged } from '../../solution/verdict/decision-rule.js';
import type { CharacteristicResult, JudgedFigures, Results, Verdict } from '../../results/results-schema.js';
import { placeOf } from '../characteristic-place.js';
import { among, ofIntervals, ofLimits, ofRules, ofValues, together } from './causes.js';
import type { Cause, CharacteristicChange, MovedField } from './changes-schema.js';
import { areApart, areChancesApart, differs, digitsApart, hasMoved, type Printed } from './moved.js';

interface Context {
  /** The parts in which the two reports differ (causes.ts). */
  readonly differing: readonly Cause[];
  readonly settings: { readonly before: Results['settings']; readonly after: Results['settings'] };
}

type PhaseName = CharacteristicChange['phase'];

interface Pair {
  readonly phase: PhaseName;
  readonly before: CharacteristicResult | null;
  readonly after: CharacteristicResult | null;
}

/** @param differing The parts in which the two reports differ (causes.ts). @returns Only the changed ones, in report order. */
export function compareCharacteristics(
  before: Results,
  after: Results,
  differing: readonly Cause[],
): CharacteristicChange[] {
  const figures = figuresOf(before);
  const context = { differing, settings: { before: before.settings, after: after.settings } };
  return pairsOf(before, after).flatMap(({ phase, before: old, after: made }) => {
    const about = (made ?? old)!;
    const printed = { unit: unitFor(figures.units, about.unit), k: figures.k };
    const moved = old === null || made === null ? [] : movedOf(old, made, printed);
    if (old !== null && made !== null && moved.length === 0) return [];
    return [
      {
        ...placeOf(phase, about),
        signed: about.signed,
        before: old && judgedOf(old),
        after: made && judgedOf(made),
        moved,
        ...causesOf(old, made, moved, context),
      },
    ];
  });
}

/** Several tolerances may judge one characteristic: the first is compared with the first, the second with the second. */
function pairsOf(before: Results, after: Results): Pair[] {
  const old = keyed(before);
  const made = keyed(after);
  const both = new Map([...made, ...old]);
  return [...both].map(([key, { phase }]) => ({
    phase,
    before: old.get(key)?.result ?? null,
    after: made.get(key)?.result ?? null,
  }));
}

function keyed(results: Results): Map<string, { phase: PhaseName; result: CharacteristicResult }> {
  const map = new Map<string, { phase: PhaseName; result: CharacteristicResult }>();
  for (const { name, phase } of phasesOf(results))
    for (const result of phase.characteristics) {
      let n = 0;
      const key = () => `${name} ${identityKey(result)} ${n}`;
      while (map.has(key())) n++;
      map.set(key(), { phase: name, result });
    }
  return map;
}

function movedOf(old: CharacteristicResult, made: CharacteristicResult, printed: Printed): MovedField[] {
  const { k } = printed;
  const u = old.u ?? 0;
  const apart = (a: number, b: number) => hasMoved(digitsApart(a, b, u, printed));
  const ends = [0, 1] as const;
  const tests: Record<MovedField, boolean> = {
    verdict: old.verdict !== made.verdict,
    value: differs(old.value, made.value, apart),
    u: differs(old.u, made.u, (a, b) => apart(k * a, k * b)),
    interval: ends.some((i) => differs(old.interval?.[i] ?? null, made.interval?.[i] ?? null, apart)),
    limit: isOtherLimit(old, made),
    probability: differs(old.probability, made.probability, areChancesApart),
  };
  return (Object.keys(tests) as MovedField[]).filter((field) => tests[field]);
}

/** If a tolerance has different limits to two sides, both are compared: which of them is nearest depends on the value. */
const isOtherLimit = (old: CharacteristicResult, made: CharacteristicResult): boolean =>
  old.zone === undefined && made.zone === undefined
    ? differs(old.limit, made.limit, areApart)
    : sidesOf(old).some((side, i) => differs(side, sidesOf(made)[i]!, areApart));

const sidesOf = ({ limit, signed, zone }: CharacteristicResult): [number | null, number | null] =>
  zone === undefined ? [limit === null || !signed ? null : -limit, limit] : [zone.from, zone.to];

const judgedOf = (c: CharacteristicResult): JudgedFigures => ({
  ...pick(c, 'value', 'u', 'interval', 'limit'),
  ...(c.zone !== undefined && { zone: pick(c.zone, 'from', 'to') }),
  ...pick(c, 'probability', 'verdict'),
});

function causesOf(
  old: CharacteristicResult | null,
  made: CharacteristicResult | null,
  moved: readonly MovedField[],
  { differing, settings }: Context,
): Pick<CharacteristicChange, 'causes' | 'verdictCauses'> {
  if (old === null || made === null) {
    const causes = causesOfAsking((old ?? made)!, differing);
    return { causes, verdictCauses: causes };
  }
  const has = (field: MovedField) => moved.includes(field);
  const found: Cause[][] = [];
  if (has('value') || has('u')) found.push(among(differing, ofValues));
  if (has('limit')) found.push(among(differing, ofLimits));
  // A probability also changes with the limit.
  if (has('interval') || (has('probability') && !has('limit'))) found.push(among(differing, ofIntervals));
  const verdictCauses = has('verdict') ? causesOfFlip(old, made, settings, differing) : [];
  return { causes: together([...found, verdictCauses]), verdictCauses };
}

/** A local characteristic exists because of its tolerance, any other because of what was read. */
function causesOfAsking({ over }: CharacteristicResult, differing: readonly Cause[]): Cause[] {
  const likely = among(differing, over === undefined ? ofValues : ofLimits);
  return likely.includes('unknown') ? among(differing, ofValues, ofLimits) : likely;
}

/**
 * The causes of those parts (value and interval, limit, rule) that each turn the old verdict into the new one by themselves;
 * if none does, the causes of all parts that differ.
 */
function causesOfFlip(
  old: CharacteristicResult,
  made: CharacteristicResult,
  settings: Context['settings'],
  differing: readonly Cause[],
): Cause[] {
  const [before, after] = [
    { judged: judgedFigures(old), limit: limitJudged(old), rule: ruleOf(old, settings.before) },
    { judged: judgedFigures(made), limit: limitJudged(made), rule: ruleOf(made, settings.after) },
  ];
  const isOther = (a: number | null, b: number | null) => differs(a, b, areApart);
  const isOtherValue = isOther(old.value, made.value);
  const isOtherInterval = [0, 1].some((i) => isOther(old.interval?.[i] ?? null, made.interval?.[i] ?? null));
  const levels = [settings.before, settings.after].map((of) => levelsOf(of));
  const isOtherRule =
    before.rule !== after.rule ||
    levels[0]!.accept !== levels[1]!.accept ||
    levels[0]!.reject !== levels[1]!.reject;
  const parts = [
    ...(isOtherValue || isOtherInterval
      ? [
          {
            take: { judged: after.judged },
            causes: among(differing, isOtherValue ? ofValues : ofIntervals),
          },
        ]
      : []),
    ...(isOther(before.limit, after.limit)
      ? [{ take: { limit: after.limit }, causes: among(differing, ofLimits) }]
      : []),
    // The rule decides which ends of the interval count.
    ...(isOtherRule
      ? [
          {
            take: { rule: after.rule, judged: after.judged },
            causes: old.rule === made.rule ? (['decision'] as Cause[]) : among(differing, ofRules),
          },
        ]
      : []),
  ];
  const able = parts.filter(({ take }) => verdictOf({ ...before, ...take }) === made.verdict);
  if (parts.length === 0) return among(differing, ofIntervals, ofLimits);
  return together((able.length > 0 ? able : parts).map((part) => part.causes));
}

function verdictOf(of: {
  readonly judged: Judged | null;
  readonly limit: number | null;
  readonly rule: Results['settings']['rule'];
}): Verdict {
  return of.limit === null ? 'reported' : decide(of.judged, of.limit, of.rule);
}
