/** Effects that readings share (air, cone, targets): what is in the intervals, and the size that would matter. */
import { leastBy } from '../../../base/lists.js';
import type {
  CharacteristicResult,
  PhaseResults,
  Results,
  UnstatedEffect,
  UnstatedSource,
} from '../../../results/results-schema.js';
import { lastPhase, twoDigits, type Figures } from '../figures.js';
import {
  roundUncertainty,
  unitFor,
  withUnit,
  type ReportUnit,
} from '../../../results/words/format-quantity.js';
import { axisText } from '../../words/names.js';
import { phrase } from '../../words/phrases.js';

type EffectUnit = UnstatedEffect['unit'];

/** Lengths and slopes are printed in the units of the report; other units are the same in each report. */
const shownIn = (unit: EffectUnit, { units }: Figures): Pick<ReportUnit, 'label' | 'fromBase'> =>
  unit === 'um' || unit === 'um/m' ? unitFor(units, unit) : { label: unit, fromBase: (value) => value };

/** A size to two digits, with its unit. */
export function sizeText(size: number, unit: EffectUnit, figures: Figures): string {
  const { label, fromBase } = shownIn(unit, figures);
  return `${size === 0 ? '0' : twoDigits(fromBase(size), figures)}\u00a0${label}`;
}

/** Rounded as every value with its expanded uncertainty. */
function foundText(value: number, expanded: number, unit: EffectUnit, figures: Figures): string {
  const { number } = figures;
  const { label, fromBase } = shownIn(unit, figures);
  const rounded = roundUncertainty(fromBase(expanded));
  return `${number(fromBase(value), rounded.decimals)}\u00a0±\u00a0${number(rounded.value, rounded.decimals)}\u00a0${label}`;
}

/** A nanometre: no reading of this kind shows less. */
const LEAST_UM = 0.001;

/**
 * Large readings are printed in the unit of positions, because they are not results.
 *
 * @param write For a column: the same decimals in every row.
 */
export function readingText(um: number, figures: Figures, write = figures.trimmed): string {
  const { length, deviation } = figures.units;
  const [inLength, small] = [length.fromBase(um / 1000), deviation.fromBase(um)];
  if (deviation.label !== length.label && Math.abs(small) >= 1000)
    return withUnit(figures.trimmed(inLength, length.label === 'in' ? 3 : 2), length);
  const text = write(small, deviation.decimals);
  // What is smaller is left by rounding.
  return withUnit(
    /^0(?:[.,]0*)?$/.test(text) && Math.abs(um) >= LEAST_UM
      ? figures.number(small, Math.ceil(-Math.log10(Math.abs(small))))
      : text,
    deviation,
  );
}

/** The characteristic whose verdict the effect would change first; null: no possible size changes one. */
function firstToChange(
  { characteristics }: PhaseResults,
  source: UnstatedSource,
): { readonly made: CharacteristicResult; readonly upTo: number } | null {
  const turns = characteristics.flatMap((made) => {
    const upTo = made.holdsUpTo?.find((h) => h.source === source)?.upTo;
    return upTo === undefined ? [] : [{ made, upTo }];
  });
  return leastBy(turns, ({ upTo }) => upTo);
}

/** For the section on the method: stated effects with their estimates, and effects that are not stated, with their size. */
export function effectSentences(results: Results, figures: Figures): string {
  const { say } = figures;
  const { phase } = lastPhase(results);
  const { effects: stated = [], unstated = [] } = phase;
  if (stated.length + unstated.length === 0) return '';
  const some = stated.slice(0, 12).map(({ kind, of, setup, unit, value, u, statedU }) =>
    say('effects.found', {
      effect: say('effects.of', {
        kind,
        of: axisText(phrase(of.replace(/^cone-/, ''), figures), figures),
        setup: setup ?? 'none',
      }),
      stated: sizeText(statedU, unit, figures),
      found: foundText(value, figures.k * u, unit, figures),
    }),
  );
  const others = unstated.map(({ source, unit, size, readingUm, rail, station }) => {
    const first = firstToChange(phase, source);
    return say('effects.would', {
      source: say(`effect.${source}`),
      size: sizeText(size, unit, figures),
      reading: readingText(readingUm, figures),
      at: `${rail}:${station}`,
      holds: first === null ? 'none' : sizeText(first.upTo, unit, figures),
    });
  });
  return [
    say('effects.physics'),
    ...(some.length === 0
      ? []
      : [say('effects.stated', { list: some.join('; '), more: stated.length - some.length })]),
    ...(others.length === 0 ? [] : [say('effects.unstated', { list: others.join('; ') })]),
  ].join(' ');
}
