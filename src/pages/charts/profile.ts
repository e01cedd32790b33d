/** One characteristic with a tolerance, as it was judged: its points, the limits about its reference, its interval. */
import { extent } from '../../base/statistics/extent.js';
import { ruleOf } from '../../results/rules.js';
import { guarded } from '../../solution/verdict/decision-rule.js';
import { unitFor, withUnit, positionText, type ReportUnit } from '../../results/words/format-quantity.js';
import { capitalised } from '../report/sentence.js';
import { verdictText } from '../words/names.js';
import { inFirst } from '../words/pair.js';
import type { Words } from '../words/words.js';
import type { Chart, Kind, Part, Row } from './chart.js';
import { rowsOf } from './chart.js';
import {
  isJudged,
  limitsOf,
  middleOf,
  outcomeLines,
  railWords,
  sameAsked,
  signedText,
  stationKey,
  titleOf,
  type Context,
  type Judged,
  type PhaseContext,
} from './context.js';
import { textWidth } from '../fonts/widths.js';
import { colours, dashes, frame, LINE, phoneTheme, theme } from './theme.js';

const Y = { type: 'quantitative', scale: { domain: { expr: 'yDomain' }, nice: false, zero: false } } as const;
const X = {
  field: 'x',
  type: 'quantitative',
  scale: { domain: { expr: 'xDomain' }, nice: false, zero: false, padding: 6 },
} as const;
const y = (field: string) => ({ y: { field } });
/** From the right end of the plot to the words next to it, px. */
const TO_WORDS = 30;

/** The words next to the plot, the phase and its verdict bold; what is wider than its room goes on in the next line. Of two languages the first. */
export const besideRows = (texts: readonly string[]): Row[] =>
  texts
    .flatMap((text, n) => {
      const isBold = n < 2;
      const room = frame.padding.right - TO_WORDS;
      const lines: string[] = [];
      for (const word of inFirst(text).split(' ')) {
        const longer = `${lines.at(-1)} ${word}`;
        if (lines.length > 0 && textWidth(longer, theme.text.fontSize, isBold) <= room)
          lines[lines.length - 1] = longer;
        else lines.push(word);
      }
      return lines.map((line) => ({ text: line, weight: isBold ? 'bold' : 'normal' }));
    })
    .map((row, line) => ({ ...row, line }));

/** Width at the right of the plot. */
const beside = { x: { value: 'width' } };

/** The earlier phase, the line, the points and the names along the rails. */
const alongRails = (isMany: boolean): Part[] => {
  const byRail = isMany
    ? {
        strokeDash: {
          field: 'rail',
          scale: { domain: { expr: 'rails' }, range: dashes },
          legend: { symbolType: 'stroke', symbolSize: 400, symbolStrokeColor: { expr: 'lineColour' } },
        },
        detail: { field: 'rail' },
      }
    : {};
  const line = (role: 'as-left' | 'as-found', name: string, more: Part): Part => ({
    name: `${role}-line`,
    ...rowsOf(name),
    mark: { type: 'line', clip: true, ...more },
    encoding: { ...y('y'), ...byRail },
  });
  return [
    line('as-found', 'found', { color: colours['as-found'], strokeDash: { expr: 'foundDash' } }),
    line('as-left', 'left', { color: colours['as-left'] }),
    ...(['as-found', 'as-left'] as const).map((role) => ({
      name: `${role}-point`,
      ...rowsOf(role === 'as-found' ? 'found' : 'left'),
      mark: {
        type: 'point',
        clip: true,
        aria: true,
        color: colours[role],
        filled: role === 'as-left',
        size: role === 'as-left' ? 24 : 20,
        shape: role === 'as-left' ? 'circle' : 'diamond',
      },
      encoding: { ...y('y'), description: { field: 'says' } },
    })),
    {
      ...rowsOf('moves'),
      mark: { type: 'rule', color: colours.ink, strokeWidth: 1.2 },
      encoding: { y: { field: 'from' }, y2: { field: 'to' } },
    },
    {
      ...rowsOf('moves'),
      mark: {
        type: 'point',
        color: colours.ink,
        size: 40,
        shape: 'triangle-up',
        angle: { expr: 'datum.to > datum.from ? 0 : 180' },
      },
      encoding: y('to'),
    },
    {
      ...rowsOf('decides'),
      mark: { type: 'point', size: 70, filled: false, stroke: colours.ink, strokeWidth: 1.4 },
      encoding: y('y'),
    },
    {
      ...rowsOf('decides'),
      mark: {
        type: 'text',
        style: 'named',
        align: { expr: 'datum.align' },
        dy: { expr: 'datum.isUp ? -12 : 12' },
      },
      encoding: { ...y('y'), text: { field: 'text' } },
    },
  ];
};

