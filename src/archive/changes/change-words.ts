/** Changes in words, for the page and for the terminal. */
import { visible } from '../../base/diagnostics/messages.js';
import { counted } from '../../base/diagnostics/counted.js';
import { verdictOrNone } from '../../pages/report/sections/judged-change.js';
import { english, type Words } from '../../pages/words/words.js';
import { isFlipped } from './build-changes.js';
import type { Cause, Changes } from './changes-schema.js';

export const causeText = (cause: Cause, { say }: Words): string => say(`changes.cause.${cause}`);

export const causesText = (causes: readonly Cause[], words: Words): string =>
  words.list(causes.map((cause) => causeText(cause, words)));

/** Numbers of jobs, as parts of one sentence. */
export function countWords({ counts }: Changes, { say }: Words): string[] {
  const all = { ...counts, changed: counts.changed - counts.flipped };
  const always = ['compared', 'flipped'] as const;
  const ifAny = [
    'changed',
    'redrawn',
    'same',
    'appeared',
    'vanished',
    'notReported',
    'notCompared',
    'damaged',
  ] as const;
  return [...always, ...ifAny.filter((what) => all[what] !== 0)].map((what) =>
    say(`changes.count.${what}`, { count: all[what] }),
  );
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
        `${job}: ${verdictOrNone(verdict.after, english)}; in ${changes.against}: ${verdictOrNone(verdict.before, english)} (${causesText(verdictCauses, english)})`,
    );
  const more = flips.length - lines.length;
  const byCause = changes.byCause.map(
    ({ cause, jobs, jobVerdicts }) =>
      `${causeText(cause, english)}: ${counted(jobs, 'job')}${jobVerdicts === 0 ? '' : `, ${counted(jobVerdicts, 'verdict')}`}`,
  );
  return [
    ...lines,
    ...(more > 0 ? [`and ${more} more`] : []),
    `Against ${changes.against}: ${countWords(changes, english).join(', ')}.`,
    ...(byCause.length > 0 ? [`By cause: ${byCause.join('; ')}.`] : []),
  ]
    .map(visible)
    .join('\n');
}
