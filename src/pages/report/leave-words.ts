/** May the crew go, in words: one sentence that follow keeps in sight, and one screen for `check --leave`. */
import { describe, visible } from '../../base/diagnostics/messages.js';
import type { Job } from '../../survey/job/job.js';
import { readWords } from '../../survey/readings/what-was-read.js';
import { namingFor } from '../../results/identity.js';
import { figureText } from './figures.js';
import type { Leave, ToleranceLeft, ToRepeat } from '../../results/leave.js';
import { leftOpen, type CharacteristicResult, type ClosureResult } from '../../results/results-schema.js';
import {
  coverageFactor,
  measuredText,
  reportUnits,
  resultText,
  unitFor,
  withUnit,
  percentText,
} from '../../results/words/format-quantity.js';
import { identityText, verdictText, whyText } from '../words/names.js';
import { phrase, sentences } from '../words/phrases.js';
import { english, type MessageKey, type Words } from '../words/words.js';
import { limitWords } from './sections/characteristic-names.js';
import { capitalised, sentence } from './sentence.js';

export interface LeaveLine {
  readonly label: string;
  readonly texts: readonly string[];
}

/** Of a list, so many are told on the screen. */
const MOST_TOLD = 4;

/** "You may go. Every tolerance is decided." */
export const leaveHead = (
  { because, problems, tolerances, repeat }: Leave,
  words: Words = english,
): string =>
  because === 'to-repeat'
    ? words.say('leave.to-repeat', {
        what: visible(phrase(repeat!.what, words)),
        axis: axisWord(repeat!.axis, words),
      })
    : words.say(`leave.${because}`, {
        count: problems.length,
        open: tolerances.filter(({ isDecided }) => !isDecided).length,
      });

/** What the answer rests on, line by line. @param job null: job.json cannot be used. */
export function leaveLines(
  leave: Leave,
  job: Pick<Job, 'style' | 'decision' | 'datum'> | null,
  words: Words = english,
): LeaveLine[] {
  const { say } = words;
  const line = (label: MessageKey, texts: readonly string[]): LeaveLine[] =>
    texts.length === 0 ? [] : [{ label: say(label), texts: texts }];
  const { problems, read, tolerances } = leave;
  const isSolved = job !== null && leave.because !== 'problems';
  return [
    ...line(
      'leave.label.problems',
      told(
        problems.map((d) => `${placeOf(d.at, words)}${visible(sentences(describe(d), words))}`),
        words,
      ),
    ),
    ...line('leave.label.read', [
      read === null
        ? say('leave.nothing-read')
        : sentence(
            capitalised(
              readWords(read)
                .map((text) => visible(phrase(text, words)))
                .join('; '),
            ),
          ),
      ...blankText(leave, words),
    ]),
    ...(isSolved
      ? [
          ...line('leave.label.closures', [closureText(leave, job, words)]),
          ...line('leave.label.repeat', [repeatText(leave.repeat, words)]),
          ...line('leave.label.again', againTexts(leave, words)),
          ...line('leave.label.tolerances', toleranceTexts(tolerances, job, words)),
        ]
      : []),
  ];
}

const told = (texts: readonly string[], { say }: Words): string[] =>
  texts.length <= MOST_TOLD + 1
    ? [...texts]
    : [...texts.slice(0, MOST_TOLD), say('leave.more', { count: texts.length - MOST_TOLD })];

const placeOf = (
  at: { file: string; row?: number | undefined; column?: string | undefined } | undefined,
  { say }: Words,
) =>
  at === undefined
    ? ''
    : `${visible([at.file, at.row === undefined ? '' : say('row', { row: at.row }), at.column].filter(Boolean).join(', '))}: `;

const axisWord = (axis: string, { say }: Words): string => say(`leave.axis.${axis}` as MessageKey);

function blankText({ blank }: Leave, { say, numbers: numbersText }: Words): string[] {
  if (blank.length === 0) return [];
  const files = [...new Set(blank.map(({ source }) => source.file))];
  const rows = files
    .map((file) => {
      const numbers = blank.filter(({ source }) => source.file === file).map(({ source }) => source.row);
      return say('place.rows', { from: visible(file), count: numbers.length, rows: numbersText(numbers) });
    })
    .join('; ');
  return [say('leave.blank', { count: blank.length, rows })];
}

