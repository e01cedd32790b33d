/** The survey: set-ups, their ties, closures, instruments. */
import { greatestBy } from '../../../base/lists.js';
import {
  leftOpen,
  type ClosureResult,
  type LoopResult,
  type Quantity,
  type Results,
  type SetupResult,
} from '../../../results/results-schema.js';
import {
  plusMinus,
  positionText,
  roundTo,
  withUnit,
  type ReportUnit,
} from '../../../results/words/format-quantity.js';
import {
  isKnown,
  phasesOf,
  quantityText,
  quantityWithUnit,
  type Figures,
  type NamedPhase,
} from '../figures.js';
import { capitalised, sentence } from '../sentence.js';
import {
  cell,
  figure,
  figureHead,
  head,
  plain,
  rowHeader,
  table,
  tableIfAny,
  type Cell,
  type Column,
  type Table,
} from '../table.js';
import { axisText, whyText } from '../../words/names.js';
import { phrase } from '../../words/phrases.js';
import type { Words } from '../../words/words.js';
import { fromUmPerM } from '../../../base/units/units.js';
import { tableByPhase } from './by-phase.js';
import { readingText } from './effects.js';
import { conditions } from './method.js';
import { section } from './section.js';

/** Share of the target's range from which a reading is near the end of the range. */
const NEAR_RANGE = 0.8;

export const surveySection = section({
  id: 'survey',
  css: 'annex',
  make: ({ results, figures, number }) => {
    const phases = phasesOf(results);
    return {
      intro: results.survey.setups.length === 0 ? figures.say('survey.no-setups') : '',
      ...number.tables({
        setups: setupTable(results, figures),
        stood: stoodTable(results, phases, figures),
        drift: driftTable(phases, figures),
        ties: tieTable(phases, figures),
        loops: loopTable(phases, figures),
        closures: closureTable(phases, figures),
        instruments: instrumentTable(results, figures),
      }),
      conditions: conditions(results, figures),
    };
  },
});

function setupTable({ survey: { setups } }: Results, { say, units: { length } }: Figures): Table | null {
  return tableIfAny(
    say('setups.caption'),
    [
      [head(say('head.setup'), { css: 'short-text' }), ({ id }) => rowHeader(id, { css: 'id' })],
      [head(say('head.instrument')), ({ instrument }) => cell(instrument, { css: 'id' })],
      [figureHead(say('head.along'), length.label), ({ along }) => figure(positionText(along, length))],
      [figureHead(say('head.across'), length.label), ({ across }) => figure(positionText(across, length))],
      [
        head(say('head.level-plane')),
        ({ levelled }) =>
          cell(say(levelled ? 'setup.levelled' : 'setup.not-levelled'), { css: 'short-text' }),
      ],
      [
        head(say('head.positive')),
        ({ plus: { vertical, horizontal, along } }) =>
          cell([vertical, horizontal, along].map((way) => say(`way-of.${way}`)).join(', '), {
            css: 'short-text',
          }),
      ],
      setups.some(({ note }) => note) && [
        head(say('head.note'), { css: 'wide' }),
        ({ note }) => cell(note ?? '', { css: 'wide' }),
      ],
    ],
    plain(setups),
    { css: 'setups' },
  );
}

const ANGLES = ['yaw', 'pitch', 'roll'] as const;

