/** Changes in words, for the list and for the terminal. */
import { visible } from '../../base/diagnostics/messages.js';
import {
  baseUnits,
  coverageFactor,
  reportUnits,
  type ReportUnits,
} from '../../results/words/format-quantity.js';
import { namingFor, type Naming } from '../../results/identity.js';
import { counted } from '../../pages/report/sentence.js';
import { english } from '../../pages/words/words.js';
import { verdictWords } from '../../results/words/texts.js';
import type { Verdict } from '../../results/results-schema.js';
import { isFlipped } from './build-changes.js';
import type { Cause, Changes, JobChange } from './changes-schema.js';

export const causeWords: Record<Cause, string> = {
  readings: 'readings',
  'job-file': 'job file',
  tolerances: 'tolerance set',
  decision: 'decision rule or coverage',
  method: 'method edition',
  software: 'software version',
  template: 'template',
  printing: 'printing',
  unknown: 'unknown: nothing that is recorded differs',
};

export const causesText = (causes: readonly Cause[]): string =>
  english.list(causes.map((c) => causeWords[c]));

/** "no report" where there is none. */
export const verdictText = (verdict: Verdict | null): string =>
  verdict === null ? 'no report' : verdictWords[verdict];

/** In which units, with which coverage factor and by which names a job's figures are told. */
export interface Told {
  readonly units: ReportUnits;
  readonly k: number;
  readonly naming: Naming;
}

export function toldBy({ style, about, characteristics }: JobChange): Told {
  const units = style === null ? baseUnits : reportUnits(style);
  const naming = namingFor(characteristics, { datum: about?.datum ?? null, length: units.length });
  return { units, k: style === null ? 2 : coverageFactor(style.coverage), naming };
}

/** What was compared, in parts of one sentence. */
export function countWords({ counts }: Changes): string[] {
  const some = (n: number, text: string) => (n === 0 ? [] : [text]);
  const { compared, flipped, changed, redrawn, same, appeared, vanished, notReported, notCompared, damaged } =
    counts;
  return [
    `${counted(compared, 'job')} compared`,
    `${counted(flipped, 'job verdict')} flipped`,
    ...some(changed - flipped, `${changed - flipped} with other figures or verdicts inside`),
    ...some(redrawn, `${redrawn} with the same figures, made anew`),
    ...some(same, `${same} the same`),
    ...some(appeared, `${appeared} new`),
    ...some(vanished, `${vanished} gone`),
    ...some(notReported, `${notReported} not reported now`),
    ...some(notCompared, `${notCompared} not to be compared`),
    ...some(damaged, `${counted(damaged, 'earlier report')} damaged`),
  ];
}

/** Flips told on a terminal; the list has all. */
const MOST_FLIPS = 20;

/** What a terminal shows: each job's verdict that flipped, then the counts, then what lies behind them. */
export function changesText(changes: Changes): string {
  const flips = changes.jobs.filter(isFlipped);
  const lines = flips
    .slice(0, MOST_FLIPS)
    .map(
      ({ job, verdict, verdictCauses }) =>
        `${job}: ${verdictText(verdict.after)}; in ${changes.against}: ${verdictText(verdict.before)} (${causesText(verdictCauses)})`,
    );
  const more = flips.length - lines.length;
  const behind = changes.byCause.map(
    ({ cause, jobs, jobVerdicts }) =>
      `${causeWords[cause]}: ${counted(jobs, 'job')}${jobVerdicts === 0 ? '' : `, ${counted(jobVerdicts, 'verdict')}`}`,
  );
  return [
    ...lines,
    ...(more > 0 ? [`and ${more} more`] : []),
    `Against ${changes.against}: ${countWords(changes).join(', ')}.`,
    ...(behind.length > 0 ? [`By cause: ${behind.join('; ')}.`] : []),
  ]
    .map(visible)
    .join('\n');
}
