/** Answers, judged against the tolerances of the job. */
import type { Answer, Answers, Extreme, Zone } from '../solution/characteristics/answer.js';
import type { FamilyPoint } from '../solution/characteristics/linear-family.js';
import type { Question } from '../solution/characteristics/question.js';
import { applies } from '../solution/characteristics/applies.js';
import { goesByLength, limitLengthMm, limitOver } from '../survey/job/growing-limit.js';
import type { Job, Tolerance } from '../survey/job/job.js';
import type { Adjustment } from '../solution/solve/adjustment.js';
import { budgetOf } from '../solution/solve/roles.js';
import { byRule, decide, judgedBy, riskOf, type Judged } from '../solution/verdict/decision-rule.js';
import type { Explainer } from '../solution/solve/explain.js';
import { identityOf } from './identity.js';
import { whyOf } from './quantity.js';
import type { BudgetSource, CharacteristicResult, Determined, Verdict } from './results-schema.js';
import { settlingOf } from './settle.js';
import type { Settling } from '../solution/reasons/reason.js';
import { settleWords } from '../solution/reasons/words.js';

/** One entry per question and tolerance; a question without a tolerance has one entry. @param sources Source in the uncertainty budget, by observation. */
export function characteristicsSection(
  job: Job,
  adjustment: Adjustment,
  questions: readonly Question[],
  answers: Answers,
  sources: readonly BudgetSource[],
  explain: Explainer,
): CharacteristicResult[] {
  return questions.flatMap((question): CharacteristicResult[] => {
    const about = {
      ...identityOf(question),
      unit: question.unit,
      signed: question.signed,
    };
    const answered = answers.answer(question);
    const tolerances = job.toleranceSet.tolerances.filter(
      (t) => applies(t, question) && !isOfAllRails(t, job),
    );
    const judged: (Tolerance | null)[] = tolerances.length > 0 ? tolerances : [null];
    if (!answered.ok) {
      const reasons = answered.reason === null ? explain(answered.moved) : [answered.reason];
      return judged.map((tolerance) => ({
        ...about,
        value: null,
        ...whyOf(reasons),
        interval: null,
        u: null,
        ...limitOf(job, question, tolerance),
        ...ownRule(job, tolerance),
        ...zoneOf(tolerance && zoneLimits(job, question, tolerance), undefined),
        verdict: tolerance === null ? 'reported' : 'undecided',
        probability: null,
        at: [],
        budget: {},
      }));
    }
    const figuresOf = (answer: Answer) => {
      const weights = adjustment.influence(answer.functional);
      return {
        budget: budgetOf(adjustment, sources, weights),
        readings: tolerances.length > 0 ? weightiest(adjustment, weights) : [],
      };
    };
    const plain = figuresOf(answered.answer);
    return judged.map((tolerance): CharacteristicResult => {
      const decision = byRule(job.decision, tolerance?.rule);
      const zone = tolerance === null ? null : zoneLimits(job, question, tolerance);
      const inZone = zone === null ? null : answers.inZone(question, zone);
      const answer = inZone?.ok ? inZone.answer : answered.answer;
      const { budget, readings } = inZone === null ? plain : figuresOf(answer);
      const { limit, limitLength } = limitOf(job, question, tolerance, answer.value);
      const within = inZone?.half ?? limit;
      const found = judgedBy(decision, answer.reach);
      const verdict: Verdict = within === null ? 'reported' : decide(found, within, decision.rule);
      const risk = within === null || verdict === 'reported' ? null : riskOf(verdict, answer.reach, within);
      return {
        ...about,
        value: answer.value,
        interval: [answer.interval[0], answer.interval[1]],
        u: answer.u,
        ...extremesOf(answer),
        limit,
        limitLength,
        ...ownRule(job, tolerance),
        ...zoneOf(zone, answer.extremes ?? { least: answer, greatest: answer }),
        verdict,
        ...(risk !== null && { risk }),
        probability: within === null ? null : answer.probabilityAtMost(within),
        at: answer.at.map(({ rail, station }: FamilyPoint) => ({ rail, station })),
        budget,
        ...(within !== null && {
          judged: fromOwnZero(found, within, zone, inZone),
          profile: answer.profile().map(({ rail, station, positionM, value }) => ({
            rail,
            station,
            position: Math.round(positionM * 1e9) / 1e6,
            value,
          })),
          readings,
          ends: { lower: answer.ends[0], upper: answer.ends[1] },
        }),
        ...(verdict === 'undecided' &&
          within !== null &&
          settled(settlingOf(found, within, budget, adjustment.scale))),
      };
    });
  });
}

