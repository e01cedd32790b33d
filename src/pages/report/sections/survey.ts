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
  numberText,
  plusMinus,
  positionText,
  trimmedText,
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
import { listed, sentence } from '../sentence.js';
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
import { axisWords, NOT_DETERMINED, NOT_RECORDED } from '../../../results/words/texts.js';
import { say } from '../../words/say.js';
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
    intro:
      results.survey.setups.length === 0
        ? 'Read without set-ups of a beam: by level, autocollimator or distance from station to station.'
        : '',
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
  if (setups.length === 0) return null;
  const unit = figures.units.length;
  const noted = setups.some((setup) => setup.note);
  const rows = setups.map((setup) =>
    row([
      rowHeader(setup.id, { css: 'id' }),
      cell(setup.instrument, { css: 'id' }),
      figure(positionText(setup.along, unit)),
      figure(positionText(setup.across, unit)),
      cell(setup.levelled ? 'levelled' : 'not levelled', { css: 'short-text' }),
      cell(`${setup.plus.vertical}, ${setup.plus.horizontal}, ${setup.plus.along}`, { css: 'short-text' }),
      ...(noted ? [cell(setup.note ?? '', { css: 'wide' })] : []),
    ]),
  );
  const heads = [
    head('Set-up', { css: 'short-text' }),
    head('Instrument'),
    figureHead('Along', unit.label),
    figureHead('Across', unit.label),
    head('Level plane'),
    head('A positive reading means'),
    ...(noted ? [head('Note', { css: 'wide' })] : []),
  ];
  return table('Where the instrument stood', [heads], [{ title: '', rows }], { css: 'setups' });
}

function stoodTable(results: Results, phases: readonly NamedPhase[], figures: Figures): Table | null {
  const rows = byPhase(phases, ({ phase }) => phase.setups.map((setup) => stoodRow(setup, figures)));
  if (rows.groups.length === 0) return null;
  const slope = figures.units.slope.label;
  const why = new Set(
    phases.flatMap(({ phase }) =>
      phase.setups.flatMap((setup) =>
        (['yaw', 'pitch', 'roll'] as const).flatMap((name) => {
          const quantity = setup[name];
          return quantity.value === null ? [`${name} of ${setup.id}: ${sentence(quantity.why)}`] : [];
        }),
      ),
    ),
  );
  const heads = [
    head('Set-up', { css: 'short-text' }),
    figureHead('Readings'),
    head('Yaw', { unit: slope }),
    head('Pitch', { unit: slope }),
    head('Roll', { unit: slope }),
    head('Largest reading, of the target’s range', { css: 'wide' }),
  ];
  const datum = results.survey.rails.find((rail) => rail.datum)?.id ?? '';
  return table('How far each beam stood from true', [[...rows.head, ...heads]], rows.groups, {
    css: 'stood',
    notes: [
      `Yaw: turned left or right of rail ${datum}’s least-squares line. Pitch: rising or falling with increasing along. Roll: which side is up, facing increasing along. The solution takes all three into account; they matter because a target’s error grows away from its centre. ± is ${figures.expanded}.`,
      ...why,
    ],
  });
}

function stoodRow(setup: SetupResult, figures: Figures): Row {
  return row([
    rowHeader(setup.id, { css: 'id' }),
    figure(numberText(setup.readings, 0)),
    cell(turned(setup.yaw, 'left', 'right', figures), { css: 'short-text' }),
    cell(turned(setup.pitch, 'rising', 'falling', figures), { css: 'short-text' }),
    cell(turned(setup.roll, 'left up', 'right up', figures), { css: 'short-text' }),
    largestCell(setup, figures),
  ]);
}

/** "3.1 ± 2.4 left" */
function turned(quantity: Quantity, plus: string, minus: string, figures: Figures): string {
  if (!isKnown(quantity)) return NOT_DETERMINED;
  const text = quantityText(figures, { value: Math.abs(quantity.value), u: quantity.u }, figures.units.slope);
  const word = /[1-9]/.test(text.value) ? ` ${quantity.value > 0 ? plus : minus}` : '';
  return plusMinus(text) + word;
}

/** Readings of some size are told in the unit of positions, for they are not results. */
export function readingText(um: number, figures: Figures): string {
  const { length, deviation } = figures.units;
  const inLength = length.fromBase(um / 1000);
  return deviation.label !== length.label && Math.abs(deviation.fromBase(um)) >= 1000
    ? withUnit(trimmedText(inLength, length.label === 'in' ? 3 : 2), length)
    : withUnit(trimmedText(deviation.fromBase(um), deviation.decimals), deviation);
}

