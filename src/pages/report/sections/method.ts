/** How the figures were calculated and how to read them, for a customer and for an auditor years later. */
import { rulesOf } from '../../../results/rules.js';
import type { PhaseResults } from '../../../results/results-schema.js';
import type { Results } from '../../../results/results-schema.js';
import { positionText, withUnit } from '../../../results/words/format-quantity.js';
import { hasTolerances } from '../document-title.js';
import { lastPhase, phasesOf, twoDigits, type Figures } from '../figures.js';
import { withSigns, capitalised, sentence } from '../sentence.js';
import { fact, type Fact } from '../table.js';
import {
  characteristicOf,
  characteristics,
  meanings,
} from '../../../survey/characteristics/characteristics.js';
import { phaseText } from '../../words/names.js';
import type { Words } from '../../words/words.js';
import { riskText } from './judged-rows.js';
import { ruleSentence } from './rule-sentence.js';
import { STATE } from './cut.js';
import { effectSentences } from './effects.js';
import { otherTable } from './results-table.js';
import { section } from './section.js';
import { traceability } from './traceability.js';

export const methodSection = section({
  id: 'method',
  css: 'method annex',
  make: ({ results, figures, rows, brand, number }) => {
    const { facts, inputs, again } = traceability(results, figures);
    return {
      ...method(results, figures),
      facts,
      again,
      inputs: number.table(inputs),
      // Without a limit they are the results.
      others: rows.length === 0 ? null : number.table(otherTable(results, figures)),
      terms: brand?.document.terms ?? null,
    };
  },
});

function method(results: Results, figures: Figures) {
  const { say } = figures;
  const present = new Set(
    phasesOf(results).flatMap(({ phase }) => phase.characteristics.map((made) => made.what)),
  );
  const topic = (label: string, text: string): Fact => ({ label, text: withSigns(text), quiet: false });
  const optional = (label: string, text: string) => (text === '' ? [] : [topic(label, text)]);
  return {
    topics: [
      topic(say('method.solution'), say('method.solution.text')),
      ...(hasTolerances(results) ? [topic(say('method.rule'), ruleWords(results, figures))] : []),
      topic(say('method.signs'), say('method.signs.text')),
      topic(say('method.lines'), say('method.lines.text')),
      topic(
        say('method.uncertainty'),
        say('method.uncertainty.text', { expanded: figures.expanded, coverage: figures.coverage }),
      ),
      topic(say('method.rounding'), say('method.rounding.text')),
      topic(say('method.curvature'), curvatureWords(results, figures)),
      ...optional(say('method.effects'), effectSentences(results, figures)),
      ...optional(say('method.span'), spanWords(results, figures)),
      ...optional(say('method.bow'), bowWords(results, figures)),
      topic(say('method.carriage'), say('method.carriage.text')),
    ],
    meanings: meanings.flatMap((one) => {
      const described = characteristics.find(({ name, meaning }) => meaning === one && present.has(name));
      if (described === undefined) return [];
      const { clause } = characteristicOf(described.name);
      const name = say(`meaning.${one}`);
      const label = clause === null ? name : say('meaning.clause', { name, clause });
      return [topic(label, say(`meaning.${one}.text`))];
    }),
  };
}

/** Acceptance is proven at the risk stated, rejection at what the interval leaves. @see JCGM 106:2012, 8.2 and 8.3 */
function ruleWords(results: Results, figures: Figures): string {
  const { coverage, guardBand } = results.settings;
  const rules = rulesOf(results);
  const { say } = figures;
  const sentences = !rules.has('guarded')
    ? [say('rule.open')]
    : [
        ...(guardBand === undefined ? [] : [say('rule.band', { band: figures.trimmed(guardBand, 2) })]),
        say('rule.rejection', { risk: riskText(1 - coverage, figures) }),
      ];
  return [capitalised(ruleSentence(results, figures)), ...sentences, say('rule.signed')].join(' ');
}

function curvatureWords(results: Results, figures: Figures): string {
  const { lengthMm, sagittaUm } = results.curvature;
  const unit = figures.units.deviation;
  // Calculated with the mean radius of the earth: two digits are enough.
  const size = (um: number) => withUnit(um > 0 ? twoDigits(unit.fromBase(um), figures) : '0', unit);
  const length = withUnit(positionText(lengthMm, figures.units.length), figures.units.length);
  return figures.say('curvature', {
    length,
    middle: size(sagittaUm),
    end: size(4 * sagittaUm),
    corrected: String(results.corrections.earthCurvature),
  });
}

/** The reduction of spans to 20 °C, if the job asks for it or a span is reported without it. */
function spanWords({ corrections, phases }: Results, { say, trimmed }: Words): string {
  const { spanAt20 } = corrections;
  if (spanAt20) {
    const perKelvin = (expansion: number) => `${trimmed(expansion * 1e6, 2)}\u00a0ppm/K`;
    return say('span.reduced', {
      from: `${trimmed(spanAt20.temperatureC, 1)}\u00a0°C`,
      machine: perKelvin(spanAt20.machine),
      instrument: perKelvin(spanAt20.instrument),
    });
  }
  const reported = Object.values(phases).some(({ characteristics }) =>
    characteristics.some(({ what, value }) => what === 'span' && value !== null),
  );
  return reported ? say('span.as-measured') : '';
}

