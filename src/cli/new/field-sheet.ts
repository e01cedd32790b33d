/** What a crew writes on by hand, as the template places it: the same rows as in the readings files. */
import type { Axis } from '../../survey/job/job.js';
import type { PhaseName } from '../../survey/job/job-schema.js';
import { unitLabel } from '../../base/units/units.js';
import { phaseWords } from '../../results/words/texts.js';
import { cautions, type Caution } from '../../pages/report/correction-sheet.js';
import { english } from '../../pages/words/words.js';
import { railId, railIds, readingUnit, type Plan } from './plan.js';
import { setupsOf } from './planned-job.js';
import {
  axesOf,
  MONUMENT_TARGET,
  offsetRows,
  RAIL_TARGET,
  spanRows,
  type OffsetRow,
  type SpanRow,
} from './planned-rows.js';
import { planSketch } from './plan-sketch.js';

export interface FieldSheet {
  readonly job: string;
  readonly title: string;
  readonly software: string;
  readonly paper: 'A4' | 'Letter';
  readonly facts: readonly { readonly label: string; readonly text: string }[];
  readonly rules: readonly string[];
  readonly cautions: readonly Caution[];
  /** SVG, made of our own words alone. */
  readonly sketch: string;
  readonly phases: readonly PhaseSheet[];
}

interface PhaseSheet {
  readonly name: string;
  /** What is filled in once a phase. */
  readonly blanks: readonly string[];
  readonly setups: readonly SetupSheet[];
  readonly spans: readonly SheetTable[];
}

interface SetupSheet {
  readonly title: string;
  readonly planned: string;
  /** What two readings of one point may differ by. */
  readonly scatter: string;
  readonly blanks: readonly string[];
  readonly signs: readonly SignBox[];
  readonly tables: readonly SheetTable[];
}

/** On which side the target stands when the display shows a positive reading. */
interface SignBox {
  readonly axis: string;
  readonly plane: string;
  readonly sides: readonly { readonly side: string; readonly isPlanned: boolean }[];
}

interface SheetTable {
  readonly caption: string;
  /** Its head stands on each page that the table reaches. */
  readonly columns: readonly { readonly head: string; readonly css: string }[];
  readonly rows: readonly (readonly Cell[])[];
}

interface Cell {
  readonly text: string;
  readonly css: string;
}

export function fieldSheet(plan: Plan, software: string): FieldSheet {
  return {
    job: plan.id,
    title: plan.title ?? 'Survey of machine rails',
    software,
    paper: plan.paper,
    facts: [
      { label: 'Job', text: plan.id },
      ...(plan.customer === null ? [] : [{ label: 'Customer', text: plan.customer }]),
      ...(plan.machine === null ? [] : [{ label: 'Machine', text: plan.machine }]),
      { label: 'Rails', text: railWords(plan) },
    ],
    rules: RULES,
    cautions: cautions(english),
    sketch: planSketch(plan),
    phases: plan.phases.map((phase) => phaseSheet(phase, plan)),
  };
}

const RULES: readonly string[] = [
  'Write each reading as the display shows it, with its sign, and the time of it.',
  'A reading taken again: write both, mark the one that is not to be used, and say why in the note.',
  'An instrument that is moved or levelled again is a new set-up; a rod or bracket that is set again is a new target. Give it a name of its own.',
  'Sign check: at each set-up move one target by a known amount to a known side and read it again. In the file that row says so under check: “left 1 mm”.',
  'Where set-ups and monuments are planned is only a plan: write down where they really stood.',
];

const number = (value: number): string => String(Number(value.toFixed(3))).replace('-', '−');

function railWords({ rails, stations, across, units }: Plan): string {
  const places = `${stations.length} stations from ${number(stations[0]!)} to ${number(stations[stations.length - 1]!)} ${units}`;
  if (rails === 1) return `${railId(0)}, ${places}`;
  return `${railId(0)} (datum) to ${railId(rails - 1)}, ${number(across)} ${units} apart, each ${places}`;
}

function phaseSheet(phase: PhaseName, plan: Plan): PhaseSheet {
  const rows = offsetRows(plan);
  return {
    name: phaseWords(phase),
    blanks: [
      ...(plan.customer === null ? ['Customer'] : []),
      ...(plan.machine === null ? ['Machine'] : []),
      'Date',
      'Surveyed by',
      'Site',
      'Machine serial no.',
      'Instrument',
      'Instrument serial no.',
      'Calibration due',
      'Targets, serial nos.',
      'Temperature, start',
      'Temperature, end',
      'Doors, sun, heating, loads',
      'Other',
    ],
    setups: setupsOf(plan).map((setup) => ({
      title: `Set-up ${setup.id}`,
      planned: `planned at ${number(setup.along)} ${plan.units} along, ${number(setup.across)} ${plan.units} across`,
      scatter: scatterText(setup, plan),
      blanks: [
        'Stood at, along',
        'Stood at, across',
        'Levelled at (time)',
        'Level checked at end, off by',
        'Zero checked before, reads',
        'Zero checked after, reads',
        'Sign check: moved to side, by',
        'Sign check: reads before, after',
        'Temperature, start',
        'Temperature, end',
        'Air, low thermometer',
        'Air, high thermometer',
        'How far apart',
        'Side wall or door warmer by',
      ],
      signs: axesOf(plan).map(signBox),
      tables: groups(rows.filter((row) => row.setup === setup.id)).map((group) => offsetTable(group, plan)),
    })),
    spans: spanGroups(spanRows(plan)).map((group) => spanTable(group, plan)),
  };
}

