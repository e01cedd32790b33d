/**
 * What a planned survey can decide: the uncertainty of every characteristic before the survey, the greatest value that will be
 * accepted, and remedies. Everything is calculated with the model.
 */
import { Answers, farthestFrom, SEED } from '../../solution/characteristics/answer.js';
import { askAll } from '../../solution/characteristics/ask.js';
import { applyFamily, combine, undetermined } from '../../solution/characteristics/linear-family.js';
import { identityOf, type Identity } from '../identity.js';
import { coverageFactor } from '../words/format-quantity.js';
import { questionFinder } from '../question-of.js';
import type { ProfileQuestion, Question } from '../../solution/characteristics/question.js';
import type { Job, Setup } from '../../survey/job/job.js';
import type { OffsetReading, Reading } from '../../survey/readings/readings.js';
import { characteristicsSection } from '../characteristics-section.js';
import type { BudgetSource, CharacteristicResult } from '../results-schema.js';
import { adjust, type Adjustment, type Functional } from '../../solution/solve/adjustment.js';
import { explainer } from '../../solution/solve/explain.js';
import { buildNetwork, type Network, type Observation } from '../../solution/solve/network.js';
import type { PriorKind } from '../../solution/solve/priors.js';
import { budgetOf, sourcesOf } from '../../solution/solve/roles.js';
import { createGenerator } from '../../base/statistics/random.js';
import { middleOf } from '../unstated-section.js';
import type { Survey } from '../remedies.js';
import { Trials } from './chances.js';
import type { Foreseen } from './foreseen.js';
import { cheapestSet, RIGHT_AT, type CheapestSet } from './cheapest.js';
import { byRule, levelsOf } from '../../solution/verdict/decision-rule.js';
import { factorOf } from '../../solution/verdict/greatest.js';

export interface Help {
  readonly do: string;
  /** Mean relative decrease of the uncertainties of characteristics with a limit. */
  readonly shrinks: number;
  readonly u: readonly (Identity & { readonly from: number; readonly to: number })[];
}

export interface PlannedSurvey {
  readonly job: string;
  readonly characteristics: readonly Foreseen[];
  /** Best first; those with a negligible effect are left out. */
  readonly helps: readonly Help[];
  /** null: no survey of this kind decides any limit, or there is no limit. */
  readonly cheapest: CheapestSet | null;
}

/** Number of random profiles of noise at which the uncertainty is calculated. */
const SHAPES = 25;
/** Least effect of a listed remedy. */
const WORTH = 0.02;

/**
 * @param isRead true: the readings are real, and uncertainties are those at the points that determine each value. false: the
 *   shape of the rails is not known, and the median for profiles of noise is given.
 * @param isTried true: surveys are also simulated, for probabilities and the cheapest survey.
 */
export function planSurvey(
  job: Job,
  readings: readonly Reading[],
  isRead: boolean,
  isTried = true,
): PlannedSurvey {
  const survey = new Foreseer(job, buildNetwork(job, readings), isRead);
  const foreseen = survey.foresee();
  const characteristics = isTried ? survey.withChances(foreseen) : foreseen;
  const judged = characteristics.filter((c) => c.limit !== null && c.u !== null);
  const asked = judged.length > 0 ? judged : characteristics.filter(({ u }) => u !== null);
  const helps = changesOf(job, readings).flatMap(({ name, job: changed, list, sharpen }): Help[] => {
    const network = buildNetwork(changed, list);
    const better = new Foreseer(changed, sharpen === undefined ? network : sharpen(network), isRead).alike(
      asked,
    );
    const u = asked.flatMap((c) => {
      const to = better[asked.indexOf(c)]?.u;
      return to === null || to === undefined ? [] : [{ ...identityOf(c), from: c.u!, to }];
    });
    if (u.length === 0) return [];
    const shrinks = u.reduce((sum, { from, to }) => sum + (1 - to / from) / u.length, 0);
    return shrinks < WORTH ? [] : [{ do: name, shrinks, u }];
  });
  const of = (other: Survey, passes: number) => {
    const whole = buildNetwork(other.job, other.readings);
    return new Foreseer(other.job, passes === 1 ? whole : readMoreOften(whole, passes), isRead);
  };
  const cheapest = cheapestSet({ job, readings }, survey.network, characteristics, {
    foresee: (other, passes) => of(other, passes).alike(characteristics),
    tried: (other, passes) => {
      const then = of(other, passes);
      return then.withChances(then.alike(characteristics), RIGHT_AT);
    },
  });
  return { job: job.id, characteristics, helps: helps.sort((a, b) => b.shrinks - a.shrinks), cheapest };
}

