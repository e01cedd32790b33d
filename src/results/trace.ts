/**
 * From a figure back to its cells. Near the solution every characteristic is linear in the readings:
 * value = Σ weight × reading + constant. A reader can check the sum by hand.
 */
import { Answers } from '../solution/characteristics/answer.js';
import { askAll } from '../solution/characteristics/ask.js';
import type { PhaseName } from '../survey/job/job-schema.js';
import type { Job, ReadingsFile } from '../survey/job/job.js';
import { fromBase, type SlopeUnit } from '../base/units/units.js';
import { readingLabel } from '../survey/readings/point-label.js';
import type { Reading } from '../survey/readings/readings.js';
import { adjust } from '../solution/solve/adjustment.js';
import { buildNetwork } from '../solution/solve/network.js';
import { findTyped, identityOf, namingOf, type Identity, type Typed } from './identity.js';
import { questionFinder } from './question-of.js';
import type { CharacteristicResult, Results } from './results-schema.js';

export interface TracedReading {
  readonly file: string;
  /** Line in the file; the header is line 1. */
  readonly row: number;
  readonly column: string;
  /** null: the reading has no set-up. */
  readonly setup: string | null;
  /** Station or monument: 'A:7', 'M1'; both ends for a slope or a span. */
  readonly point: string;
  /** Value of the cell, in `unit`. */
  readonly reading: number;
  readonly unit: string;
  /** Change of the value per unit of the reading. */
  readonly weight: number;
  /** Share of the variance of the value. */
  readonly share: number;
  /** Observed minus fitted, µm or µm/m. */
  readonly residual: number;
}

export interface Trace extends Identity {
  readonly phase: PhaseName;
  readonly value: number;
  readonly unit: 'um' | 'um/m';
  /** Sum of corrections, nominal spans and nominal shapes. */
  readonly constant: number;
  /** Readings with a weight, the largest share of the variance first. */
  readonly readings: readonly TracedReading[];
  /** Priors, with the value zero: name, and share of the variance. */
  readonly stated: readonly { readonly what: string; readonly share: number }[];
  /** The line of results.json. */
  readonly characteristic: CharacteristicResult;
}

/** A characteristic of a phase. */
export interface InPhase {
  readonly phase: PhaseName;
  readonly characteristic: CharacteristicResult;
}

/** The selected characteristics, of the last phase that has any; several if the selection is not unique. */
export function findCharacteristics(
  results: Results,
  phase: PhaseName | null,
  typed: Typed,
): readonly InPhase[] {
  const naming = namingOf(results);
  const names = Object.keys(results.phases).filter((name) => phase === null || name === phase);
  for (const name of names.reverse()) {
    const found = findTyped(results.phases[name]?.characteristics ?? [], typed, naming);
    if (found.length > 0) return found.map((characteristic) => ({ phase: name, characteristic }));
  }
  return [];
}

/** Smaller weights are rounding. */
const ROUNDING = 1e-12;

/** @returns null: it is not determined. */
export function trace(
  job: Job,
  readings: readonly Reading[],
  phase: PhaseName,
  characteristic: CharacteristicResult,
): Trace | null {
  const adjustment = adjust(buildNetwork(job, readings));
  const { network, residual } = adjustment;
  const question = questionFinder(askAll(job, network))(characteristic);
  if (question === null) return null;
  const answers = new Answers(adjustment, job.decision.coverage);
  const { zone } = characteristic;
  const answered = zone === undefined ? answers.answer(question) : answers.inZone(question, zone);
  if (!answered.ok) return null;
  const { functional, value } = answered.answer;
  const weights = adjustment.influence(functional);
  const files = new Map(job.readingsFiles.filter((f) => f.phase === phase).map((f) => [f.file, f]));
  const variances = weights.map((w, i) => (w * network.sigma[i]!) ** 2);
  const total = variances.reduce((a, b) => a + b, 0);
  const heaviest = weights.reduce((most, w) => Math.max(most, Math.abs(w)), 0);
  let constant = 0;
  const traced: TracedReading[] = [];
  const stated = new Map<string, number>();
  network.observations.forEach((o, i) => {
    const share = total > 0 ? variances[i]! / total : 0;
    if (o.kind === 'prior') {
      if (share > 1e-6) stated.set(o.of, (stated.get(o.of) ?? 0) + share);
      return;
    }
    const um = asRead(o);
    constant += weights[i]! * (network.observed[i]! - um);
    if (Math.abs(weights[i]!) <= ROUNDING * heaviest) return;
    const file = files.get(o.source.file);
    const unit = cellUnit(o, file);
    const inUnit = (v: number) => fromBase(v, unit);
    traced.push({
      file: o.source.file,
      row: o.source.row,
      column: columnOf(o, file),
      setup: o.kind === 'offset' ? o.setup : null,
      point: readingLabel(o),
      reading: inUnit(um),
      unit,
      weight: weights[i]! / inUnit(1),
      share,
      residual: residual[i]!,
    });
  });
  traced.sort((a, b) => b.share - a.share || a.row - b.row);
  const { unit } = characteristic;
  return {
    ...identityOf(characteristic),
    phase,
    value,
    unit,
    constant,
    readings: traced,
    stated: [...stated].map(([name, share]) => ({ what: name, share })).sort((a, b) => b.share - a.share),
    characteristic,
  };
}

/** The value of the cell, µm or µm/m; the whole distance for a span. */
const asRead = (o: Reading): number =>
  o.kind === 'offset' ? o.um : o.kind === 'slope' ? o.umPerM : o.departureUm + o.nominalMm * 1000;

/** Units of single columns of foreign sheets are not kept with the readings: these are given in µm or µm/m. */
function cellUnit(o: Reading, file: ReadingsFile | undefined) {
  const base = o.kind === 'slope' ? 'um/m' : 'um';
  if (file === undefined || file.mapping) return base;
  return file.unit as SlopeUnit | 'um';
}

function columnOf(o: Reading, file: ReadingsFile | undefined): string {
  const own = o.kind === 'offset' ? o.axis : o.kind;
  for (const { columns } of file?.mapping?.rows ?? []) {
    const mapped = columns.get(own) ?? columns.get('reading');
    if (mapped !== undefined) return mapped.header;
  }
  return own;
}
