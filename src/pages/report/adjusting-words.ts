/** A rail while it is adjusted, in words: one number as large as the screen, which way and how far, and the list of moves. */
import { visible } from '../../base/diagnostics/messages.js';
import type { Job } from '../../survey/job/job.js';
import type { Adjusting, AdjustStep } from '../../results/adjusting.js';
import {
  numberText,
  reportUnits,
  trimmedText,
  withUnit,
  type ReportUnit,
} from '../../results/words/format-quantity.js';
import { english } from '../words/words.js';

const { say } = english;

export interface AdjustingView {
  readonly label: string;
  readonly step: string;
  readonly number: string;
  readonly way: string;
  readonly note: string;
  readonly steps: readonly { readonly text: string; readonly current: boolean }[];
}

export function adjustingView(
  { steps, current, response }: Adjusting,
  job: Pick<Job, 'style'>,
): AdjustingView {
  const { deviation } = reportUnits(job.style);
  const step = current === null ? null : steps[current]!;
  return {
    label: say('adjust.label'),
    step: step === null ? say('adjust.all-done') : say('adjust.step', placeOf(step)),
    number: step === null ? '✓' : size(step.left ?? step.asked, deviation),
    way:
      step === null
        ? say('adjust.read-again')
        : say(step.left === null ? 'adjust.way.first' : 'adjust.way', {
            way: wayOf(step.axis, step.left ?? step.asked),
            unit: deviation.label,
            band: withUnit(trimmedText(deviation.fromBase(step.band), deviation.decimals), deviation),
          }),
    note:
      step?.isTurned === true
        ? say('adjust.turned', { did: amount(step.axis, step.did!, deviation) })
        : response === null
          ? ''
          : say('adjust.response', { percent: Math.round(100 * response) }),
    steps: steps.map((one, k) => ({ text: lineOf(one, deviation), current: k === current })),
  };
}

const placeOf = ({ adjuster, rail, station, axis }: AdjustStep) => ({
  adjuster: visible(adjuster),
  point: visible(`${rail}:${station}`),
  axis: say(`leave.axis.${axis}`),
});

const wayOf = (axis: AdjustStep['axis'], move: number): string =>
  say(
    axis === 'vertical'
      ? move > 0
        ? 'adjust.raise'
        : 'adjust.lower'
      : move > 0
        ? 'adjust.left'
        : 'adjust.right',
  );

const size = (um: number, unit: ReportUnit): string => numberText(Math.abs(unit.fromBase(um)), unit.decimals);

const amount = (axis: AdjustStep['axis'], move: number, unit: ReportUnit): string =>
  `${wayOf(axis, move)} ${withUnit(size(move, unit), unit)}`;

function lineOf(step: AdjustStep, unit: ReportUnit): string {
  const about = { ...placeOf(step), asked: amount(step.axis, step.asked, unit) };
  if (step.left === null) return say('adjust.line.open', about);
  const left = amount(step.axis, step.left, unit);
  return say(step.isDone ? 'adjust.line.done' : 'adjust.line.begun', { ...about, left });
}