/** Zone, reference, guard band and limits: level, or sloped through the middle of the rail. */
const levelBounds: readonly Part[] = [
  {
    ...rowsOf('zone'),
    mark: { type: 'rect', style: 'zone' },
    encoding: { ...y('from'), y2: { field: 'to' } },
  },
  ...['zero', 'guard', 'limits'].map((name) => ({
    ...rowsOf(name),
    mark: { type: 'rule', style: name === 'limits' ? 'limit' : name },
    encoding: y('y'),
  })),
];
const slopedBounds: readonly Part[] = [
  {
    ...rowsOf('zone'),
    mark: { type: 'area', style: 'zone', clip: true },
    encoding: { ...y('from'), y2: { field: 'to' } },
  },
  ...['zero', 'guard', 'limits'].map((name) => ({
    ...rowsOf(name),
    mark: { type: 'line', style: name === 'limits' ? 'limit' : name, clip: true },
    encoding: { ...y('y'), detail: { field: 'line' } },
  })),
];

/** @param isMany Points of several rails in one plot. */
const viewOf = (isMany: boolean, isSloped: boolean): Part => ({
  ...frame,
  height: 100,
  title: { text: { expr: 'heading' } },
  encoding: { y: { ...Y, field: 'y', title: null } },
  layer: [
    ...(isSloped ? [] : levelBounds),
    {
      encoding: {
        x: {
          ...X,
          axis: {
            values: { expr: 'places' },
            labelExpr: 'stations[datum.value]',
            title: { expr: 'xWords' },
          },
        },
      },
      layer: [...(isSloped ? slopedBounds : []), ...alongRails(isMany)],
    },
    {
      ...rowsOf('interval'),
      mark: {
        type: 'rule',
        color: { expr: 'datum.colour' },
        strokeWidth: { expr: 'datum.width' },
        xOffset: 14,
      },
      encoding: { ...beside, ...y('from'), y2: { field: 'to' } },
    },
    {
      ...rowsOf('caps'),
      mark: { type: 'tick', orient: 'horizontal', size: 11, color: { expr: 'datum.colour' }, xOffset: 14 },
      encoding: { ...beside, ...y('y') },
    },
    {
      ...rowsOf('words'),
      mark: {
        type: 'text',
        align: 'left',
        dx: TO_WORDS,
        dy: { expr: `${LINE} * datum.line` },
        limit: 0,
        fontWeight: { expr: 'datum.weight' },
      },
      encoding: { ...beside, y: { value: 0 }, text: { field: 'text' } },
    },
  ],
});

const narrow = (isMany: boolean): Part => ({
  width: 292,
  padding: { ...frame.padding, right: 24, bottom: isMany ? 56 : 36 },
  height: 160,
  config: phoneTheme,
});

const params = [
  ...['heading', 'xWords', 'yDomain', 'xDomain', 'rails', 'foundDash', 'lineColour', 'places', 'stations'],
];
export const profileKinds: readonly Kind[] = [false, true].flatMap((isMany) =>
  [false, true].flatMap((isSloped) => {
    const view = viewOf(isMany, isSloped);
    return [
      { view, params },
      { view: { ...view, ...narrow(isMany) }, params },
    ];
  }),
);