function stoodTable(results: Results, phases: readonly NamedPhase[], figures: Figures): Table | null {
  const { say } = figures;
  const slope = figures.units.slope.label;
  const setups = phases.flatMap(({ phase }) => phase.setups);
  const why = setups.flatMap((setup) =>
    ANGLES.flatMap((angle) => {
      const quantity = setup[angle];
      if (quantity.value !== null) return [];
      const about = { angle: say(`angle.${angle}`), setup: setup.id };
      return [capitalised(say('stood.why', { ...about, why: sentence(whyText(quantity, figures)) }))];
    }),
  );
  const datum = results.survey.rails.find((rail) => rail.datum)?.id ?? '';
  return tableByPhase<SetupResult>(phases, figures, {
    caption: say('stood.caption'),
    itemsOf: ({ phase }) => phase.setups,
    columns: [
      [head(say('head.setup'), { css: 'short-text' }), ({ id }) => rowHeader(id, { css: 'id' })],
      [figureHead(say('head.readings')), ({ readings }) => figure(figures.number(readings, 0))],
      ...ANGLES.map((angle): Column<SetupResult> => [
        head(say(`head.${angle}`), { unit: slope }),
        (setup) => cell(turned(setup[angle], angle, figures), { css: 'short-text' }),
      ]),
      [head(say('head.largest'), { css: 'wide' }), (setup) => largestCell(setup, figures)],
    ],
    css: 'stood',
    notes: [say('stood.note', { datum, expanded: figures.expanded }), ...new Set(why)],
  });
}

/** "3.1 ± 2.4 left" */
function turned(quantity: Quantity, angle: 'yaw' | 'pitch' | 'roll', figures: Figures): string {
  if (!isKnown(quantity)) return figures.say('not-determined');
  const text = quantityText(figures, { value: Math.abs(quantity.value), u: quantity.u }, figures.units.slope);
  if (!/[1-9]/.test(text.value)) return plusMinus(text);
  return figures.say(`turned.${angle}.${quantity.value > 0 ? 'plus' : 'minus'}`, { size: plusMinus(text) });
}

function largestCell(setup: SetupResult, figures: Figures): Cell {
  const read = (['vertical', 'horizontal', 'along'] as const).flatMap((axis) => {
    const um = setup.largest[axis];
    return um === null ? [] : [{ axis, um }];
  });
  const most = greatestBy(read, ({ um }) => um);
  if (most === null) return cell('–', { css: 'wide' });
  const { say } = figures;
  const largest = {
    axis: axisText(most.axis, figures),
    reading: readingText(most.um, figures, figures.number),
  };
  if (setup.rangeLimit === null) return cell(say('largest.no-range', largest), { css: 'wide' });
  const share = most.um / setup.rangeLimit;
  const of = { ...largest, range: readingText(setup.rangeLimit, figures), share: shareText(share, figures) };
  return cell(say(share > NEAR_RANGE ? 'largest.near-end' : 'largest', of), { css: 'wide' });
}

/** Drift of the planes of a set-up, if the job asks for it. */
function driftTable(phases: readonly NamedPhase[], figures: Figures): Table | null {
  const unit = figures.units.deviation;
  const { say } = figures;
  return tableByPhase(phases, figures, {
    caption: say('drift.caption'),
    itemsOf: ({ phase }) =>
      phase.setups.flatMap(({ id, drift = [] }) => drift.map((one) => ({ id, ...one }))),
    columns: [
      [head(say('head.setup'), { css: 'short-text' }), ({ id }) => rowHeader(id, { css: 'id' })],
      [head(say('head.plane')), ({ axis }) => cell(say(`plane.${axis}`))],
      [
        head(say('head.rate'), { unit: `${unit.label}/h` }),
        ({ rate }) =>
          cell(
            isKnown(rate)
              ? plusMinus(quantityText(figures, rate, unit, { signed: true }))
              : say('not-determined'),
            { css: 'short-text' },
          ),
      ],
      [
        head(say('head.against-u'), { css: 'wide' }),
        ({ rate, significant }) =>
          cell(
            rate.value === null
              ? whyText(rate, figures)
              : say(significant ? 'drift.significant' : 'drift.small'),
            { css: 'wide' },
          ),
      ],
    ],
    css: 'drift',
    notes: [say('drift.note')],
  });
}

const shareText = (share: number, { say, number }: Words): string =>
  share < 0.005 ? say('share.under-1') : `${number(100 * share, 0)}\u00a0%`;