/** The decision rule of the tolerance if it differs from the job's. */
const ownRule = ({ decision }: Job, tolerance: Tolerance | null): Pick<CharacteristicResult, 'rule'> =>
  tolerance?.rule && tolerance.rule !== decision.rule ? { rule: tolerance.rule } : {};

/** Both ends of a signed figure, with their stations. */
function extremesOf({ extremes }: Answer): Pick<Determined, 'extremes'> {
  if (extremes === undefined) return {};
  const end = ({ value, u, at: { rail, station } }: Extreme) => ({ value, u, rail, station });
  return { extremes: { least: end(extremes.least), greatest: end(extremes.greatest) } };
}

/** The judged magnitude with its limit; for a limit to one side only, counted from zero towards the limit. */
function fromOwnZero(
  { value, lower, upper }: Judged,
  limit: number,
  zone: { from: number; to: number } | null,
  about: Zone | null,
): Determined['judged'] {
  if (zone === null || about === null || (Number.isFinite(zone.from) && Number.isFinite(zone.to)))
    return { value, lower, upper, limit };
  const by = zone.to === Infinity ? -about.middle : about.middle;
  return { value: value + by, lower: lower + by, upper: upper + by, limit: limit + by };
}

const settled = (settling: Settling) => ({ settle: settleWords(settling), settling });

/** Readings that are named per value: at most this many, or the first ones that make up this share of its variance. */
const MOST_READINGS = 6;
const ENOUGH = 0.9;

/** The readings with the largest shares of the variance; priors are in the budget. */
function weightiest(
  { network }: Adjustment,
  weights: Float64Array,
): NonNullable<CharacteristicResult['readings']> {
  const variances = weights.map((w, i) => (w * network.sigma[i]!) ** 2);
  const total = variances.reduce((a, b) => a + b, 0);
  if (!(total > 0)) return [];
  const heaviest = network.observations
    .flatMap((o, i) => (o.kind === 'prior' ? [] : [{ o, share: variances[i]! / total, i }]))
    .sort((a, b) => b.share - a.share || a.i - b.i);
  const named: NonNullable<CharacteristicResult['readings']> = [];
  let sum = 0;
  for (const { o, share } of heaviest.slice(0, MOST_READINGS)) {
    if (sum >= ENOUGH || share < 0.01) break;
    sum += share;
    named.push({
      file: o.source.file,
      row: o.source.row,
      axis: o.kind === 'offset' ? o.axis : o.kind,
      share,
    });
  }
  return named;
}

/** All rails in one plane. If more than two were asked for and are not evaluated, no pair is judged instead. */
const isOfAllRails = (t: Tolerance, job: Job): boolean =>
  t.what === 'coplanarity' &&
  t.rail === null &&
  t.rails === null &&
  job.rails.filter(({ direction }) => direction === 'along').length > 2;

/**
 * A limit that depends on length is taken at the measured length: the window of a local characteristic, the
 * distance across of a span, else the rail from its first to its last station.
 */
function limitOf(
  job: Job,
  q: Question,
  t: Tolerance | null,
  value = 0,
): { limit: number | null; limitLength: number | null } {
  if (t === null) return { limit: null, limitLength: null };
  const length = lengthOf(job, q);
  const zone = zoneLimits(job, q, t);
  const limitLength = t.limit !== null && goesByLength(t.limit) ? length : null;
  if (zone === null) return { limit: limitOver(t.limit, length), limitLength };
  const nearest = zone.to - value < value - zone.from ? zone.to : zone.from;
  return { limit: Math.abs(nearest), limitLength };
}

function lengthOf(job: Job, q: Question): number {
  const rail = job.rails.find((r) => r.id === q.rail)!;
  const other = job.rails.find((r) => r.id === (q.against ?? job.datum.id))!;
  return limitLengthMm(q, rail, other);
}

/** Two limits that are not symmetric about zero; null: one limit for both sides. */
function zoneLimits(job: Job, q: Question, t: Tolerance): { from: number; to: number } | null {
  if (t.zone !== null) return t.zone;
  if (t.side === null) return null;
  const limit = limitOver(t.limit, lengthOf(job, q));
  return t.side === 'convex' ? { from: 0, to: limit } : { from: -limit, to: 0 };
}

function zoneOf(
  zone: ReturnType<typeof zoneLimits>,
  extremes: { least: { value: number }; greatest: { value: number } } | undefined,
): Pick<CharacteristicResult, 'zone'> {
  if (zone === null) return {};
  const closed = (limit: number) => (Number.isFinite(limit) ? limit : null);
  return {
    zone: {
      from: closed(zone.from),
      to: closed(zone.to),
      least: extremes?.least.value ?? null,
      greatest: extremes?.greatest.value ?? null,
    },
  };
}