/** Title of the y axis, with the meaning of +. */
function yWords({ what, rail, rails, side }: Judged, other: string, unit: string, words: Words): string {
  const { say } = words;
  const of = { unit, rail: railWords(rail, words) };
  const from =
    rails === undefined
      ? { ...of, other: railWords(other, words) }
      : { ...of, other: say('profile.compared') };
  const plane = what.includes('vertical') ? 'vertical' : 'horizontal';
  if (what === 'coplanarity') return say('profile.y.plane', of);
  if (what === 'cross-level') return say('profile.y.cross-level', from);
  if (what === 'twist') return say('profile.y.twist', from);
  if (what === 'elevation') return say('profile.y.elevation', of);
  if (what === 'parallelism-to-plane') return say('profile.y.to-plane', of);
  if (what === 'height-difference') return say('profile.y.height', from);
  if (/^parallelism.*vertical$/.test(what)) return say('profile.y.height-mean', from);
  if (what === 'span') return say('profile.y.span', from);
  if (/^parallelism.*horizontal$/.test(what)) return say('profile.y.sideways', from);
  if (what.startsWith('joint-step')) return say(`profile.y.step.${plane}`, of);
  if (what.startsWith('joint-slope')) return say(`profile.y.slope.${plane}`, of);
  if (what.startsWith('rate')) return say(`profile.y.rate.${plane}`, of);
  return say(`profile.y.line.${plane}`, {
    ...of,
    line: side === undefined ? 'reference' : 'ends',
  });
}

interface End {
  readonly lower: number;
  readonly upper: number;
}

/** The interval as the decision rule uses it, with guard band or risk, in the unit of results; a signed one at the judged end. */
const decidedBy = (context: Context, c: Judged): End => {
  if (!c.signed || c.judged === undefined) {
    const [lower, upper] = guarded(c.interval, context.results.settings.guardBand ?? 1);
    return { lower: c.signed ? lower : Math.max(0, lower), upper };
  }
  const { lower, upper } = c.judged;
  // The judged magnitude is from the middle of the limits, on the side of the value. Where its lower end is 0, the interval ends on
  // the other side.
  const { from, to } = limitsOf(c);
  const middle = from === null || to === null ? 0 : (from + to) / 2;
  const isUp = from === null || (to !== null && c.value >= middle);
  return isUp
    ? { lower: lower > 0 ? middle + lower : c.interval[0], upper: middle + upper }
    : { lower: middle - upper, upper: lower > 0 ? middle - lower : c.interval[1] };
};

export interface Bracket {
  /** Vertical lines: the value of a range, and the interval. */
  readonly bars: readonly { readonly from: number; readonly to: number; readonly isValue: boolean }[];
  readonly caps: readonly number[];
}

/**
 * The interval next to the points. For a range both ends are symmetric about the middle of the zone, so that the outer caps
 * are within the limits if and only if it conforms. For a signed figure both ends are where they are judged.
 */
export function bracketOf(context: Context, c: Judged): Bracket {
  const { lower, upper } = decidedBy(context, c);
  if (c.signed) return { bars: [{ from: lower, to: upper, isValue: false }], caps: [lower, upper, c.value] };
  const middle = middleOf(c);
  const about = (width: number) => [middle - width / 2, middle + width / 2] as const;
  const [outer, inner, value] = [about(upper), about(lower), about(c.value)];
  return {
    bars: [
      { from: outer[0], to: outer[1], isValue: false },
      { from: value[0], to: value[1], isValue: true },
    ],
    caps: [...outer, ...(lower > 0 ? inner : [])],
  };
}

/** The acceptance limits: inside the limits by the guard band; none if the value alone decides. */
function guardsOf(context: Context, c: Judged): number[] {
  if (ruleOf(c, context.results.settings) === 'simple') return [];
  const { from, to } = limitsOf(c);
  const { lower, upper } = decidedBy(context, c);
  const values = (c.profile ?? []).map(({ value }) => value);
  const [least, greatest] = [Math.min(c.value, ...values), Math.max(c.value, ...values)];
  const half = (upper - c.value) / 2;
  const band = c.signed ? [Math.max(0, least - lower), Math.max(0, upper - greatest)] : [half, half];
  const guards = [...(from === null ? [] : [from + band[0]!]), ...(to === null ? [] : [to - band[1]!])];
  return guards.length === 2 && guards[0]! > guards[1]! ? [] : guards;
}