function tieTable(phases: readonly NamedPhase[], figures: Figures): Table | null {
  const { say } = figures;
  const by = (text: string) => phrase(text, figures);
  return tableByPhase(phases, figures, {
    caption: say('ties.caption'),
    itemsOf: ({ phase }) => phase.ties,
    columns: [
      [head(say('head.carried')), ({ what }) => rowHeader(say(`tie.${what}`))],
      [head(say('head.from-to')), ({ from, to }) => cell(`${from} – ${to}`, { css: 'id' })],
      [
        head(say('head.by'), { css: 'wide' }),
        (tie) =>
          cell(
            tie.by.some((one) => one.includes('…'))
              ? tie.by.map(by).join(', ')
              : figures.list(tie.by.map(by)),
            { css: 'wide' },
          ),
      ],
      [
        figureHead(say('head.baseline'), figures.units.length.label),
        ({ baselineMm }) =>
          figure(baselineMm === null ? '–' : positionText(baselineMm, figures.units.length)),
      ],
      [
        head(say('head.difference'), { css: 'wide' }),
        ({ what, difference }) =>
          cell(
            difference.value === null
              ? say('not-determined.why', { why: whyText(difference, figures) })
              : quantityWithUnit(
                  figures,
                  difference,
                  figures.units[what === 'direction' ? 'slope' : 'deviation'],
                  {
                    signed: true,
                  },
                ),
            { css: 'wide' },
          ),
      ],
    ],
    css: 'ties',
    notes: [say('ties.note')],
  });
}

/** Greatest number of printed closures: the worst. */
const MOST_CLOSURES = 3;

function closureTable(phases: readonly NamedPhase[], figures: Figures): Table | null {
  const unit = figures.units.deviation;
  const worst = (list: readonly ClosureResult[]) =>
    [...list].sort((a, b) => leftOpen(b) / b.allowed - leftOpen(a) / a.allowed).slice(0, MOST_CLOSURES);
  const cut = phases.some(({ phase }) => phase.closures.length > MOST_CLOSURES);
  const withDrift = phases.some(({ phase }) => phase.closures.some(({ drift }) => drift !== undefined));
  const { say, number } = figures;
  const decimals = (one: ClosureResult) =>
    decimalsApart(unit.fromBase(leftOpen(one)), unit.fromBase(one.allowed), unit);
  return tableByPhase<ClosureResult>(phases, figures, {
    caption: say('closures.caption'),
    itemsOf: ({ phase }) => (cut ? worst(phase.closures) : phase.closures),
    columns: [
      [head(say('head.setup'), { css: 'short-text' }), ({ setup }) => rowHeader(setup, { css: 'id' })],
      [head(say('head.point-target')), ({ point, target }) => nameCell(`${point}, ${target}`)],
      [head(say('head.axis')), ({ axis }) => cell(axisText(axis, figures))],
      [figureHead(say('head.readings')), ({ looks }) => figure(String(looks))],
      [head(say('head.looks')), (one) => cell(timesText(one, figures), { css: 'short-text' })],
      [
        figureHead(say('head.closure'), unit.label),
        (one) => figure(number(unit.fromBase(one.closure), decimals(one), { signed: true })),
      ],
      withDrift && [
        figureHead(say('head.by-drift'), unit.label),
        (one) =>
          figure(
            one.drift === undefined ? '–' : number(unit.fromBase(one.drift), decimals(one), { signed: true }),
          ),
      ],
      [
        figureHead(say('head.allowed'), unit.label),
        (one) => figure(number(unit.fromBase(one.allowed), decimals(one))),
      ],
      [head(say('head.result')), (one) => resultCell(one, figures)],
    ],
    css: 'closures',
    notes: [
      say('closures.note', { coverage: figures.coverage }),
      ...(withDrift ? [say('closures.drift')] : []),
      ...(cut ? [say('closures.cut', { most: MOST_CLOSURES })] : []),
    ],
  });
}

const resultCell = ({ exceeded }: { readonly exceeded: boolean }, { say }: Words): Cell =>
  cell(say(exceeded ? 'result.exceeded' : 'result.within'), { css: exceeded ? 'strong' : '' });