/** A survey with a multiple of the passes: the mean of several readings is equivalent to one reading with a smaller uncertainty. */
const readMoreOften = (network: Network, passes: number): Network => ({
  ...network,
  sigma: network.sigma.map((s, i) => (network.observations[i]!.kind === 'prior' ? s : s / Math.sqrt(passes))),
});

class Foreseer {
  private readonly adjustment: Adjustment;
  private readonly shapes: readonly Float64Array[];

  constructor(
    private readonly job: Job,
    readonly network: Network,
    isRead: boolean,
  ) {
    const observed = isRead ? network.observed : new Float64Array(network.observed.length);
    const adjustment = adjust({ ...network, observed });
    this.adjustment = adjustment;
    const generator = createGenerator(SEED);
    this.shapes = isRead
      ? [adjustment.x]
      : Array.from({ length: SHAPES }, () => {
          const x = new Float64Array(network.unknowns.length);
          adjustment.drawError(generator, x);
          return x;
        });
  }

  foresee(): Foreseen[] {
    const { job, network, adjustment } = this;
    const questions = askAll(job, network);
    const sources = sourcesOf(network);
    const answers = new Answers(adjustment, job.decision.coverage);
    const questionOf = questionFinder(questions);
    const listed = characteristicsSection(
      job,
      adjustment,
      questions,
      answers,
      sources,
      explainer(job, adjustment),
    );
    return listed.map((c): Foreseen => {
      const question = questionOf(c)!;
      const about = {
        ...identityOf(c),
        unit: c.unit,
        limit: c.limit,
        ...(c.zone !== undefined && { zone: { from: c.zone.from, to: c.zone.to } }),
        ...(c.rule !== undefined && { rule: c.rule }),
      };
      const typical = this.typical(question, c.zone);
      if (typical === null)
        return {
          ...about,
          u: null,
          ...(c.value === null && { why: c.why, reasons: c.reasons }),
          acceptsUpTo: null,
          budget: {},
          expanded: null,
        };
      const budget = budgetOf(adjustment, sources, adjustment.influence(typical.functional));
      const [most] = (Object.entries(budget) as [BudgetSource, number][]).sort(([, a], [, b]) => b - a);
      const guard = this.guardOf(typical.u, c.rule);
      return {
        ...about,
        u: typical.u,
        acceptsUpTo: c.limit === null ? null : Math.max(0, c.limit - guard),
        ...(c.signed && c.limit !== null && { accepts: accepted(about.zone, c.limit, guard) }),
        budget,
        expanded: coverageFactor(job.decision.coverage) * typical.u,
        ...(most !== undefined && { greatest: { source: most[0], share: most[1] } }),
      };
    });
  }

  /** Uncertainties of the same characteristics without verdicts, for surveys that are compared with the plan. */
  alike(planned: readonly Foreseen[]): Foreseen[] {
    const questionOf = questionFinder(askAll(this.job, this.network));
    return planned.map((c): Foreseen => {
      const question = c.u === null ? null : questionOf(c);
      const zone = c.zone && { ...c.zone, least: null, greatest: null };
      const u = (question && this.typical(question, zone)?.u) ?? null;
      return { ...c, u, chances: undefined };
    });
  }

  /** Share of simulated surveys with each verdict. */
  withChances(characteristics: readonly Foreseen[], shares?: readonly number[]): Foreseen[] {
    const { job, network } = this;
    const blank = adjust({ ...network, observed: new Float64Array(network.observed.length) });
    const trials = new Trials(blank, new Answers(blank, job.decision.coverage), job.decision);
    const questionOf = questionFinder(askAll(job, network));
    return characteristics.map((c) => {
      const question = c.limit === null || c.u === null ? null : questionOf(c);
      const zone = c.zone && { ...c.zone, least: null, greatest: null };
      const chances =
        question === null ? null : trials.chances({ question, limit: c.limit!, zone, rule: c.rule }, shares);
      return chances === null ? c : { ...c, chances };
    });
  }

  /** Distance of the upper end of a single extreme from its value. */
  private guardOf(u: number, rule: CharacteristicResult['rule']): number {
    const decision = byRule(this.job.decision, rule);
    return decision.rule === 'simple' ? 0 : factorOf(levelsOf(decision).accept, Infinity) * u;
  }