function largestCell(setup: SetupResult, figures: Figures): Cell {
  const read = (['vertical', 'horizontal', 'along'] as const).flatMap((axis) => {
    const um = setup.largest[axis];
    return um === null ? [] : [{ axis, um }];
  });
  if (read.length === 0) return cell('–', { css: 'wide' });
  const most = read.reduce((a, b) => (b.um > a.um ? b : a));
  const largest = `${axisWords[most.axis]} ${readingText(most.um, figures)}`;
  if (setup.rangeLimit === null) return cell(`${largest}; range ${NOT_RECORDED}`, { css: 'wide' });
  const share = most.um / setup.rangeLimit;
  const near = share > NEAR_RANGE;
  return cell(
    `${largest} of ${readingText(setup.rangeLimit, figures)}, ${shareText(share)}${near ? ': near its end' : ''}`,
    {
      css: 'wide',
    },
  );
}

/** How fast the planes of a set-up moved, where the job asked for it. */
function driftTable(phases: readonly NamedPhase[], figures: Figures): Table | null {
  const unit = figures.units.deviation;
  const rows = byPhase(phases, ({ phase }) =>
    phase.setups.flatMap((setup) =>
      (setup.drift ?? []).map(({ axis, rate, significant }) =>
        row([
          rowHeader(setup.id, { css: 'id' }),
          cell(planeWords[axis]),
          cell(
            isKnown(rate) ? plusMinus(quantityText(figures, rate, unit, { signed: true })) : NOT_DETERMINED,
            { css: 'short-text' },
          ),
          cell(
            !isKnown(rate)
              ? rate.value === null
                ? rate.why
                : ''
              : significant
                ? 'significant'
                : 'too small to tell from zero',
            { css: 'wide' },
          ),
        ]),
      ),
    ),
  );
  if (rows.groups.length === 0) return null;
  const heads = [
    head('Set-up', { css: 'short-text' }),
    head('Plane'),
    head('Rate', { unit: `${unit.label}/h` }),
    head('Against its uncertainty', { css: 'wide' }),
  ];
  return table('Drift of the planes while they were read', [[...rows.head, ...heads]], rows.groups, {
    css: 'drift',
    notes: [
      'The solution takes the rates into account. + the plane of light moved up, to the left or ahead.',
    ],
  });
}

const planeWords = { vertical: 'level plane', horizontal: 'running plane', along: 'square plane' } as const;

const shareText = (share: number): string =>
  (share < 0.005 ? 'under 1' : numberText(100 * share, 0)) + '\u00a0%';

function tieTable(phases: readonly NamedPhase[], figures: Figures): Table | null {
  const rows = byPhase(phases, ({ phase }) => phase.ties.map((tie) => tieRow(tie, figures)));
  if (rows.groups.length === 0) return null;
  const heads = [
    head('Carried over'),
    head('From – to'),
    head('By', { css: 'wide' }),
    figureHead('Baseline', figures.units.length.label),
    head('Difference and its U', { css: 'wide' }),
  ];
  return table('How the set-ups were tied to each other', [[...rows.head, ...heads]], rows.groups, {
    css: 'ties',
    notes: [
      'Difference: the later set-up less the earlier one; direction + turned to the left, height + higher. The common value of the readings carries nothing; only their difference does.',
    ],
  });
}

