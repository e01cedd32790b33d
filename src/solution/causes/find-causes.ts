/** The finding about readings that contradict each other, or agree too well: its possible causes, each with its fix, and how to distinguish them. */
import { counted } from '../../base/diagnostics/counted.js';
import type { Diagnostic } from '../../base/diagnostics/diagnostic.js';
import type { PhaseName } from '../../survey/job/job-schema.js';
import type { Job } from '../../survey/job/job.js';
import { phaseWords } from '../../survey/readings/phase-words.js';
import { valueOf, type Reading } from '../../survey/readings/readings.js';
import { linearised } from '../solve/linearised.js';
import type { Network } from '../solve/network.js';
import { withValue } from './columns.js';
import type { Fix } from './fix.js';
import { isMistake } from './hypothesis.js';
import { identify, STRONG, type Identified } from './identify.js';
import { contextOf } from './projection.js';
import { by } from './survey-rows.js';
import { tellApart } from './tell-apart.js';
import type { Weighed } from './weigh.js';

/** One cause that explains what is wrong with a phase. */
export interface Cause {
  /** A clause: "the vertical readings from S2 have the other sign". */
  readonly words: string;
  /** null: no fix can be offered. */
  readonly fix: Fix | null;
  /** For a fix of the readings: the readings after the fix, to try it. null: another fix. */
  readonly repaired: (() => readonly Reading[]) | null;
}

export interface FoundCauses {
  readonly phase: PhaseName;
  /** The file that most of the readings come from. */
  readonly file: string;
  readonly identified: Identified;
  /** The likeliest first, at most MOST_NAMED; empty: no single cause explains the misfit. */
  readonly causes: readonly Cause[];
  /** Of all causes that explain it; `causes` are the first of them. */
  readonly count: number;
  readonly apart: string | null;
  readonly isAsked: boolean;
}

/** A σ₀ above this is not explained by an instrument that is noisier than stated. */
const FAR = 5;
/** Chance alone reaches this in fewer than one survey of 100,000. */
const BEYOND_CHANCE = 1e-5;
/** Odds against no fault, per unit of prior weight, from which a person is asked. By Markov's inequality chance reaches them in fewer
 * than one survey of 1,000, for any number of hypotheses. */
const ASKED_ODDS = 1000;
/** Of more causes these are named, the likeliest, without a fix: the readings do not tell. */
const MOST_NAMED = 8;

/** null: the readings of the phase show nothing wrong. */
export function findCauses(
  job: Job,
  phase: PhaseName,
  readings: readonly Reading[],
  solved: Network,
): FoundCauses | null {
  const network = linearised(solved);
  const identified = identify(job, readings, network);
  if (!identified.detected) return null;
  const { named, gain, weights, p, sigma0, isTooGood } = identified;
  const all = named.map(([first]) => first!);
  const firsts = all.slice(0, MOST_NAMED);
  const kinds = kindsOf(likely(all));
  const areMistakes = isTooGood ? kinds.includes('unit') : kinds.every(isMistake);
  // A fix is followed: next to what is no mistake, and in a long list, none is offered.
  const isOffered = areMistakes && all.length <= MOST_NAMED && (isTooGood || kindsOf(all).every(isMistake));
  const isStrong = p < BEYOND_CHANCE || isTooGood || gain > 2 * Math.log(ASKED_ODDS * weights);
  const isFar = sigma0 !== null && sigma0 > FAR && p < BEYOND_CHANCE;
  // A single outlying reading is in the list of suspects: the report is made with it.
  const isOnlyOne = kinds.includes('reading');
  return {
    phase,
    file: fileOf(readings),
    identified,
    causes: firsts.map((w, k) => causeOf(w, named[k]!, readings, isOffered)),
    count: all.length,
    apart: firsts.length > 1 ? tellApart(contextOf(network), firsts) : null,
    isAsked: isFar || (firsts.length > 0 && isStrong && areMistakes && !isOnlyOne),
  };
}

const kindsOf = (list: readonly Weighed[]) => list.map(({ hypothesis: { kind } }) => kind);