/** From a named station to the edge of the plot, as a share of its height: its label is between them. */
const LABEL_SHARE = 0.19;

const isAbove = ({ value }: { readonly value: number }, c: Judged): boolean => value >= middleOf(c);

/** The y axis, from and to, in the unit of the report. @param above Places with a label above them; below likewise. */
function domainOf(of: {
  readonly middle: number;
  readonly span: number;
  readonly ghost: readonly number[];
  readonly above: readonly number[];
  readonly below: readonly number[];
}): [number, number] {
  const half = (of.span * 1.16) / 2;
  let [from, to] = [of.middle - half, of.middle + half];
  if (Math.max(...of.ghost, to) - Math.min(...of.ghost, from) < 1.5 * (to - from)) {
    from = Math.min(...of.ghost.map((v) => v * 1.04), from);
    to = Math.max(...of.ghost.map((v) => v * 1.04), to);
  }
  const room = LABEL_SHARE * (to - from);
  return [Math.min(from, ...of.below.map((v) => v - room)), Math.max(to, ...of.above.map((v) => v + room))];
}

export interface ProfileInput {
  readonly phase: PhaseContext;
  readonly c: Judged;
  /** The same, in the earlier phase. */
  readonly before?: { readonly words: string; readonly c: Judged } | undefined;
  readonly key: string;
  /** Least range of the y axis, unit of results: the same for pictures that are compared. */
  readonly span: number;
  readonly place: Pick<Chart, 'section' | 'role' | 'of'>;
  /** Limits through the middle of the rail (slope.ts). */
  readonly isSloped?: boolean;
  readonly moves?: readonly { readonly position: number; readonly by: number; readonly name: string }[];
}

/** The values that must be in the picture: points, limits and interval. */
export function extentOf(context: Context, c: Judged): [number, number] {
  const { from, to } = limitsOf(c);
  const { caps } = bracketOf(context, c);
  const all = [...(c.profile ?? []).map(({ value }) => value), ...caps, from ?? caps[0]!, to ?? caps[0]!];
  return extent(all);
}