function closureText(
  { closures: { exceeded, widest } }: Leave,
  job: Pick<Job, 'style'>,
  words: Words,
): string {
  const { say } = words;
  if (widest === null) return say('leave.closures.none');
  const { deviation } = reportUnits(job.style, words.mark);
  const length = (um: number) => withUnit(measuredText(um, widest.allowed, deviation, {}).value, deviation);
  return say(exceeded === 0 ? 'leave.closures.held' : 'leave.closures.exceeded', {
    exceeded,
    ...pointOf(widest, words),
    closure: length(leftOpen(widest)),
    allowed: length(widest.allowed),
  });
}

const pointOf = ({ point, setup, axis }: ClosureResult, words: Words) => ({
  point: visible(point),
  setup: visible(setup),
  axis: axisWord(axis, words),
});

export function repeatText(repeat: ToRepeat | null, words: Words = english): string {
  const { say } = words;
  if (repeat === null) return say('leave.repeat.none');
  const { what, axis, file, row, because, isCertain, narrower = 0 } = repeat;
  return say(`leave.repeat.${because}`, {
    what: visible(phrase(what, words)),
    axis: axisWord(axis, words),
    place: visible([file, row === null ? '' : say('row', { row })].filter(Boolean).join(', ')),
    must: isCertain ? 'yes' : 'no',
    narrower: percentText(Math.round(100 * narrower)),
  });
}

function againTexts({ setups }: Leave, { say, list: listText }: Words): string[] {
  const ids = (keep: (one: Leave['setups'][number]) => boolean) =>
    setups.filter(keep).map(({ setup }) => visible(setup));
  const text = (key: MessageKey, list: readonly string[]) =>
    list.length === 0 ? [] : [say(key, { setups: listText(list) })];
  const found = [
    ...text(
      'leave.again.both',
      ids(({ level, zero }) => level === true && zero === true),
    ),
    ...text(
      'leave.again.level',
      ids(({ level, zero }) => level === true && zero !== true),
    ),
    ...text(
      'leave.again.zero',
      ids(({ level, zero }) => zero === true && level !== true),
    ),
    ...text(
      'leave.again.not.level',
      ids(({ level }) => level === false),
    ),
    ...text(
      'leave.again.not.zero',
      ids(({ zero }) => zero === false),
    ),
  ];
  return found.length === 0 ? [say('leave.again.none')] : found;
}

/** The open ones first. */
function toleranceTexts(
  tolerances: readonly ToleranceLeft[],
  job: Pick<Job, 'style' | 'decision' | 'datum'>,
  words: Words,
): string[] {
  const { say } = words;
  const units = reportUnits(job.style, words.mark);
  const k = coverageFactor(job.decision.coverage);
  const naming = namingFor(
    tolerances.map(({ made }) => made),
    { datum: job.datum.id, length: units.length },
  );
  const text = ({ made, isDecided, by }: ToleranceLeft): string => {
    const name = identityText(made, naming, words);
    if (made.value === null)
      return say(by === null ? 'leave.open.nothing-missing' : 'leave.open.missing', {
        name,
        why: sentence(capitalised(visible(whyText(made, words)))),
      });
    const about = { name, ...figureOf(made, k, unitFor(units, made.unit), words) };
    if (isDecided) return say('leave.decided', { ...about, verdict: verdictText(made.verdict, words) });
    switch (by?.kind) {
      case undefined:
      case 'missing':
        return say('leave.open.nothing', { ...about, times: passesOf(made.settling) });
      case 'reading':
        return say('leave.open.reading', {
          ...about,
          what: visible(phrase(by.reading.what, words)),
          axis: axisWord(by.reading.axis, words),
        });
      case 'passes':
        return say('leave.open.passes', { ...about, times: by.times });
      case 'way':
        return say('leave.open.way', { ...about, way: say(`way.${by.way}`) });
      case 'suspect':
      case 'planned':
        return say(`leave.open.${by.kind}`, about);
    }
  };
  const open = tolerances.filter(({ isDecided }) => !isDecided);
  return [...open, ...tolerances.filter(({ isDecided }) => isDecided)].map(text);
}

/** 0: they would not decide it. */
const passesOf = (settling: CharacteristicResult['settling']): number =>
  settling?.code === 'more-passes' ? Number(settling.data['times']) : 0;

function figureOf(
  made: Extract<CharacteristicResult, { value: number }>,
  k: number,
  unit: ReturnType<typeof unitFor>,
  words: Words,
): { value: string; limit: string } {
  const text = resultText(made, k, unit);
  return {
    value: figureText(made.signed, text, unit, words),
    limit: withUnit(limitWords(made, text.limit!, unit, words), unit),
  };
}
