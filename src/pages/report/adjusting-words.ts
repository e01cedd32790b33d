/** A rail while it is adjusted, in words: one number as large as the screen, which way and how far, and the list of moves. */
import { visible } from '../../base/diagnostics/messages.js';
import type { Job } from '../../survey/job/job.js';
import type { Adjusting, AdjustStep } from '../../results/adjusting.js';
import { reportUnits, withUnit, type ReportUnit } from '../../results/words/format-quantity.js';
import type { Words } from '../words/words.js';

export interface AdjustingView {
  readonly label: string;
  readonly step: string;
  readonly number: string;
  /** Characters of the number, 3 to 8: its size on the page depends on it. */
  readonly length: number;
  readonly way: string;
  readonly note: string;
  readonly steps: readonly { readonly text: string; readonly current: boolean }[];
}

export function adjustingView(
  { steps, current, response }: Adjusting,
  job: Pick<Job, 'style'>,
  words: Words,
): AdjustingView {
  const { say } = words;
  const { deviation } = reportUnits(job.style, words.mark);
  const step = current === null ? null : steps[current]!;
  const number = step === null ? '✓' : size(step.left ?? step.asked, { unit: deviation, words });
  return {
    label: say('adjust.label'),
    step: step === null ? say('adjust.all-done') : say('adjust.step', placeOf(step, words)),
    number,
    length: Math.min(8, Math.max(3, number.length)),
    way:
      step === null
        ? say('adjust.read-again')
        : say(step.left === null ? 'adjust.way.first' : 'adjust.way', {
            way: wayOf(step.axis, step.left ?? step.asked, words),
            unit: deviation.label,
            band: withUnit(words.trimmed(deviation.fromBase(step.band), deviation.decimals), deviation),
          }),
    note:
      step?.isTurned === true
        ? say('adjust.turned', { did: amount(step.axis, step.did!, { unit: deviation, words }) })
        : response === null
          ? ''
          : say('adjust.response', { percent: Math.round(100 * response) }),
    steps: steps.map((one, k) => ({ text: lineOf(one, { unit: deviation, words }), current: k === current })),
  };
}

const placeOf = ({ adjuster, rail, station, axis }: AdjustStep, { say }: Words) => ({
  adjuster: visible(adjuster),
  point: visible(`${rail}:${station}`),
  axis: say(`leave.axis.${axis}`),
});

const wayOf = (axis: AdjustStep['axis'], move: number, { say }: Words): string =>
  say(
    axis === 'vertical'
      ? move > 0
        ? 'adjust.raise'
        : 'adjust.lower'
      : move > 0
        ? 'adjust.left'
        : 'adjust.right',
  );

const size = (um: number, { unit, words }: Said): string =>
  words.number(Math.abs(unit.fromBase(um)), unit.decimals);

/** In which unit and which words. */
interface Said {
  readonly unit: ReportUnit;
  readonly words: Words;
}

const amount = (axis: AdjustStep['axis'], move: number, said: Said): string =>
  said.words.say('adjust.amount', {
    way: wayOf(axis, move, said.words),
    size: withUnit(size(move, said), said.unit),
  });

function lineOf(step: AdjustStep, said: Said): string {
  const { say } = said.words;
  const about = { ...placeOf(step, said.words), asked: amount(step.axis, step.asked, said) };
  if (step.left === null) return say('adjust.line.open', about);
  const left = amount(step.axis, step.left, said);
  return say(step.isDone ? 'adjust.line.done' : 'adjust.line.begun', { ...about, left });
}