/** Greatest number of printed loops: the worst. */
const MOST_LOOPS = 8;

function loopTable(phases: readonly NamedPhase[], figures: Figures): Table | null {
  const unit = figures.units.deviation;
  const { say, number } = figures;
  const decimals = ({ misclosure, allowed }: LoopResult) =>
    decimalsApart(unit.fromBase(Math.abs(misclosure)), unit.fromBase(allowed), unit);
  const cut = phases.some(({ phase }) => (phase.loops?.length ?? 0) > MOST_LOOPS);
  return tableByPhase<LoopResult>(phases, figures, {
    caption: say('loops.caption'),
    itemsOf: ({ phase }) => (phase.loops ?? []).slice(0, MOST_LOOPS),
    columns: [
      [
        head(say('head.loop'), { css: 'wide' }),
        ({ through }) => rowHeader(through.join(' – '), { css: 'wide' }),
      ],
      [figureHead(say('head.steps')), ({ steps }) => figure(String(steps))],
      [
        figureHead(say('head.closure'), unit.label),
        (loop) => figure(number(unit.fromBase(loop.misclosure), decimals(loop), { signed: true })),
      ],
      [
        figureHead(say('head.allowed'), unit.label),
        (loop) => figure(number(unit.fromBase(loop.allowed), decimals(loop))),
      ],
      [head(say('head.result')), (loop) => resultCell(loop, figures)],
    ],
    css: 'closures',
    notes: [
      say('loops.note', { coverage: figures.coverage }),
      ...(cut ? [say('loops.cut', { most: MOST_LOOPS })] : []),
    ],
  });
}

/** Decimals that show whether a size is within the allowance. */
function decimalsApart(size: number, allowed: number, unit: ReportUnit): number {
  let { decimals } = unit;
  const shown = (v: number) => roundTo(v, decimals);
  while (shown(size) > shown(allowed) !== size > allowed && decimals < unit.decimals + 6) decimals++;
  return decimals;
}

/** Longest name that stays on one line. */
const SHORT_NAME = 16;
const nameCell = (name: string): Cell => cell(name, { css: name.length <= SHORT_NAME ? 'short-text' : 'id' });

/** "2026-03-14T08:12 to 10:02": the day is printed once, and seconds only if the minutes are equal. */
function timesText({ first, last }: ClosureResult, { say, day: dayText }: Words): string {
  if (first.time === null && last.time === null) return say('times.not-recorded');
  const [from, to] = [first.time ?? say('not-recorded'), last.time ?? say('not-recorded')];
  if (from === to) return dayText(from);
  const minutes = (time: string) => time.replace(/(T\d{2}:\d{2}):\d{2}(?:\.\d+)?$/, '$1');
  const brief = minutes(from) === minutes(to) ? (time: string) => time : minutes;
  const day = /^\d{4}-\d{2}-\d{2}T/.exec(from)?.[0];
  const until = brief(to);
  return say('range', {
    from: dayText(brief(from)),
    to: day !== undefined && until.startsWith(day) ? until.slice(day.length) : dayText(until),
  });
}

type Instrument = Results['survey']['instruments'][number];

function instrumentTable({ survey: { instruments } }: Results, figures: Figures): Table {
  const { say } = figures;
  return table(
    say('instruments.caption'),
    [
      [head(say('head.instrument')), ({ id }) => rowHeader(id, { css: 'id' })],
      [
        head(say('head.description'), { css: 'wide' }),
        ({ description }) =>
          cell(description ?? say('not-recorded'), { css: description ? 'wide' : 'wide quiet' }),
      ],
      [head(say('fact.serial')), ({ serial }) => recorded(serial, figures)],
      [head(say('head.certificate')), (one) => certificateCell(one, figures)],
      [head(say('head.due')), (one) => dueCell(one, figures)],
      [head(say('head.stated-u'), { css: 'wide' }), (one) => cell(claims(one, figures), { css: 'wide' })],
    ],
    plain(instruments),
    { css: 'instruments', notes: instruments.map((one) => traceSentence(one, figures)) },
  );
}

