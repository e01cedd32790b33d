/** How the survey was made: set-ups, how they were tied together, closures, instruments. */
import {
  leftOpen,
  type ClosureResult,
  type Quantity,
  type Results,
  type SetupResult,
  type TieResult,
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
import { sentence } from '../sentence.js';
import {
  cell,
  figure,
  figureHead,
  head,
  row,
  rowHeader,
  table,
  type Cell,
  type Row,
  type Table,
} from '../table.js';
import { axisText, whyText } from '../../words/names.js';
import { phrase } from '../../words/phrases.js';
import type { Words } from '../../words/words.js';
import { fromUmPerM } from '../../../base/units/units.js';
import { byPhase } from './by-phase.js';

/** Beyond this share of the target's range a reading is near the end of it. */
const NEAR_RANGE = 0.8;

export interface Survey {
  readonly intro: string;
  readonly setups: Table | null;
  readonly stood: Table | null;
  readonly drift: Table | null;
  readonly ties: Table | null;
  readonly closures: Table | null;
  readonly loops: Table | null;
  readonly instruments: Table;
}

export function survey(results: Results, figures: Figures): Survey {
  const phases = phasesOf(results);
  return {
    intro: results.survey.setups.length === 0 ? figures.say('survey.no-setups') : '',
    setups: setupTable(results, figures),
    stood: stoodTable(results, phases, figures),
    drift: driftTable(phases, figures),
    ties: tieTable(phases, figures),
    closures: closureTable(phases, figures),
    loops: loopTable(phases, figures),
    instruments: instrumentTable(results, figures),
  };
}

function setupTable(results: Results, figures: Figures): Table | null {
  const { setups } = results.survey;
  const { say } = figures;
  if (setups.length === 0) return null;
  const unit = figures.units.length;
  const noted = setups.some((setup) => setup.note);
  const rows = setups.map((setup) =>
    row([
      rowHeader(setup.id, { css: 'id' }),
      cell(setup.instrument, { css: 'id' }),
      figure(positionText(setup.along, unit)),
      figure(positionText(setup.across, unit)),
      cell(say(setup.levelled ? 'setup.levelled' : 'setup.not-levelled'), { css: 'short-text' }),
      cell(
        [setup.plus.vertical, setup.plus.horizontal, setup.plus.along]
          .map((way) => say(`way-of.${way}`))
          .join(', '),
        { css: 'short-text' },
      ),
      ...(noted ? [cell(setup.note ?? '', { css: 'wide' })] : []),
    ]),
  );
  const heads = [
    head(say('head.setup'), { css: 'short-text' }),
    head(say('head.instrument')),
    figureHead(say('head.along'), unit.label),
    figureHead(say('head.across'), unit.label),
    head(say('head.level-plane')),
    head(say('head.positive')),
    ...(noted ? [head(say('head.note'), { css: 'wide' })] : []),
  ];
  return table(say('setups.caption'), [heads], [{ title: '', rows }], { css: 'setups' });
}

function stoodTable(results: Results, phases: readonly NamedPhase[], figures: Figures): Table | null {
  const { say } = figures;
  const rows = byPhase(phases, figures, ({ phase }) => phase.setups.map((setup) => stoodRow(setup, figures)));
  if (rows.groups.length === 0) return null;
  const slope = figures.units.slope.label;
  const why = new Set(
    phases.flatMap(({ phase }) =>
      phase.setups.flatMap((setup) =>
        (['yaw', 'pitch', 'roll'] as const).flatMap((name) => {
          const quantity = setup[name];
          return quantity.value === null
            ? [
                say('stood.why', {
                  angle: say(`angle.${name}`),
                  setup: setup.id,
                  why: sentence(whyText(quantity, figures)),
                }),
              ]
            : [];
        }),
      ),
    ),
  );
  const heads = [
    head(say('head.setup'), { css: 'short-text' }),
    figureHead(say('head.readings')),
    head(say('head.yaw'), { unit: slope }),
    head(say('head.pitch'), { unit: slope }),
    head(say('head.roll'), { unit: slope }),
    head(say('head.largest'), { css: 'wide' }),
  ];
  const datum = results.survey.rails.find((rail) => rail.datum)?.id ?? '';
  return table(say('stood.caption'), [[...rows.head, ...heads]], rows.groups, {
    css: 'stood',
    notes: [say('stood.note', { datum, expanded: figures.expanded }), ...why],
  });
}

function stoodRow(setup: SetupResult, figures: Figures): Row {
  return row([
    rowHeader(setup.id, { css: 'id' }),
    figure(figures.number(setup.readings, 0)),
    cell(turned(setup.yaw, 'yaw', figures), { css: 'short-text' }),
    cell(turned(setup.pitch, 'pitch', figures), { css: 'short-text' }),
    cell(turned(setup.roll, 'roll', figures), { css: 'short-text' }),
    largestCell(setup, figures),
  ]);
}

/** "3.1 ± 2.4 left" */
function turned(quantity: Quantity, angle: 'yaw' | 'pitch' | 'roll', figures: Figures): string {
  if (!isKnown(quantity)) return figures.say('not-determined');
  const text = quantityText(figures, { value: Math.abs(quantity.value), u: quantity.u }, figures.units.slope);
  if (!/[1-9]/.test(text.value)) return plusMinus(text);
  return figures.say(`turned.${angle}.${quantity.value > 0 ? 'plus' : 'minus'}`, { size: plusMinus(text) });
}

/** Readings of some size are told in the unit of positions, for they are not results. */
export function readingText(um: number, figures: Figures): string {
  const { length, deviation } = figures.units;
  const inLength = length.fromBase(um / 1000);
  return deviation.label !== length.label && Math.abs(deviation.fromBase(um)) >= 1000
    ? withUnit(figures.trimmed(inLength, length.label === 'in' ? 3 : 2), length)
    : withUnit(figures.trimmed(deviation.fromBase(um), deviation.decimals), deviation);
}

function largestCell(setup: SetupResult, figures: Figures): Cell {
  const read = (['vertical', 'horizontal', 'along'] as const).flatMap((axis) => {
    const um = setup.largest[axis];
    return um === null ? [] : [{ axis, um }];
  });
  if (read.length === 0) return cell('–', { css: 'wide' });
  const most = read.reduce((a, b) => (b.um > a.um ? b : a));
  const { say } = figures;
  const largest = { axis: axisText(most.axis, figures), reading: readingText(most.um, figures) };
  if (setup.rangeLimit === null) return cell(say('largest.no-range', largest), { css: 'wide' });
  const share = most.um / setup.rangeLimit;
  const of = { ...largest, range: readingText(setup.rangeLimit, figures), share: shareText(share, figures) };
  return cell(say(share > NEAR_RANGE ? 'largest.near-end' : 'largest', of), { css: 'wide' });
}

/** How fast the planes of a set-up moved, where the job asked for it. */
function driftTable(phases: readonly NamedPhase[], figures: Figures): Table | null {
  const unit = figures.units.deviation;
  const { say } = figures;
  const rows = byPhase(phases, figures, ({ phase }) =>
    phase.setups.flatMap((setup) =>
      (setup.drift ?? []).map(({ axis, rate, significant }) =>
        row([
          rowHeader(setup.id, { css: 'id' }),
          cell(say(`plane.${axis}`)),
          cell(
            isKnown(rate)
              ? plusMinus(quantityText(figures, rate, unit, { signed: true }))
              : say('not-determined'),
            { css: 'short-text' },
          ),
          cell(
            !isKnown(rate)
              ? rate.value === null
                ? whyText(rate, figures)
                : ''
              : significant
                ? say('drift.significant')
                : say('drift.small'),
            { css: 'wide' },
          ),
        ]),
      ),
    ),
  );
  if (rows.groups.length === 0) return null;
  const heads = [
    head(say('head.setup'), { css: 'short-text' }),
    head(say('head.plane')),
    head(say('head.rate'), { unit: `${unit.label}/h` }),
    head(say('head.against-u'), { css: 'wide' }),
  ];
  return table(say('drift.caption'), [[...rows.head, ...heads]], rows.groups, {
    css: 'drift',
    notes: [say('drift.note')],
  });
}

const shareText = (share: number, { say, number }: Words): string =>
  share < 0.005 ? say('share.under-1') : `${number(100 * share, 0)}\u00a0%`;

function tieTable(phases: readonly NamedPhase[], figures: Figures): Table | null {
  const { say } = figures;
  const rows = byPhase(phases, figures, ({ phase }) => phase.ties.map((tie) => tieRow(tie, figures)));
  if (rows.groups.length === 0) return null;
  const heads = [
    head(say('head.carried')),
    head(say('head.from-to')),
    head(say('head.by'), { css: 'wide' }),
    figureHead(say('head.baseline'), figures.units.length.label),
    head(say('head.difference'), { css: 'wide' }),
  ];
  return table(say('ties.caption'), [[...rows.head, ...heads]], rows.groups, {
    css: 'ties',
    notes: [say('ties.note')],
  });
}

function tieRow(tie: TieResult, figures: Figures): Row {
  const unit = tie.what === 'direction' ? figures.units.slope : figures.units.deviation;
  const difference = isKnown(tie.difference)
    ? quantityWithUnit(figures, tie.difference, unit, { signed: true })
    : figures.say('not-determined.why', {
        why: tie.difference.value === null ? whyText(tie.difference, figures) : '',
      });
  const by = (text: string) => phrase(text, figures);
  return row([
    rowHeader(figures.say(`tie.${tie.what}`)),
    cell(`${tie.from} – ${tie.to}`, { css: 'id' }),
    cell(tie.by.some((one) => one.includes('…')) ? tie.by.map(by).join(', ') : figures.list(tie.by.map(by)), {
      css: 'wide',
    }),
    figure(tie.baselineMm === null ? '–' : positionText(tie.baselineMm, figures.units.length)),
    cell(difference, { css: 'wide' }),
  ]);
}

/** Of many closures the worst are printed. */
const MOST_CLOSURES = 3;

function closureTable(phases: readonly NamedPhase[], figures: Figures): Table | null {
  const unit = figures.units.deviation;
  const worst = (list: readonly ClosureResult[]) =>
    [...list].sort((a, b) => leftOpen(b) / b.allowed - leftOpen(a) / a.allowed).slice(0, MOST_CLOSURES);
  const cut = phases.some(({ phase }) => phase.closures.length > MOST_CLOSURES);
  const withDrift = phases.some(({ phase }) => phase.closures.some(({ drift }) => drift !== undefined));
  const { say } = figures;
  const rows = byPhase(phases, figures, ({ phase }) =>
    (cut ? worst(phase.closures) : phase.closures).map((closure) =>
      closureRow(closure, unit, withDrift, figures),
    ),
  );
  if (rows.groups.length === 0) return null;
  const heads = [
    head(say('head.setup'), { css: 'short-text' }),
    head(say('head.point-target')),
    head(say('head.axis')),
    figureHead(say('head.readings')),
    head(say('head.looks')),
    figureHead(say('head.closure'), unit.label),
    ...(withDrift ? [figureHead(say('head.by-drift'), unit.label)] : []),
    figureHead(say('head.allowed'), unit.label),
    head(say('head.result')),
  ];
  return table(say('closures.caption'), [[...rows.head, ...heads]], rows.groups, {
    css: 'closures',
    notes: [
      say('closures.note', { coverage: figures.coverage }),
      ...(withDrift ? [say('closures.drift')] : []),
      ...(cut ? [say('closures.cut', { most: MOST_CLOSURES })] : []),
    ],
  });
}

/** Of many loops the worst are printed. */
const MOST_LOOPS = 8;

function loopTable(phases: readonly NamedPhase[], figures: Figures): Table | null {
  const unit = figures.units.deviation;
  const { say } = figures;
  const rows = byPhase(phases, figures, ({ phase }) =>
    (phase.loops ?? []).slice(0, MOST_LOOPS).map((loop) => {
      const [size, allowed] = [Math.abs(loop.misclosure), loop.allowed].map(unit.fromBase) as [
        number,
        number,
      ];
      const decimals = decimalsApart(size, allowed, unit);
      return row([
        rowHeader(loop.through.join(' – '), { css: 'wide' }),
        figure(String(loop.steps)),
        figure(figures.number(unit.fromBase(loop.misclosure), decimals, { signed: true })),
        figure(figures.number(allowed, decimals)),
        cell(say(loop.exceeded ? 'result.exceeded' : 'result.within'), {
          css: loop.exceeded ? 'strong' : '',
        }),
      ]);
    }),
  );
  if (rows.groups.length === 0) return null;
  const heads = [
    head(say('head.loop'), { css: 'wide' }),
    figureHead(say('head.steps')),
    figureHead(say('head.closure'), unit.label),
    figureHead(say('head.allowed'), unit.label),
    head(say('head.result')),
  ];
  const cut = phases.some(({ phase }) => (phase.loops?.length ?? 0) > MOST_LOOPS);
  return table(say('loops.caption'), [[...rows.head, ...heads]], rows.groups, {
    css: 'closures',
    notes: [
      say('loops.note', { coverage: figures.coverage }),
      ...(cut ? [say('loops.cut', { most: MOST_LOOPS })] : []),
    ],
  });
}

/** Decimals that show on which side of what is allowed a size lies. */
function decimalsApart(size: number, allowed: number, unit: ReportUnit): number {
  let { decimals } = unit;
  const shown = (v: number) => roundTo(v, decimals);
  while (shown(size) > shown(allowed) !== size > allowed && decimals < unit.decimals + 6) decimals++;
  return decimals;
}

function closureRow(closure: ClosureResult, unit: ReportUnit, withDrift: boolean, figures: Figures): Row {
  const { say, number } = figures;
  // Both get the decimals that show on which side of what is allowed the closure lies.
  const allowed = unit.fromBase(closure.allowed);
  const size = unit.fromBase(leftOpen(closure));
  const decimals = decimalsApart(size, allowed, unit);
  return row([
    rowHeader(closure.setup, { css: 'id' }),
    nameCell(`${closure.point}, ${closure.target}`),
    cell(axisText(closure.axis, figures)),
    figure(String(closure.looks)),
    cell(timesText(closure, figures), { css: 'short-text' }),
    figure(number(unit.fromBase(closure.closure), decimals, { signed: true })),
    ...(withDrift
      ? [
          figure(
            closure.drift === undefined
              ? '–'
              : number(unit.fromBase(closure.drift), decimals, { signed: true }),
          ),
        ]
      : []),
    figure(number(allowed, decimals)),
    cell(say(closure.exceeded ? 'result.exceeded' : 'result.within'), {
      css: closure.exceeded ? 'strong' : '',
    }),
  ]);
}

/** Names up to this long stay on one line. */
const SHORT_NAME = 16;
const nameCell = (name: string): Cell => cell(name, { css: name.length <= SHORT_NAME ? 'short-text' : 'id' });

/** "2026-03-14T08:12 to 10:02": the day is said once, seconds where minutes do not tell the looks apart. */
function timesText({ first, last }: ClosureResult, { say }: Words): string {
  if (first.time === null && last.time === null) return say('times.not-recorded');
  const [from, to] = [first.time ?? say('not-recorded'), last.time ?? say('not-recorded')];
  if (from === to) return from;
  const minutes = (time: string) => time.replace(/(T\d{2}:\d{2}):\d{2}(?:\.\d+)?$/, '$1');
  const brief = minutes(from) === minutes(to) ? (time: string) => time : minutes;
  const day = /^\d{4}-\d{2}-\d{2}T/.exec(from)?.[0];
  const until = brief(to);
  return say('range', {
    from: brief(from),
    to: day !== undefined && until.startsWith(day) ? until.slice(day.length) : until,
  });
}

type Instrument = Results['survey']['instruments'][number];

function instrumentTable(results: Results, figures: Figures): Table {
  const { say } = figures;
  const rows = results.survey.instruments.map((instrument) =>
    row([
      rowHeader(instrument.id, { css: 'id' }),
      cell(instrument.description ?? say('not-recorded'), {
        css: instrument.description ? 'wide' : 'wide quiet',
      }),
      recorded(instrument.serial, figures),
      certificateCell(instrument, figures),
      dueCell(instrument, figures),
      cell(claims(instrument, figures), { css: 'wide' }),
    ]),
  );
  const heads = [
    head(say('head.instrument')),
    head(say('head.description'), { css: 'wide' }),
    head(say('fact.serial')),
    head(say('head.certificate')),
    head(say('head.due')),
    head(say('head.stated-u'), { css: 'wide' }),
  ];
  return table(say('instruments.caption'), [heads], [{ title: '', rows }], {
    css: 'instruments',
    notes: results.survey.instruments.map((one) => traceSentence(one, figures)),
  });
}

/** @see ISO/IEC 17025:2017, 6.5 and 7.8.4.1 e: where the readings get their unit from. */
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
  // Stated by people: as few digits as they have, one more decimal than a result for the small ones.
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
  // Makers state them in seconds of arc.
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
  return parts.join('; ');
}
