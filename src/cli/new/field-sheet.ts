/** What a crew fills in by hand, as the template needs it: the same rows as in the readings files. */
import type { Axis } from '../../survey/job/job.js';
import type { PhaseName } from '../../survey/job/job-schema.js';
import { unitLabel } from '../../base/units/units.js';
import { cautions, type Caution } from '../../pages/report/correction-sheet.js';
import { wordsOf } from '../../pages/words/languages.js';
import { axisText, phaseText } from '../../pages/words/names.js';
import type { Words } from '../../pages/words/words.js';
import { capitalised } from '../../pages/report/sentence.js';
import { gapsOf, railId, railIds, readingUnit, slopeUnit, type Plan } from './plan.js';
import { setupsOf } from './planned-job.js';
import {
  axesOf,
  MONUMENT_TARGET,
  offsetRows,
  RAIL_TARGET,
  slopeRows,
  spanRows,
  type OffsetRow,
  type Part,
  type SlopeRow,
  type SpanRow,
} from './planned-rows.js';
import { planSketch } from './plan-sketch.js';

export interface FieldSheet {
  readonly job: string;
  readonly title: string;
  readonly software: string;
  readonly words: Words;
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
  /** Distances across, and steps with a level. */
  readonly others: readonly { readonly title: string; readonly tables: readonly SheetTable[] }[];
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

/** On which side the target is when the display shows a positive reading. */
interface SignBox {
  readonly axis: string;
  readonly plane: string;
  readonly sides: readonly { readonly side: string; readonly isPlanned: boolean }[];
}

interface SheetTable {
  readonly caption: string;
  /** Its head is on each page that the table reaches. */
  readonly columns: readonly { readonly head: string; readonly css: string }[];
  readonly rows: readonly (readonly Cell[])[];
}

interface Cell {
  readonly text: string;
  readonly css: string;
}

/** A plan, and the words in which its sheet is written. */
interface Said extends Words {
  readonly plan: Plan;
}

export function fieldSheet(plan: Plan, software: string, words = wordsOf(plan.language)): FieldSheet {
  const { say } = words;
  const said = { ...words, plan };
  return {
    job: plan.id,
    title: plan.title ?? say('field.title'),
    software,
    words,
    paper: plan.paper,
    facts: [
      { label: say('fact.job'), text: plan.id },
      ...(plan.customer === null ? [] : [{ label: say('fact.customer'), text: plan.customer }]),
      ...(plan.machine === null ? [] : [{ label: say('fact.machine'), text: plan.machine }]),
      { label: say('fact.rails'), text: railWords(said) },
    ],
    rules: RULES.map((rule) => say(`field.rule.${rule}`)),
    cautions: cautions(words),
    sketch: planSketch(plan, words),
    phases: plan.phases.map((phase) => phaseSheet(phase, said)),
  };
}

const RULES = ['write', 'again', 'moved', 'sign', 'plan'] as const;

const number = (value: number, { mark }: Words): string =>
  String(Number(value.toFixed(3)))
    .replace('-', '−')
    .replace('.', mark);

function railWords(said: Said): string {
  const { plan, say } = said;
  const { rails, stations, units } = plan;
  const [from, to] = [stations[0]!, stations[stations.length - 1]!].map((at) => number(at, said));
  const each = { count: stations.length, from: from!, to: to!, unit: units, rail: railId(0) };
  if (rails === 1) return say('field.rail', each);
  const across = gapsOf(plan).map((gap) => number(gap, said));
  return say('field.rails', { ...each, last: railId(rails - 1), across: across.join('; ') });
}

/** What is filled in once per phase, next to customer and machine. */
const PHASE_BLANKS = [
  ...(['sign.date', 'sign.surveyed', 'fact.place', 'field.machine-serial', 'head.instrument'] as const),
  ...(['field.instrument-serial', 'head.due', 'field.target-serials', 'field.temperature-start'] as const),
  ...(['field.temperature-end', 'field.surroundings', 'field.other'] as const),
];

const SETUP_BLANKS = [
  ...(['field.stood-along', 'field.stood-across', 'field.levelled-at', 'field.level-end'] as const),
  ...(['field.zero-before', 'field.zero-after', 'field.sign-moved', 'field.sign-reads'] as const),
  ...(['field.temperature-start', 'field.temperature-end', 'field.air-low', 'field.air-high'] as const),
  ...(['field.air-apart', 'field.air-side'] as const),
];

function phaseSheet(phase: PhaseName, said: Said): PhaseSheet {
  const { plan, say } = said;
  // Sign checks have lines of their own in what is filled in per set-up.
  const rows = offsetRows(plan).filter(({ part }) => part !== 'sign');
  const others = [
    { title: say('field.spans'), tables: ofPasses(spanRows(plan)).map((group) => spanTable(group, said)) },
    { title: say('field.slopes'), tables: ofPasses(slopeRows(plan)).map((group) => slopeTable(group, said)) },
  ];
  return {
    name: phaseText(phase, said),
    blanks: [
      ...(plan.customer === null ? [say('fact.customer')] : []),
      ...(plan.machine === null ? [say('fact.machine')] : []),
      ...PHASE_BLANKS.map((key) => say(key)),
    ],
    setups: setupsOf(plan).map((setup) => ({
      title: say('field.setup', { setup: setup.id }),
      planned: say('field.setup.planned', {
        along: number(setup.along, said),
        across: number(setup.across, said),
        unit: plan.units,
      }),
      scatter: scatterText(setup, said),
      blanks: SETUP_BLANKS.map((key) => say(key)),
      signs: axesOf(plan).map((axis) => signBox(axis, said)),
      tables: groups(rows.filter((row) => row.setup === setup.id)).map((group) => offsetTable(group, said)),
    })),
    others: others.filter(({ tables }) => tables.length > 0),
  };
}

/** Two independent readings differ by less than 1.96·√2 standard uncertainties in 95 of 100 cases. @see JCGM 100, 5.1.2 */
const DIFFERENCE = 1.96 * Math.SQRT2;

/** Scatter to be expected at the nearest and at the farthest station that is read from a set-up. */
function scatterText(setup: { id: string; along: number; across: number }, said: Said): string {
  const { plan } = said;
  const metres = plan.units === 'mm' ? 1e-3 : 0.0254;
  const unit = unitLabel(readingUnit(plan));
  const places = offsetRows(plan)
    .filter(({ setup: id, station }) => id === setup.id && station !== null)
    .map(({ rail, station }) => {
      const across = plan.across[railIds(plan).indexOf(rail!)]!;
      const along = plan.stations[station! - 1]!;
      const distance = Math.hypot(along - setup.along, across - setup.across) * metres;
      return {
        at: `${rail!} ${station!}`,
        by: DIFFERENCE * Math.hypot(plan.u, plan.perMetre * distance),
      };
    })
    .sort((a, b) => a.by - b.by);
  const [near, far] = [places[0]!, places.at(-1)!];
  const text = (by: number) => `${number(Number(by.toPrecision(2)), said)} ${unit}`;
  return said.say('plan.scatter', {
    near: text(near.by),
    nearAt: near.at,
    far: text(far.by),
    farAt: far.at,
  });
}

const sides = {
  vertical: ['above', 'below'],
  horizontal: ['left', 'right'],
  along: ['ahead', 'behind'],
} as const satisfies Record<Axis, readonly [planned: string, other: string]>;

const axisHead = (axis: Axis, said: Said): string => capitalised(axisText(axis, said));

const signBox = (axis: Axis, said: Said): SignBox => ({
  axis: axisHead(axis, said),
  plane: said.say(`field.plane.${axis}`),
  sides: sides[axis].map((side, k) => ({ side: said.say(`field.side.${side}`), isPlanned: k === 0 })),
});

/** Runs of rows that belong together, in order. */
function groups(rows: readonly OffsetRow[]): OffsetRow[][] {
  return runs(rows, ({ part, rail, pass }) => (part === 'rail' ? `${part} ${rail} ${pass}` : part));
}

const ofPasses = <R extends { readonly pass: number }>(rows: readonly R[]): R[][] =>
  runs(rows, ({ pass }) => String(pass));

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

function offsetTable(rows: readonly OffsetRow[], said: Said): SheetTable {
  const { plan, say } = said;
  const first = rows[0]!;
  const unit = unitLabel(readingUnit(plan));
  const isMonuments = first.monument !== null;
  // Rows of the same rail and pass, but for height and closing looks, whose passes alternate.
  const withPass = first.part !== 'rail' && rows.some((row) => row.pass !== first.pass);
  return {
    caption: captionOf(first, rows, said),
    columns: [
      plain(say(isMonuments ? 'field.monument' : 'head.station'), 'name'),
      ...(isMonuments ? [] : [plain(say('field.position', { unit: plan.units }), 'position')]),
      ...(withPass ? [plain(say('field.look'), 'name')] : []),
      ...first.axes.map((axis) => plain(say('field.axis', { axis: axisHead(axis, said), unit }), 'reading')),
      plain(say('field.time'), 'time'),
      plain(say('head.note'), 'note'),
    ],
    rows: rows.map((row) => [
      printed(row.monument ?? `${row.rail} ${row.station}`),
      ...(row.station === null ? [] : [printed(number(plan.stations[row.station - 1]!, said))]),
      ...(withPass ? [printed(String(row.pass))] : []),
      ...row.axes.map(() => written),
      written,
      written,
    ]),
  };
}

function captionOf(
  { part, setup, rail, pass }: OffsetRow,
  rows: readonly OffsetRow[],
  { plan, say }: Said,
): string {
  const isOnMonuments =
    part === 'direction' || (part === 'closing' && rows.some((row) => row.monument !== null));
  return say(`field.caption.${part as Exclude<Part, 'sign'>}`, {
    setup,
    rail: rail ?? '',
    target: isOnMonuments ? MONUMENT_TARGET : RAIL_TARGET,
    pass,
    passes: plan.passes,
    way: pass % 2 === 1 ? 'forward' : 'return',
    of: isOnMonuments ? 'monuments' : 'rail',
  });
}

function spanTable(rows: readonly SpanRow[], said: Said): SheetTable {
  const { plan, say } = said;
  return {
    caption: say('field.spans.pass', { pass: rows[0]!.pass, passes: plan.passes }),
    columns: [
      plain(say('fact.rails'), 'name'),
      plain(say('head.station'), 'name'),
      plain(say('field.position', { unit: plan.units }), 'position'),
      plain(say('field.distance', { unit: plan.units }), 'reading'),
      plain(say('field.time'), 'time'),
      plain(say('head.note'), 'note'),
    ],
    rows: rows.map(({ rail, other, station }) => [
      printed(say('rails.pair', { rail, other })),
      printed(String(station)),
      printed(number(plan.stations[station - 1]!, said)),
      written,
      written,
      written,
    ]),
  };
}

function slopeTable(rows: readonly SlopeRow[], said: Said): SheetTable {
  const { plan, say } = said;
  return {
    caption: say('field.slopes.pass', { pass: rows[0]!.pass, passes: plan.passes }),
    columns: [
      plain(say('field.step'), 'name'),
      plain(say('field.slope', { unit: unitLabel(slopeUnit(plan)) }), 'reading'),
      plain(say('field.time'), 'time'),
      plain(say('head.note'), 'note'),
    ],
    rows: rows.map((row) => [
      printed(
        say('range', {
          from: `${row.from_rail} ${row.from_station}`,
          to: `${row.to_rail} ${row.to_station}`,
        }),
      ),
      written,
      written,
      written,
    ]),
  };
}