/** @see ISO/IEC 17025:2017, 6.5 and 7.8.4.1 e: traceability of the readings. */
const traceSentence = ({ id, certificate, calibrated }: Instrument, { say, day }: Words): string =>
  certificate === null
    ? say('trace.none', { instrument: id })
    : say('trace.instrument', {
        instrument: id,
        certificate,
        laboratory: calibrated?.by ?? 'none',
        day: calibrated?.on ? day(calibrated.on) : 'none',
      });

const recorded = (text: string | null, { say }: Words): Cell =>
  text === null ? cell(say('not-recorded'), { css: 'quiet' }) : nameCell(text);

/** The certificate's number; below it the laboratory and the day. */
function certificateCell({ certificate, calibrated }: Instrument, words: Words): Cell {
  const detail = [calibrated?.by, calibrated?.on && words.day(calibrated.on)]
    .filter((part) => part)
    .join(', ');
  if (detail === '') return recorded(certificate, words);
  return cell(certificate ?? words.say('not-recorded'), { detail, css: certificate === null ? 'quiet' : '' });
}

function dueCell(instrument: Instrument, { say, day }: Words): Cell {
  if (instrument.calibrationDue === null) return cell(say('not-recorded'), { css: 'quiet' });
  const detail =
    instrument.overdue === null ? say('due.no-days') : instrument.overdue ? say('due.overdue') : '';
  return cell(day(instrument.calibrationDue), { detail, css: instrument.overdue ? 'date strong' : 'date' });
}

const METRES_PER_FOOT = 0.3048;

/** Growth of a reading's uncertainty, per foot in a report in inches. */
function perDistance(perMetreUm: number, { units, say, trimmed }: Figures): string {
  const inFeet = units.length.label === 'in' || units.length.label === 'ft';
  const um = inFeet ? perMetreUm * METRES_PER_FOOT : perMetreUm;
  const size = trimmed(units.deviation.fromBase(um), units.deviation.decimals + 1);
  return say('claim.per-distance', {
    size: withUnit(size, units.deviation),
    unit: inFeet ? 'ft' : 'm',
  });
}

function claims(instrument: Instrument, figures: Figures): string {
  const { say, trimmed } = figures;
  const { deviation, slope } = figures.units;
  const unit = instrument.measures === 'length' ? deviation : slope;
  // Stated by people: as few digits as they have, one more decimal than a result for small ones.
  const stated = (value: number, as: ReportUnit) =>
    withUnit(trimmed(as.fromBase(value), as.decimals + 1), as);
  const { resolution } = instrument;
  const reading = stated(instrument.readingU, unit);
  const parts = [
    resolution === undefined
      ? say('claim.reading', { u: reading })
      : say('claim.reading-display', { u: reading, display: stated(resolution, unit) }),
  ];
  if (instrument.perMetreU > 0) parts.push(perDistance(instrument.perMetreU, figures));
  // Manufacturers state them in seconds of arc.
  const angle = (umPerM: number) =>
    slope.label === 'arcsec'
      ? stated(umPerM, slope)
      : `${stated(umPerM, slope)} (${trimmed(fromUmPerM(umPerM, 'arcsec'), 2)}\u00a0arcsec)`;
  if (instrument.levelU !== null) parts.push(say('claim.level', { u: angle(instrument.levelU) }));
  if (instrument.squareU !== null) parts.push(say('claim.square', { u: angle(instrument.squareU) }));
  const drift = instrument.driftU;
  if (drift !== null) parts.push(say('claim.drift', { u: stated(drift, deviation) }));
  if (instrument.rangeLimit !== null)
    parts.push(
      say('claim.range', {
        range:
          instrument.measures === 'length'
            ? readingText(instrument.rangeLimit, figures)
            : stated(instrument.rangeLimit, slope),
      }),
    );
  return figures.parts(parts);
}