/** Two independent readings differ by less than 1.96·√2 standard uncertainties in 95 of 100 cases. @see JCGM 100, 5.1.2 */
const DIFFERENCE = 1.96 * Math.SQRT2;

/** Scatter to be expected at the nearest and at the farthest station that is read from a set-up. */
function scatterText(setup: { id: string; along: number; across: number }, plan: Plan): string {
  const metres = plan.units === 'mm' ? 1e-3 : 0.0254;
  const unit = unitLabel(readingUnit(plan));
  const places = offsetRows(plan)
    .filter(({ setup: id, station }) => id === setup.id && station !== null)
    .map(({ rail, station }) => {
      const across = plan.across * railIds(plan).indexOf(rail!);
      const along = plan.stations[station! - 1]!;
      const distance = Math.hypot(along - setup.along, across - setup.across) * metres;
      return {
        at: `${rail!} ${station!}`,
        by: DIFFERENCE * Math.hypot(plan.u, plan.perMetre * distance),
      };
    })
    .sort((a, b) => a.by - b.by);
  const [near, far] = [places[0]!, places.at(-1)!];
  const text = (by: number) => `${number(Number(by.toPrecision(2)))} ${unit}`;
  return english.say('plan.scatter', {
    near: text(near.by),
    nearAt: near.at,
    far: text(far.by),
    farAt: far.at,
  });
}

const signs: Record<Axis, { plane: string; sides: readonly [planned: string, other: string] }> = {
  vertical: { plane: 'the level plane', sides: ['above', 'below'] },
  horizontal: { plane: 'the plane along the rails', sides: ['left of', 'right of'] },
  along: { plane: 'the plane square to the rails', sides: ['ahead of', 'behind'] },
};

const axisHeads: Record<Axis, string> = { vertical: 'Vertical', horizontal: 'Horizontal', along: 'Along' };

const signBox = (axis: Axis): SignBox => ({
  axis: axisHeads[axis],
  plane: signs[axis].plane,
  sides: signs[axis].sides.map((side, k) => ({ side, isPlanned: k === 0 })),
});

/** Runs of rows that belong together, in order. */
function groups(rows: readonly OffsetRow[]): OffsetRow[][] {
  return runs(rows, ({ part, rail, pass }) => (part === 'rail' ? `${part} ${rail} ${pass}` : part));
}

const spanGroups = (rows: readonly SpanRow[]): SpanRow[][] => runs(rows, ({ pass }) => String(pass));

function runs<R>(rows: readonly R[], keyOf: (row: R) => string): R[][] {
  const found: R[][] = [];
  for (const [k, row] of rows.entries()) {
    if (k > 0 && keyOf(rows[k - 1]!) === keyOf(row)) found[found.length - 1]!.push(row);
    else found.push([row]);
  }
  return found;
}

const plain = (head: string, css: string) => ({ head, css });
const written = { text: '', css: 'written' } as const;
const printed = (text: string): Cell => ({ text, css: 'printed' });

function offsetTable(rows: readonly OffsetRow[], plan: Plan): SheetTable {
  const first = rows[0]!;
  const unit = unitLabel(readingUnit(plan));
  const isMonuments = first.monument !== null;
  // Rows of the same rail and pass, but for height and closing looks, whose passes alternate.
  const withPass = first.part !== 'rail' && rows.some((row) => row.pass !== first.pass);
  return {
    caption: `${first.setup}: ${captionOf(first, rows, plan)}`,
    columns: [
      plain(isMonuments ? 'Monument' : 'Station', 'name'),
      ...(isMonuments ? [] : [plain(`Position, ${plan.units}`, 'position')]),
      ...(withPass ? [plain('Look', 'name')] : []),
      ...first.axes.map((axis) => plain(`${axisHeads[axis]}, ${unit}`, 'reading')),
      plain('Time', 'time'),
      plain('Note', 'note'),
    ],
    rows: rows.map((row) => [
      printed(row.monument ?? `${row.rail} ${row.station}`),
      ...(row.station === null ? [] : [printed(number(plan.stations[row.station - 1]!))]),
      ...(withPass ? [printed(String(row.pass))] : []),
      ...row.axes.map(() => written),
      written,
      written,
    ]),
  };
}

function captionOf(first: OffsetRow, rows: readonly OffsetRow[], plan: Plan): string {
  const way = first.pass % 2 === 1 ? 'forward' : 'return';
  switch (first.part) {
    case 'direction':
      return `monuments, which carry the direction over; target ${MONUMENT_TARGET}`;
    case 'height':
      return `rail ${first.rail}, which carries the height over; the same target ${RAIL_TARGET}, its rod not set again`;
    case 'rail':
      return `rail ${first.rail}, pass ${first.pass} of ${plan.passes}, ${way}; target ${RAIL_TARGET}`;
    case 'closing':
      return rows.some((row) => row.monument !== null)
        ? `closing look at the monuments, before the set-up is left; target ${MONUMENT_TARGET}`
        : `closing look, before the set-up is left; target ${RAIL_TARGET}`;
  }
}

function spanTable(rows: readonly SpanRow[], plan: Plan): SheetTable {
  return {
    caption: `Distances across, pass ${rows[0]!.pass} of ${plan.passes}`,
    columns: [
      plain('Rails', 'name'),
      plain('Station', 'name'),
      plain(`Position, ${plan.units}`, 'position'),
      plain(`Distance, ${plan.units}`, 'reading'),
      plain('Time', 'time'),
      plain('Note', 'note'),
    ],
    rows: rows.map(({ rail, other, station }) => [
      printed(`${rail} to ${other}`),
      printed(String(station)),
      printed(number(plan.stations[station - 1]!)),
      written,
      written,
      written,
    ]),
  };
}