/** The effect of temperature on a rail: a caution, with its size. */
function bowWords(results: Results, figures: Figures): string {
  const unit = figures.units.deviation;
  const { say, trimmed } = figures;
  const bows = results.corrections.thermalBow.map(({ rail, topWarmerByK, bowUm }) =>
    say('bow', {
      rail,
      kelvin: `${trimmed(Math.abs(topWarmerByK), 2)}\u00a0K`,
      side: topWarmerByK < 0 ? 'colder' : 'warmer',
      way: bowUm === 0 ? 'none' : bowUm > 0 ? 'up' : 'down',
      bow: bowUm === 0 ? '' : withUnit(twoDigits(unit.fromBase(Math.abs(bowUm)), figures), unit),
    }),
  );
  return bows.length === 0 ? '' : [...bows, say('bow.nothing')].join(' ');
}

/** The state of machine and surroundings in which the judged phase was read. */
export function stateOf(results: Results, figures: Figures): string | null {
  const { phase } = lastPhase(results);
  const { temperatureC, conditionsNote } = results.subject;
  const temperature = phase.facts?.temperatureC ?? temperatureC;
  const parts = [
    temperature && temperatureWords(temperature, figures),
    phase.facts?.machineState,
    phase.facts?.note ?? conditionsNote,
  ].filter(Boolean);
  return parts.length === 0 ? null : parts.join('. ');
}

/** Conditions of each phase, and the note that page 1 has no room for. */
export function conditions(results: Results, figures: Figures): Fact[] {
  const { conditionsNote } = results.subject;
  const { say } = figures;
  const isCut = (stateOf(results, figures) ?? '').length > STATE;
  const ofPhases = phasesOf(results).flatMap(({ name, phase }) => phaseFacts(name, phase, figures));
  return [...(isCut ? [fact(say('head.note'), conditionsNote, say('not-recorded'))] : []), ...ofPhases];
}

/** Records of one phase in one line; none if there are none. */
function phaseFacts(name: string, { facts }: PhaseResults, figures: Figures): Fact[] {
  if (facts === undefined) return [];
  const { surveyed, temperatureC, note, machineState, instruments } = facts;
  const { say, day } = figures;
  const by = [surveyed.by, surveyed.on && day(surveyed.on)].filter(Boolean).join(', ');
  const words = [
    by === '' ? '' : say('phase.surveyed', { by }),
    temperatureC === null ? '' : temperatureWords(temperatureC, figures),
    machineState === null ? '' : say('phase.machine', { state: machineState }),
    instruments.length === 0 ? '' : say('phase.instruments', { list: instruments.join(', ') }),
    note ?? '',
  ].filter((part) => part !== '');
  return [fact(capitalised(phaseText(name, figures)), figures.parts(words), say('not-recorded'))];
}

/** The different conditions of the phases; empty if no difference is known. */
export function differingConditions(results: Results, figures: Figures): string[] {
  const phases = phasesOf(results).filter(({ phase }) => phase.facts !== undefined);
  if (phases.length < 2) return [];
  const { say } = figures;
  const differs = (
    of: 'machine' | 'temperature' | 'instruments',
    pick: (facts: NonNullable<PhaseResults['facts']>) => string | null,
  ) => {
    const said = phases.map(({ name, phase }) => ({ name, text: pick(phase.facts!) }));
    if (new Set(said.map(({ text }) => text)).size < 2) return [];
    return [
      say(`differs.${of}`, {
        list: said
          .map(({ name, text }) =>
            say('differs.phase', { phase: phaseText(name, figures), text: text ?? say('not-recorded') }),
          )
          .join('; '),
      }),
    ];
  };
  const parts = [
    ...differs('machine', (facts) => facts.machineState),
    ...differs('temperature', ({ temperatureC }) => temperatureC && temperatureWords(temperatureC, figures)),
    ...differs('instruments', ({ instruments }) =>
      instruments.length === 0 ? null : instruments.join(', '),
    ),
  ];
  return parts.length === 0 ? [] : [say('differs', { parts: sentence(parts.join('. ')) })];
}

export function temperatureWords({ from, to }: { from: number; to: number }, figures: Figures): string {
  const range = (inUnit: (c: number) => number, unit: string) => {
    const [first, last] = [figures.number(inUnit(from), 1), figures.number(inUnit(to), 1)];
    return `${first === last ? first : figures.say('range', { from: first, to: last })}\u00a0${unit}`;
  };
  const celsius = range((c) => c, '°C');
  const inch = figures.units.length.label === 'in' || figures.units.length.label === 'ft';
  return inch ? `${range((c) => (c * 9) / 5 + 32, '°F')} (${celsius})` : celsius;
}