function tieRow(tie: TieResult, figures: Figures): Row {
  const unit = tie.what === 'direction' ? figures.units.slope : figures.units.deviation;
  const difference = isKnown(tie.difference)
    ? quantityWithUnit(figures, tie.difference, unit, { signed: true })
    : `${NOT_DETERMINED}: ${tie.difference.value === null ? tie.difference.why : ''}`;
  return row([
    rowHeader(tie.what),
    cell(`${tie.from} – ${tie.to}`, { css: 'id' }),
    cell(tie.by.some((by) => by.includes('…')) ? tie.by.join(', ') : listed(tie.by), { css: 'wide' }),
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
  const rows = byPhase(phases, ({ phase }) =>
    (cut ? worst(phase.closures) : phase.closures).map((closure) => closureRow(closure, unit, withDrift)),
  );
  if (rows.groups.length === 0) return null;
  const heads = [
    head('Set-up', { css: 'short-text' }),
    head('Point, target'),
    head('Axis'),
    figureHead('Readings'),
    head('First and last look'),
    figureHead('Closure', unit.label),
    ...(withDrift ? [figureHead('By drift', unit.label)] : []),
    figureHead('Allowed', unit.label),
    head('Result'),
  ];
  return table('Looking back at the same point', [[...rows.head, ...heads]], rows.groups, {
    css: 'closures',
    notes: [
      `Closure: last reading less first, as read, sign included. Allowed: what the stated uncertainty explains at ${figures.coverage}.`,
      ...(withDrift
        ? ['By drift: what the rates found make of the closure; the rest is held against what is allowed.']
        : []),
      ...(cut
        ? [`The ${MOST_CLOSURES} largest of each phase, against what is allowed; all are in results.json.`]
        : []),
    ],
  });
}

/** Of many loops the worst are printed. */
const MOST_LOOPS = 8;

function loopTable(phases: readonly NamedPhase[], figures: Figures): Table | null {
  const unit = figures.units.deviation;
  const rows = byPhase(phases, ({ phase }) =>
    (phase.loops ?? []).slice(0, MOST_LOOPS).map((loop) => {
      const [size, allowed] = [Math.abs(loop.misclosure), loop.allowed].map(unit.fromBase) as [
        number,
        number,
      ];
      const decimals = decimalsApart(size, allowed, unit);
      return row([
        rowHeader(loop.through.join(' – '), { css: 'wide' }),
        figure(String(loop.steps)),
        figure(numberText(unit.fromBase(loop.misclosure), decimals, { signed: true })),
        figure(numberText(allowed, decimals)),
        cell(loop.exceeded ? 'exceeded' : 'within', { css: loop.exceeded ? 'strong' : '' }),
      ]);
    }),
  );
  if (rows.groups.length === 0) return null;
  const heads = [
    head('Loop', { css: 'wide' }),
    figureHead('Steps'),
    figureHead('Misclosure', unit.label),
    figureHead('Allowed', unit.label),
    head('Result'),
  ];
  const cut = phases.some(({ phase }) => (phase.loops?.length ?? 0) > MOST_LOOPS);
  return table('Loops of level steps', [[...rows.head, ...heads]], rows.groups, {
    css: 'closures',
    notes: [
      `Misclosure: what the steps around the loop add up to. Allowed: what the stated uncertainty explains at ${figures.coverage}, all loops together.`,
      ...(cut ? [`The ${MOST_LOOPS} that close worst of each phase; more are in results.json.`] : []),
    ],
  });
}

/** Decimals that show on which side of what is allowed a size lies. */
function decimalsApart(size: number, allowed: number, unit: ReportUnit): number {
  let { decimals } = unit;
  const shown = (v: number) => Number(numberText(v, decimals).replace(/\u202f/g, ''));
  while (shown(size) > shown(allowed) !== size > allowed && decimals < unit.decimals + 6) decimals++;
  return decimals;
}

function closureRow(closure: ClosureResult, unit: ReportUnit, withDrift: boolean): Row {
  // Both get the decimals that show on which side of what is allowed the closure lies.
  const allowed = unit.fromBase(closure.allowed);
  const size = unit.fromBase(leftOpen(closure));
  const decimals = decimalsApart(size, allowed, unit);
  return row([
    rowHeader(closure.setup, { css: 'id' }),
    nameCell(`${closure.point}, ${closure.target}`),
    cell(axisWords[closure.axis] ?? closure.axis),
    figure(String(closure.looks)),
    cell(timesText(closure), { css: 'short-text' }),
    figure(numberText(unit.fromBase(closure.closure), decimals, { signed: true })),
    ...(withDrift
      ? [
          figure(
            closure.drift === undefined
              ? '–'
              : numberText(unit.fromBase(closure.drift), decimals, { signed: true }),
          ),
        ]
      : []),
    figure(numberText(allowed, decimals)),
    cell(closure.exceeded ? 'exceeded' : 'within', { css: closure.exceeded ? 'strong' : '' }),
  ]);
}

/** Names up to this long stay on one line. */
const SHORT_NAME = 16;
const nameCell = (name: string): Cell => cell(name, { css: name.length <= SHORT_NAME ? 'short-text' : 'id' });

/** "2026-03-14T08:12 to 10:02": the day is said once, seconds where minutes do not tell the looks apart. */
function timesText({ first, last }: ClosureResult): string {
  if (first.time === null && last.time === null) return `times ${NOT_RECORDED}`;
  const [from, to] = [first.time ?? NOT_RECORDED, last.time ?? NOT_RECORDED];
  if (from === to) return from;
  const minutes = (time: string) => time.replace(/(T\d{2}:\d{2}):\d{2}(?:\.\d+)?$/, '$1');
  const brief = minutes(from) === minutes(to) ? (time: string) => time : minutes;
  const day = /^\d{4}-\d{2}-\d{2}T/.exec(from)?.[0];
  const until = brief(to);
  return `${brief(from)} to ${day !== undefined && until.startsWith(day) ? until.slice(day.length) : until}`;
}

type Instrument = Results['survey']['instruments'][number];

function instrumentTable(results: Results, figures: Figures): Table {
  const rows = results.survey.instruments.map((instrument) =>
    row([
      rowHeader(instrument.id, { css: 'id' }),
      cell(instrument.description ?? NOT_RECORDED, { css: instrument.description ? 'wide' : 'wide quiet' }),
      recorded(instrument.serial),
      certificateCell(instrument),
      dueCell(instrument),
      cell(claims(instrument, figures), { css: 'wide' }),
    ]),
  );
  const heads = [
    head('Instrument'),
    head('Description', { css: 'wide' }),
    head('Serial no.'),
    head('Certificate'),
    head('Calibration due'),
    head('Stated standard uncertainty (k\u00a0=\u00a01)', { css: 'wide' }),
  ];
  return table('Instruments', [heads], [{ title: '', rows }], {
    css: 'instruments',
    notes: results.survey.instruments.map(traceSentence),
  });
}

/** @see ISO/IEC 17025:2017, 6.5 and 7.8.4.1 e: where the readings get their unit from. */
const traceSentence = ({ id, certificate, calibrated }: Instrument): string =>
  certificate === null
    ? say('trace.none', { instrument: id })
    : say('trace.instrument', {
        instrument: id,
        certificate,
        laboratory: calibrated?.by ?? 'none',
        day: calibrated?.on ?? 'none',
      });

const recorded = (text: string | null): Cell =>
  text === null ? cell(NOT_RECORDED, { css: 'quiet' }) : nameCell(text);

/** The certificate's number; below it the laboratory and the day. */
function certificateCell({ certificate, calibrated }: Instrument): Cell {
  const detail = [calibrated?.by, calibrated?.on].filter((part) => part).join(', ');
  if (detail === '') return recorded(certificate);
  return cell(certificate ?? NOT_RECORDED, { detail, css: certificate === null ? 'quiet' : '' });
}

function dueCell(instrument: Instrument): Cell {
  if (instrument.calibrationDue === null) return cell(NOT_RECORDED, { css: 'quiet' });
  const detail =
    instrument.overdue === null
      ? 'the days of measurement are not recorded'
      : instrument.overdue
        ? 'overdue: it had run out when the readings were taken'
        : '';
  return cell(instrument.calibrationDue, { detail, css: instrument.overdue ? 'date strong' : 'date' });
}

const METRES_PER_FOOT = 0.3048;

/** Growth of a reading's uncertainty, per foot in a report in inches. */
function perDistance(perMetreUm: number, { units }: Figures): string {
  const inFeet = units.length.label === 'in' || units.length.label === 'ft';
  const um = inFeet ? perMetreUm * METRES_PER_FOOT : perMetreUm;
  const size = trimmedText(units.deviation.fromBase(um), units.deviation.decimals + 1);
  return `with ${withUnit(size, units.deviation)} per ${inFeet ? 'ft' : 'm'} of distance`;
}

function claims(instrument: Instrument, figures: Figures): string {
  const { deviation, slope } = figures.units;
  const unit = instrument.measures === 'length' ? deviation : slope;
  // Stated by people: as few digits as they have, one more decimal than a result for the small ones.
  const stated = (value: number, as: ReportUnit) =>
    withUnit(trimmedText(as.fromBase(value), as.decimals + 1), as);
  const { resolution } = instrument;
  const display = resolution === undefined ? '' : `, its display of ${stated(resolution, unit)} included`;
  const parts = [`reading ${stated(instrument.readingU, unit)}${display}`];
  if (instrument.perMetreU > 0) parts.push(perDistance(instrument.perMetreU, figures));
  // Makers state them in seconds of arc.
  const angle = (umPerM: number) =>
    slope.label === 'arcsec'
      ? stated(umPerM, slope)
      : `${stated(umPerM, slope)} (${trimmedText(fromUmPerM(umPerM, 'arcsec'), 2)}\u00a0arcsec)`;
  if (instrument.levelU !== null) parts.push(`level ${angle(instrument.levelU)}`);
  if (instrument.squareU !== null) parts.push(`square plane ${angle(instrument.squareU)}`);
  const drift = instrument.driftU;
  if (drift !== null) parts.push(`drift ${stated(drift, deviation)} per hour`);
  if (instrument.rangeLimit !== null)
    parts.push(
      `range ±${instrument.measures === 'length' ? readingText(instrument.rangeLimit, figures) : stated(instrument.rangeLimit, slope)}`,
    );
  return parts.join('; ');
}
