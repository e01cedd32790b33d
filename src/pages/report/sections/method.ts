/** How the figures were made and how to read them; what a customer and an auditor ask years later. */
import type { PhaseResults } from '../../../results/results-schema.js';
import type { Results } from '../../../results/results-schema.js';
import { measuredText, positionText, trimmedText, withUnit } from '../../../results/words/format-quantity.js';
import { hasTolerances } from '../document-title.js';
import { phasesOf, type Figures } from '../figures.js';
import { withSigns, capitalised, sentence } from '../sentence.js';
import { fact, type Fact } from '../table.js';
import {
  characteristicMeanings,
  INTERVAL_SENTENCE,
  NOT_RECORDED,
  SIGN_CONVENTION,
  phaseWords,
} from '../../../results/words/texts.js';
import { riskText } from './judged-rows.js';
import { ruleSentence } from './rule-sentence.js';
import { effectSentences } from './effects.js';

export interface Method {
  readonly topics: readonly Fact[];
  readonly meanings: readonly Fact[];
}

export function method(results: Results, figures: Figures): Method {
  const present = new Set(
    phasesOf(results).flatMap(({ phase }) => phase.characteristics.map((made) => made.what)),
  );
  const topic = (label: string, text: string): Fact => ({ label, text: withSigns(text), quiet: false });
  const optional = (label: string, text: string) => (text === '' ? [] : [topic(label, text)]);
  return {
    topics: [
      topic(
        'Solution',
        'All readings of a phase are solved together by weighted least squares, each with the uncertainty stated for its instrument; heights and offsets of the stations, the lie of every beam and the targets’ own offsets are unknowns alike. Each phase is solved by itself.',
      ),
      ...(hasTolerances(results) ? [topic('Decision rule', ruleWords(results, figures))] : []),
      topic('Signs', SIGN_CONVENTION),
      topic(
        'Reference lines',
        'Least squares: the sum of the squared departures is least. Minimum zone: the narrowest strip that holds all stations. End points: through the first and the last station. Straightness does not depend on how level the rail lies.',
      ),
      topic(
        'Uncertainty',
        `u is a standard uncertainty (k\u00a0=\u00a01), ${figures.expanded} an expanded one, of about ${figures.coverage} coverage. ${INTERVAL_SENTENCE}`,
      ),
      topic(
        'Rounding',
        'Verdicts are made on unrounded figures. In print an uncertainty has two significant digits (rounded up where nearest would make it more than 2.5 % smaller) and a value as many decimals as its uncertainty; more are printed only where fewer would hide on which side of a limit a figure lies.',
      ),
      topic('Earth’s curvature', curvatureWords(results, figures)),
      ...optional('Air, cone, targets', effectSentences(results, figures)),
      ...optional('Length at 20 °C', spanWords(results)),
      ...optional('Warm top, cold foot', bowWords(results, figures)),
      topic(
        'Rail, not carriage',
        'The figures describe the rails at the stations that were read, not the motion of a carriage on them, nor the rail between stations.',
      ),
    ],
    meanings: characteristicMeanings
      .filter(({ names }) => names.some((name) => present.has(name)))
      .map(({ label, text }) => topic(label, text)),
  };
}

/** Acceptance is proven at the risk stated, rejection at what the interval leaves. @see JCGM 106:2012, 8.2 and 8.3 */
function ruleWords(results: Results, figures: Figures): string {
  const { rule, coverage, guardBand } = results.settings;
  const signed =
    'A signed figure is judged by its distance from the middle of its zone; of limits to two sides the end that lies nearest to its own limit decides.';
  if (rule === 'simple')
    return `${ruleSentence(results, figures)} Undecided is only what the readings do not determine. ${signed}`;
  const band = guardBand === undefined ? '' : ` The guard band is ${trimmedText(guardBand, 2)} U.`;
  return `${ruleSentence(results, figures)}${band} A row does not conform where its lower end lies outside; the risk of wrong rejection is then at most ${riskText(1 - coverage)}. Between the two it is undecided. The risk in a row of Table 1 is the least level at which the same proof still decides it. ${signed}`;
}

function curvatureWords(results: Results, figures: Figures): string {
  const { lengthMm, sagittaUm } = results.curvature;
  const unit = figures.units.deviation;
  // A computed figure, good to the mean radius of the earth: two digits say enough.
  const size = (um: number) => (um > 0 ? withUnit(twoDigits(unit.fromBase(um)), unit) : withUnit('0', unit));
  const length = withUnit(positionText(lengthMm, figures.units.length), figures.units.length);
  const done = results.corrections.earthCurvature
    ? 'What follows the level surface was corrected for it: heights are given from a straight line.'
    : 'No correction was made for it.';
  return `A beam is straight, a level surface is not. Over ${length}, the longest rail, they part by ${size(sagittaUm)} in the middle of a chord, or by ${size(4 * sagittaUm)} at the far end of a line that starts out level. ${done}`;
}