export function profileChart(context: Context, input: ProfileInput): Chart {
  const { phase, c, before, key, place, moves = [] } = input;
  const { length, say } = context;
  const unit = unitFor(context, c.unit);
  const inUnit = (base: number) => unit.fromBase(base);
  const points = c.profile!;
  const series = seriesOf(c);
  const ids = [...new Set(series)];
  const other = c.against ?? context.datum?.id ?? c.rail;
  const rows = (of: Judged, words: string): Row[] =>
    of.profile!.map(({ rail, station, position, value }, i) => ({
      rail: of === c ? series[i]! : rail,
      station: stationKey(rail, station),
      x: length.fromBase(position),
      y: inUnit(value),
      says: say('chart.point', {
        station: stationKey(rail, station),
        figure: withUnit(signedText(value, unit, tenth(c)), unit),
        phase: words,
      }),
    }));
  const left = rows(c, phase.words);
  const isGhost = before !== undefined && ids.length === 1 && c.over === undefined;
  const ghosts = isGhost ? rows(before.c, before.words) : [];
  const isFirst = phase.role === 'as-found';
  // One scale for pictures that are compared. As found is cut off if it would make as left too flat.
  const [low, high] = extentOf(context, c);
  const ghost = ghosts.map((row) => row['y'] as number);
  const named = decidingOf(c);
  const domain = domainOf({
    middle: inUnit((high + low) / 2),
    span: inUnit(Math.max(input.span, high - low)),
    ghost,
    above: named.filter((point) => isAbove(point, c)).map(({ value }) => inUnit(value)),
    below: named.filter((point) => !isAbove(point, c)).map(({ value }) => inUnit(value)),
  });
  const cut = ghost.filter((v) => v < domain[0] || v > domain[1]).length;
  // Short parts of a line at an edge are useless: if most of it is outside, its range is given in words.
  const isOff = cut > ghost.length / 2;
  const found = isOff ? [] : ghosts;
  const xs = left.map((row) => row['x'] as number);
  const [first, last] = extent(xs);
  const limits = limitsOf(c);
  const own = colours[phase.role];
  const { bars, caps } = bracketOf(context, c);
  const outcome = outcomeLines(context, phase, c);
  const beforeLines =
    before === undefined ? [] : outcomeLines(context, { ...phase, words: before.words }, before.c, false);
  const title = titleOf(context, c);
  const places = [
    ...new Map(
      points.filter((_, i) => series[i] === ids[0]).map((p) => [length.fromBase(p.position), p.station]),
    ),
  ];
  return {
    key,
    title,
    ...place,
    rail: c.rail,
    stations: named.map(({ rail, station }) => ({ rail, station })),
    caption: [
      ...captionParts(context, c, ids.length > 1),
      ...(isGhost ? [ghostWords(context, ghost, { isOff, isCut: cut > 0, phase: before.words }, c)] : []),
    ].join(' '),
    alt: [
      say('profile.alt', { title, outcome: told(outcome) }),
      ...(beforeLines.length === 0 ? [] : [`${told(beforeLines)}.`]),
      decisionWords(c, named, unit, context),
    ].join(' '),
    outcome: [outcome, beforeLines]
      .filter((lines) => lines.length > 0)
      .map(told)
      .join('. '),
    view: viewOf(ids.length > 1, input.isSloped === true),
    phone: { view: narrow(ids.length > 1), data: { words: [] } },
    params: {
      heading: yWords(c, other, unit.label, context),
      xWords: say('axis-title.stations', {
        from: positionText(points[0]!.position, length),
        to: withUnit(positionText(points.at(-1)!.position, length), length),
      }),
      yDomain: domain,
      xDomain: [first, last],
      rails: ids,
      // As found is dashed if as left is drawn too.
      foundDash: isFirst ? [] : [4, 3],
      lineColour: own,
      places: places.map(([x]) => x),
      stations: Object.fromEntries(places),
    },
    data: {
      zone: [{ from: inUnit(limits.from ?? 0), to: inUnit(limits.to ?? 0) }].map(({ from, to }) => ({
        from: limits.from === null ? domain[0] : from,
        to: limits.to === null ? domain[1] : to,
      })),
      zero: [{ y: 0 }],
      guard: guardsOf(context, c).map((base) => ({ y: inUnit(base) })),
      limits: [limits.from, limits.to].flatMap((base) => (base === null ? [] : [{ y: inUnit(base) }])),
      found: isFirst ? left : found,
      left: isFirst ? [] : left,
      moves: moves.map(({ position, by, name }) => ({
        x: length.fromBase(position),
        from: 0,
        to: inUnit(by),
        name,
      })),
      decides: named.map(({ rail, station, position, value }) => {
        const x = length.fromBase(position);
        const share = last > first ? (x - first) / (last - first) : 0.5;
        return {
          x,
          y: inUnit(value),
          isUp: isAbove({ value }, c),
          align: share < 0.1 ? 'left' : share > 0.9 ? 'right' : 'center',
          text: `${stationKey(rail, station)} ${signedText(value, unit, tenth(c))}`,
        };
      }),
      interval: bars.map(({ from, to, isValue }) => ({
        from: inUnit(from),
        to: inUnit(to),
        colour: own,
        width: isValue ? 5 : 1.2,
      })),
      caps: caps.map((base) => ({ y: inUnit(base), colour: own })),
      words: besideRows([...outcome, ...(beforeLines.length === 0 ? [] : ['', ...beforeLines])]),
    },
  };
}