  /** @param zone Limits to two sides: then the deciding end is used, as in the report. */
  private typical(
    question: Question,
    zone: CharacteristicResult['zone'],
  ): { u: number; functional: Functional } | null {
    const { adjustment } = this;
    if (question.kind === 'none') return null;
    const u = (functional: Functional) => adjustment.standardUncertainty(functional) / adjustment.scale;
    if (question.kind === 'linear') {
      const { functional } = question;
      return adjustment.isDetermined(functional) ? { u: u(functional), functional } : null;
    }
    const parts: readonly ProfileQuestion[] = question.kind === 'greatest-of' ? question.parts : [question];
    if (parts.some(({ family }) => undetermined(family, adjustment).includes(true))) return null;
    const middle = middleOf(zone);
    const found = this.shapes.map((x) => {
      const made = parts.map((part) => {
        const profile = applyFamily(part.family, x);
        if (middle === 0) return { part, ...part.measure.explain(profile) };
        const index = farthestFrom(middle / part.factor, profile);
        return { part, value: profile[index]!, gradient: [{ index, weight: 1 }] };
      });
      const size = (m: (typeof made)[number]) => Math.abs(m.value * m.part.factor);
      const worst = made.reduce((a, b) => (size(b) > size(a) ? b : a));
      const functional = combine(worst.part.family, worst.gradient);
      return { u: u(functional) * worst.part.factor, functional };
    });
    return found.sort((a, b) => a.u - b.u)[found.length >> 1]!;
  }
}

/** The values of a signed figure that will be accepted; null: none. */
function accepted(zone: Foreseen['zone'], limit: number, guard: number): Foreseen['accepts'] {
  const from = (zone === undefined ? -limit : zone.from) ?? -Infinity;
  const to = (zone === undefined ? limit : zone.to) ?? Infinity;
  if (to - from < 2 * guard) return null;
  return {
    from: from === -Infinity ? null : from + guard,
    to: to === Infinity ? null : to - guard,
  };
}

interface Change {
  readonly name: string;
  readonly job: Job;
  readonly list: readonly Reading[];
  readonly sharpen?: (network: Network) => Network;
}

/** What a crew could do differently. */
function changesOf(job: Job, readings: readonly Reading[]): Change[] {
  /** Multiplies the uncertainty of each observation by its factor. */
  const sharper = (name: string, factor: (o: Observation) => number): Change => ({
    name,
    job,
    list: readings,
    sharpen: (network) => ({
      ...network,
      sigma: network.sigma.map((s, i) => s * factor(network.observations[i]!)),
    }),
  });
  const halved = (name: string, ...kinds: readonly PriorKind[]): Change =>
    sharper(name, (o) => (o.kind === 'prior' && kinds.includes(o.prior) ? 0.5 : 1));
  const offsets = readings.filter((r): r is OffsetReading => r.kind === 'offset');
  const spanOf = (setup: Setup) => {
    const at = offsets.flatMap(({ setup: id, point }) => {
      if (id !== setup.id || point.kind !== 'station') return [];
      return [job.rails.find((r) => r.id === point.rail)!.stations[point.station - 1]!.alongMm];
    });
    return at.length === 0 ? null : { from: Math.min(...at), to: Math.max(...at) };
  };
  const moved = job.setups.map((setup) => {
    const span = spanOf(setup);
    return span === null ? setup : { ...setup, alongMm: (span.from + span.to) / 2 };
  });
  const mirrored = job.setups.flatMap((setup): Setup[] => {
    const span = spanOf(setup);
    return span === null
      ? []
      : [{ ...setup, id: `${setup.id} again`, alongMm: span.from + span.to - setup.alongMm }];
  });
  const again = offsets
    .filter(({ setup }) => mirrored.some(({ id }) => id === `${setup} again`))
    .map((r): Reading => ({ ...r, setup: `${r.setup} again` }));
  return [
    sharper('Twice as many passes', (o) => (o.kind === 'prior' ? 1 : Math.SQRT1_2)),
    ...(offsets.length === 0
      ? []
      : [
          { name: 'Set up half-way along what is read', job: { ...job, setups: moved }, list: readings },
          {
            name: 'Read the same stations from the other end as well',
            job: { ...job, setups: [...job.setups, ...mirrored] },
            list: [...readings, ...again],
          },
        ]),
    halved('A level set twice as well', 'level', 'level-zero'),
    halved('A square plane known twice as well', 'square'),
    halved('Air twice as even: fans that mix it, or a survey at night', 'air'),
    halved('A cone known twice as well', 'cone'),
    halved('Targets compared twice as well (scale, roll)', 'scale', 'target-roll'),
    halved('Targets that sit down twice as well', 'seating'),
    halved('Planes that drift half as much', 'drift'),
    halved('Temperatures known twice as well', 'thermal-bow', 'span-temperature'),
  ];
}