/** Those that are not clearly worse than the best. */
function likely(all: readonly Weighed[]): readonly Weighed[] {
  const least = (measure: (w: Weighed) => number) => all.reduce((a, w) => Math.min(a, measure(w)), Infinity);
  const [score, bic] = [least((w) => w.score), least((w) => w.bic)];
  return all.filter((w) => w.score <= score + STRONG || w.bic <= bic + STRONG);
}

function causeOf(
  w: Weighed,
  alike: readonly Weighed[],
  readings: readonly Reading[],
  isOffered: boolean,
): Cause {
  const { hypothesis, fitted } = w;
  const fix = isOffered ? hypothesis.fix(fitted) : null;
  const others =
    alike.length > 1 ? `, or up to ${counted(alike.length - 1, 'reading')} earlier or later` : '';
  return {
    words: `${hypothesis.cause(fitted)}${others}`,
    fix,
    repaired: fix?.kind === 'readings' ? () => repaired(w, readings) : null,
  };
}

/** The readings without the cause. */
function repaired(
  { hypothesis: { change }, fitted }: Weighed,
  readings: readonly Reading[],
): readonly Reading[] {
  if (change.kind === 'labels') return change.make().readings;
  if (change.kind === 'scatter') return readings;
  const added = new Map<number, number>();
  const add = (column: { rows: ArrayLike<number>; values: ArrayLike<number> }, times: number) => {
    for (let j = 0; j < column.rows.length; j++)
      added.set(column.rows[j]!, (added.get(column.rows[j]!) ?? 0) + times * column.values[j]!);
  };
  if (change.kind === 'linear')
    change.parameters.forEach(({ column }, k) => add(column, -(fitted.values[k] ?? 0)));
  else add(change.column, change.kind === 'values' ? 1 : fitted.values[0]! - 1);
  // Readings come first among the observations, in their own order.
  return readings.map((r, i) => (added.has(i) ? withValue(r, valueOf(r) + added.get(i)!) : r));
}

function fileOf(readings: readonly Reading[]): string {
  const files = [...by(readings, ({ source }) => source.file)];
  return files.sort(([a, x], [b, y]) => y.length - x.length || (a < b ? -1 : 1))[0]?.[0] ?? 'job.json';
}

/** MISFIT_EXPLAINED, MISFIT_UNEXPLAINED or NOISE_FAR_ABOVE_CLAIM. @param causes As found, without fixes that were tried and did not help. */
export function sayCauses(found: FoundCauses, causes: readonly Cause[] = found.causes): Diagnostic {
  const { identified, apart, file, isAsked } = found;
  const { sigma0, redundancy, isTooGood, hasTooFewChecks, nearest } = identified;
  const at = { file };
  const common = {
    phase: phaseWords(found.phase),
    sigma0: sigma0 === null ? '' : sigma0 < 0.1 ? sigma0.toPrecision(2) : sigma0.toFixed(sigma0 < 10 ? 2 : 0),
    redundancy,
  };
  const lines = (items: readonly string[]) => items.map((text) => text.replaceAll('\n', ' ')).join('\n');
  if (causes.length > 0) {
    const data = {
      ...common,
      way: isTooGood ? 'too-good' : sigma0 !== null && sigma0 < 1.2 ? 'small' : 'misfit',
      count: found.count,
      causes: lines(causes.map(({ words }) => words)),
      mend: lines(causes.map(({ fix }) => fix?.text ?? '')),
      apart: apart ?? '',
    } as const;
    return { code: 'MISFIT_EXPLAINED', severity: isAsked ? 'confirm' : 'warning', data, at };
  }
  const near = hasTooFewChecks
    ? ''
    : nearest
        .slice(0, 2)
        .map(({ hypothesis, fitted }) => hypothesis.cause(fitted))
        .join('; ');
  if (isAsked) return { code: 'NOISE_FAR_ABOVE_CLAIM', severity: 'confirm', data: { ...common, near }, at };
  const data = { ...common, near, way: isTooGood ? 'too-good' : 'misfit' } as const;
  return { code: 'MISFIT_UNEXPLAINED', severity: 'warning', data, at };
}