/** Words about the earlier phase below the picture; its range if it is not drawn. */
function ghostWords(
  context: Context,
  ghost: readonly number[],
  { isOff, isCut, phase }: { isOff: boolean; isCut: boolean; phase: string },
  c: Judged,
): string {
  const unit = unitFor(context, c.unit);
  const text = (y: number) => signedText(y / unit.fromBase(1), unit, tenth(c));
  return context.say(isOff ? 'chart.ghost-off' : isCut ? 'chart.ghost-cut' : 'chart.ghost', {
    phase,
    from: text(Math.min(...ghost)),
    to: withUnit(text(Math.max(...ghost)), unit),
  });
}

/** Points are rounded by the uncertainty of the characteristic. */
const tenth = (c: Judged): number => 2 * c.u;

/**
 * The line that each point of a profile is on: its rail, or, where each pair of a group has a line, the pair. Pairs are in the order
 * of tolerance-questions.ts: each rail with all before it.
 */
function seriesOf({ profile = [], rails = [] }: Judged): string[] {
  let run = -1;
  const runs = profile.map(({ rail, position }, i) => {
    const before = profile[i - 1];
    return before?.rail === rail && before.position < position ? run : ++run;
  });
  const pairs = rails.flatMap((rail, i) => rails.slice(0, i).map((other) => `${rail} – ${other}`));
  return pairs.length === run + 1 && isOfPairs(profile)
    ? runs.map((k) => pairs[k]!)
    : profile.map(({ rail }) => rail);
}

/** Whether a station has a value against each of several rails. */
const isOfPairs = (profile: NonNullable<Judged['profile']>): boolean =>
  new Set(profile.map(({ rail, station }) => stationKey(rail, station))).size < profile.length;

/** The points that determine the value. */
function decidingOf(c: Judged) {
  const profile = c.profile ?? [];
  const isLocal = c.over !== undefined && !c.signed;
  if (isLocal || c.rails !== undefined || c.at.length === 0) {
    const by = (side: 1 | -1) => profile.reduce((a, b) => (side * b.value > side * a.value ? b : a));
    if (profile.length > 0 && !c.signed) return [by(1), by(-1)];
  }
  // Of the pairs of a station the one that has the value.
  const at = c.at.flatMap((p) =>
    profile
      .filter(({ rail, station }) => p.rail === rail && p.station === station)
      .sort((a, b) => Math.abs(a.value - c.value) - Math.abs(b.value - c.value))
      .slice(0, 1),
  );
  if (!c.signed || c.zone === undefined) return at;
  const ends = ([1, -1] as const).map((side) =>
    profile.reduce((a, b) => (side * b.value > side * a.value ? b : a)),
  );
  return ends[0] === ends[1] ? [ends[0]!] : ends;
}

function decisionWords(
  c: Judged,
  named: ReturnType<typeof decidingOf>,
  unit: ReportUnit,
  words: Words,
): string {
  const at = named.map(
    ({ rail, station, value }) =>
      `${stationKey(rail, station)} (${withUnit(signedText(value, unit, tenth(c)), unit)})`,
  );
  return at.length === 0
    ? ''
    : words.say('profile.decided', { at: words.list(at), verdict: verdictText(c.verdict, words) });
}

/** Explanation of this picture only; the common explanation is before all pictures. */
const captionParts = ({ say }: Words, c: Judged, isMany: boolean): string[] => [
  ...(c.over === undefined || c.signed ? [] : [say('profile.worst-stretch')]),
  ...(isMany ? [say(c.what === 'coplanarity' ? 'profile.one-plane' : 'profile.pairs')] : []),
];

/** "As left: conforms; 16.8 µm; 95 %: 8.7 to 22.3" */
export const told = ([phase, ...rest]: readonly string[]): string =>
  `${capitalised(phase!)}: ${rest.join('; ')}`;

/** The same characteristic in another phase. */
export const findSame = (phase: PhaseContext, c: Judged): Judged | undefined =>
  phase.phase.characteristics.filter(isJudged).find((b) => sameAsked(b, c) && (b.profile?.length ?? 0) > 0);
