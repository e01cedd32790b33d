/** Changes in words, for the page and for the terminal. */
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

/** "no report" if there is none. */
export const verdictText = (verdict: Verdict | null): string =>
  verdict === null ? 'no report' : verdictWords[verdict];

/** Units, coverage factor and names with which a job's figures are printed. */
export interface Style {
  readonly units: ReportUnits;
  readonly k: number;
  readonly naming: Naming;
}

export function styleOf({ style, about, characteristics }: JobChange): Style {
  const units = style === null ? baseUnits : reportUnits(style);
  const naming = namingFor(characteristics, { datum: about?.datum ?? null, length: units.length });
  return { units, k: style === null ? 2 : coverageFactor(style.coverage), naming };
}

/** Numbers of jobs, as parts of one sentence. */
export function countWords({ counts }: Changes): string[] {
  const ifAny = (n: number, text: string) => (n === 0 ? [] : [text]);
  const { compared, flipped, changed, redrawn, same, appeared, vanished, notReported, notCompared, damaged } =
    counts;
  return [
    `${counted(compared, 'job')} compared`,
    `${counted(flipped, 'job verdict')} flipped`,
    ...ifAny(changed - flipped, `${changed - flipped} with other figures or verdicts inside`),
    ...ifAny(redrawn, `${redrawn} with the same figures, made anew`),
    ...ifAny(same, `${same} the same`),
    ...ifAny(appeared, `${appeared} new`),
    ...ifAny(vanished, `${vanished} gone`),
    ...ifAny(notReported, `${notReported} not reported now`),
    ...ifAny(notCompared, `${notCompared} not to be compared`),
    ...ifAny(damaged, `${counted(damaged, 'earlier report')} damaged`),
  ];
}

/** Number of changed verdicts that a terminal shows; the page has all. */
const MAX_FLIPS = 20;

/** Text for a terminal: each job whose verdict changed, then the numbers, then the causes. */
export function changesText(changes: Changes): string {
  const flips = changes.jobs.filter(isFlipped);
  const lines = flips
    .slice(0, MAX_FLIPS)
    .map(
      ({ job, verdict, verdictCauses }) =>
        `${job}: ${verdictText(verdict.after)}; in ${changes.against}: ${verdictText(verdict.before)} (${causesText(verdictCauses)})`,
    );
  const more = flips.length - lines.length;
  const byCause = changes.byCause.map(
    ({ cause, jobs, jobVerdicts }) =>
      `${causeWords[cause]}: ${counted(jobs, 'job')}${jobVerdicts === 0 ? '' : `, ${counted(jobVerdicts, 'verdict')}`}`,
  );
  return [
    ...lines,
    ...(more > 0 ? [`and ${more} more`] : []),
    `Against ${changes.against}: ${countWords(changes).join(', ')}.`,
    ...(byCause.length > 0 ? [`By cause: ${byCause.join('; ')}.`] : []),
  ]
    .map(visible)
    .join('\n');
}