/** Spans at 20 °C, where the job asks for it or where a span is reported without. */
function spanWords({ corrections, phases }: Results): string {
  const { spanAt20 } = corrections;
  if (spanAt20) {
    const perKelvin = (expansion: number) => `${trimmedText(expansion * 1e6, 2)}\u00a0ppm/K`;
    return `Distances across were reduced to 20\u00a0°C from ${trimmedText(spanAt20.temperatureC, 1)}\u00a0°C, with an expansion of ${perKelvin(spanAt20.machine)} for the machine and ${perKelvin(spanAt20.instrument)} for the instrument.`;
  }
  const reported = Object.values(phases).some(({ characteristics }) =>
    characteristics.some(({ what, value }) => what === 'span' && value !== null),
  );
  return reported ? 'Distances across are given as measured, not reduced to 20\u00a0°C.' : '';
}

/** What temperature alone would do to a rail: a caution, with its size. */
function bowWords(results: Results, figures: Figures): string {
  const unit = figures.units.deviation;
  const bows = results.corrections.thermalBow.map(({ rail, topWarmerByK, bowUm }) => {
    const bow =
      bowUm === 0
        ? 'not bow it'
        : `bow it ${withUnit(twoDigits(unit.fromBase(Math.abs(bowUm))), unit)} ${bowUm > 0 ? 'up' : 'down'} in the middle`;
    const warmer = `${trimmedText(Math.abs(topWarmerByK), 2)}\u00a0K ${topWarmerByK < 0 ? 'colder' : 'warmer'}`;
    return `Rail ${rail}: a top that is ${warmer} than its foot would by itself ${bow}.`;
  });
  return bows.length === 0 ? '' : `${bows.join(' ')} Nothing was corrected for it.`;
}

const twoDigits = (x: number): string =>
  measuredText(x, x, { label: '', fromBase: (v) => v, decimals: 2 }).value;

/** @param isCut Whether page 1 has not all of it. */
export function conditions(results: Results, figures: Figures, isCut: boolean): Fact[] {
  const { conditionsNote } = results.subject;
  const ofPhases = phasesOf(results).flatMap(({ name, phase }) => phaseFacts(name, phase, figures));
  return [...(isCut ? [fact('Note', conditionsNote, NOT_RECORDED)] : []), ...ofPhases];
}

/** What is recorded of one phase alone, in one line; none where nothing is. */
function phaseFacts(name: string, { facts }: PhaseResults, figures: Figures): Fact[] {
  if (facts === undefined) return [];
  const { surveyed, temperatureC, note, machineState, instruments } = facts;
  const by = [surveyed.by, surveyed.on].filter((part) => part !== null).join(', ');
  const words = [
    by === '' ? '' : `surveyed by ${by}`,
    temperatureC === null ? '' : temperatureWords(temperatureC, figures),
    machineState === null ? '' : `machine: ${machineState}`,
    instruments.length === 0 ? '' : `instruments ${instruments.join(', ')}`,
    note ?? '',
  ].filter((part) => part !== '');
  return [fact(capitalised(phaseWords(name)), words.join('; '), NOT_RECORDED)];
}

/** That the phases were not surveyed under the same conditions: what differs; [] where nothing is known to. */
export function differingConditions(results: Results, figures: Figures): string[] {
  const phases = phasesOf(results).filter(({ phase }) => phase.facts !== undefined);
  if (phases.length < 2) return [];
  const differs = (of: string, pick: (facts: NonNullable<PhaseResults['facts']>) => string | null) => {
    const said = phases.map(({ name, phase }) => ({ name, text: pick(phase.facts!) }));
    if (new Set(said.map(({ text }) => text)).size < 2) return [];
    return [
      `${capitalised(of)}: ${said.map(({ name, text }) => `${phaseWords(name)} ${text ?? NOT_RECORDED}`).join('; ')}`,
    ];
  };
  const parts = [
    ...differs('machine', (facts) => facts.machineState),
    ...differs('temperature', ({ temperatureC }) => temperatureC && temperatureWords(temperatureC, figures)),
    ...differs('instruments', ({ instruments }) =>
      instruments.length === 0 ? null : instruments.join(', '),
    ),
  ];
  return parts.length === 0
    ? []
    : [
        `The phases were not surveyed under the same conditions; a change between them may be due to that. ${sentence(parts.join('. '))}`,
      ];
}

export function temperatureWords({ from, to }: { from: number; to: number }, figures: Figures): string {
  const range = (inUnit: (c: number) => number, unit: string) => {
    const [first, last] = [oneDecimal(inUnit(from)), oneDecimal(inUnit(to))];
    return `${first === last ? first : `${first} to ${last}`}\u00a0${unit}`;
  };
  const celsius = range((c) => c, '°C');
  const inch = figures.units.length.label === 'in' || figures.units.length.label === 'ft';
  return inch ? `${range((c) => (c * 9) / 5 + 32, '°F')} (${celsius})` : celsius;
}

const oneDecimal = (x: number): string =>
  measuredText(x, 0, { label: '', fromBase: (v) => v, decimals: 1 }).value;
