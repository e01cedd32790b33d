/** The machine in plan and elevation: its rails, the places that do not conform, and the places of moves. */
import { extent } from '../../base/statistics/extent.js';
import { isKnown } from '../../results/known.js';
import { positionText, withUnit } from '../../results/words/format-quantity.js';
import { verdictMarks } from '../../results/words/texts.js';
import { nameText, verdictText } from '../words/names.js';
import type { Results } from '../../results/results-schema.js';
import { directionOf } from '../report/correction-sheet.js';
import type { Chart, Kind, Part, Row } from './chart.js';
import { rowsOf } from './chart.js';
import { railWords, signedText, stationKey, type Context, type SurveyRail } from './context.js';
import { colours, dashes, LINE } from './theme.js';

const x = {
  field: 'x',
  type: 'quantitative',
  scale: { domain: { expr: 'xDomain' }, nice: false, zero: false, padding: 20 },
};
const symbol = (name: string, mark: Part): Part => ({
  ...rowsOf(name),
  mark: { type: 'point', ...mark },
});
const label = (name: string, mark: Part): Part => ({
  ...rowsOf(name),
  mark: { type: 'text', ...mark },
  encoding: { text: { field: 'text' } },
});

/** Tallest plan that fits on a page of a report with its caption, px. */
const TALLEST = 660;
/** Of the plan: room for the text at each rail, px. */
const heightOf = (rails: number): number => Math.min(38 * rails + 12, TALLEST);

const plan = (width: number, rails: number): Part => ({
  width,
  height: heightOf(rails),
  title: { text: { expr: 'planWords' } },
  encoding: {
    x: { ...x, title: null, axis: null },
    y: {
      field: 'y',
      type: 'quantitative',
      title: null,
      axis: null,
      scale: { domain: { expr: 'acrossDomain' }, nice: false, zero: false, padding: 16 },
    },
  },
  layer: [
    {
      ...rowsOf('rails'),
      mark: {
        type: 'rule',
        strokeWidth: { expr: 'datum.isDatum ? 7 : 5' },
        color: { expr: `datum.isDatum ? '${colours.rule}' : '${colours.hair}'` },
      },
      encoding: { x2: { field: 'x2' }, y2: { field: 'y2' } },
    },
    {
      ...symbol('stations', { shape: 'circle', size: 10, color: colours.soft, aria: true }),
      encoding: { description: { field: 'says' } },
    },
    symbol('monuments', { shape: 'diamond', size: 60, filled: false, stroke: colours.soft }),
    symbol('setups', { shape: 'triangle-up', size: 90, filled: false, stroke: colours.ink }),
    label('setups', { style: 'quiet', align: 'right', dx: -8 }),
    label('monuments', { style: 'quiet', align: 'left', dx: 8 }),
    symbol('stays', { shape: 'square', size: 40, filled: false, stroke: colours.soft }),
    symbol('moves', { shape: 'square', size: 60, color: colours.ink }),
    label('moves', { dy: 12, align: { expr: 'datum.align' } }),
    // White around it: the place may be one that moves.
    symbol('decides', {
      shape: 'diamond',
      size: 60,
      color: colours.ink,
      stroke: colours.paper,
      strokeWidth: 1.4,
      strokeOpacity: 1,
    }),
    label('decides', { style: 'named', dy: -11, align: { expr: 'datum.align' }, limit: 120 }),
    label('names', { align: 'left', dx: 16, dy: { expr: `${LINE} * datum.line` }, fontWeight: 'bold' }),
    label('states', {
      align: 'left',
      dx: 16,
      dy: { expr: `${LINE} * datum.line` },
      style: 'quiet',
      limit: 0,
    }),
  ],
});

/** @param rails More of them than there are kinds of lines: the lines of all are alike, without a legend. */
const elevation = (width: number, height: number, rails: number): Part => ({
  width,
  height,
  title: { text: { expr: 'heightWords' } },
  encoding: {
    x: {
      ...x,
      axis: {
        values: { expr: 'places' },
        labelExpr: 'stationNames[datum.value]',
        title: { expr: 'xWords' },
      },
    },
    y: { field: 'y', type: 'quantitative', title: null },
  },
  layer: [
    {
      data: { values: [{ y: 0 }] },
      mark: { type: 'rule', style: 'zero' },
      encoding: { x: null, y: { field: 'y' } },
    },
    {
      ...rowsOf('heights'),
      mark: { type: 'line', color: { expr: 'lineColour' } },
      encoding: {
        detail: { field: 'rail' },
        ...(rails <= dashes.length && {
          strokeDash: {
            field: 'rail',
            scale: { domain: { expr: 'railIds' }, range: dashes },
            legend: {
              symbolType: 'stroke',
              symbolSize: 400,
              symbolStrokeColor: { expr: 'lineColour' },
              orient: 'right',
              direction: 'vertical',
            },
          },
        }),
      },
    },
    {
      ...rowsOf('heights'),
      mark: { type: 'point', aria: true, size: 14, color: { expr: 'lineColour' } },
      encoding: { description: { field: 'says' } },
    },
  ],
});

const viewOf = (rails: number, isLevelled: boolean, isNarrow = false): Part => ({
  concat: [
    plan(isNarrow ? 240 : isLevelled ? 226 : 458, rails),
    ...(isLevelled ? [elevation(isNarrow ? 292 : 176, Math.max(64, heightOf(rails) - 24), rails)] : []),
  ],
  columns: isNarrow && isLevelled ? 1 : 2,
});

export const machineKinds: readonly Kind[] = [false, true].flatMap((isLevelled) =>
  [false, true].map((isNarrow) => ({
    view: viewOf(2, isLevelled, isNarrow),
    isSized: true,
    params: [
      ...['xDomain', 'xWords', 'acrossDomain', 'planWords', 'heightWords', 'places', 'stationNames'],
      ...['railIds', 'lineColour'],
    ],
  })),
);

type Moved = NonNullable<Results['corrections']['moves']>[number];

/** A position across, counted in rails and interpolated linearly. @param rows Across of each rail, ascending, mm. */
function evenly(across: number, rows: readonly number[]): number {
  if (rows.length < 2) return rows.length === 0 ? 0 : Math.sign(across - rows[0]!);
  const k = Math.max(
    0,
    Math.min(
      rows.length - 2,
      rows.findLastIndex((row) => row <= across),
    ),
  );
  const share = (across - rows[k]!) / (rows[k + 1]! - rows[k]!);
  return k + Math.max(-0.7, Math.min(1.7, share));
}

/** Length of one character of a name, as a share of the length of the plan. */
const NAME_CHARACTER = 0.036;
/** Of a cross rail, in distances from rail to rail. */
const NEAREST_ACROSS = 0.6;

interface OnRail {
  readonly x: number;
  readonly y: number;
  readonly rail: string;
}

/** Points of one rail, from left to right or from below, in groups: two neighbours whose labels would cover each other are one. */
function inGroups<T extends OnRail>(
  points: readonly T[],
  areNear: (one: readonly T[], next: readonly T[]) => boolean,
): T[][] {
  const groups: T[][] = [];
  const sorted = [...points].sort((a, b) =>
    a.rail < b.rail ? -1 : a.rail > b.rail ? 1 : a.x - b.x || a.y - b.y,
  );
  for (const point of sorted) {
    let last = [point];
    for (let before = groups.at(-1); before !== undefined; before = groups.at(-1)) {
      const [one, next] = [before.at(-1)!, last[0]!];
      if (one.rail !== next.rail) break;
      const isNear = one.x === next.x ? next.y - one.y < NEAREST_ACROSS : areNear(before, last);
      if (!isNear) break;
      last = [...groups.pop()!, ...last];
    }
    groups.push(last);
  }
  return groups;
}

const middleIndex = (group: readonly unknown[]): number => (group.length - 1) >> 1;

type Ends = readonly [number, number];

/** Near an end of the plan a label begins or ends at its place. */
const alignAt = (x: number, [first, last]: Ends): 'left' | 'right' | 'center' =>
  x < first + 0.06 * (last - first) ? 'left' : x > last - 0.06 * (last - first) ? 'right' : 'center';

/** Whether the labels of two groups, each at the middle of its group, would cover each other. */
const isCovered = <T>(labelOf: (group: readonly T[]) => string, ends: Ends) => {
  const extentOf = (group: readonly (T & OnRail)[]): Ends => {
    const { x } = group[middleIndex(group)]!;
    const width = (labelOf(group).length + 1) * NAME_CHARACTER * (ends[1] - ends[0]);
    const left = { left: 0, center: width / 2, right: width }[alignAt(x, ends)];
    return [x - left, x - left + width];
  };
  return (one: readonly (T & OnRail)[], next: readonly (T & OnRail)[]): boolean =>
    extentOf(next)[0] < extentOf(one)[1];
};

/** "A1 ↑", "A1–A4 ↑", "A1–A4" if they do not all move the same way. */
function moveLabel(group: readonly { readonly name: string; readonly arrows: string }[]): string {
  const [first, last] = [group[0]!, group.at(-1)!];
  const names = first === last ? first.name : `${first.name}–${last.name}`;
  return group.every((one) => one.arrows === first.arrows) ? `${names}\u2009${first.arrows}` : names;
}

/** "B:4", "B:4, 7, 9", "B:4 … 25" */
function namesOf(group: readonly { readonly rail: string; readonly station: number }[]): string {
  const numbers = group.map(({ station }) => station);
  const [first, last] = [numbers[0]!, numbers.at(-1)!];
  return `${group[0]!.rail}:${numbers.length > 3 ? `${first} … ${last}` : numbers.join(', ')}`;
}

/**
 * How many lines lower than its rail each block of text begins, so that none covers another: from the top, each is moved down as
 * far as it must be.
 *
 * @param blocks Place of the rail, px from the top, and how many lines its text has.
 */
export function shiftsOf(blocks: readonly { readonly at: number; readonly lines: number }[]): number[] {
  const shifts = blocks.map(() => 0);
  let free = -Infinity;
  const order = blocks.map((_, i) => i).sort((a, b) => blocks[a]!.at - blocks[b]!.at || a - b);
  for (const i of order) {
    const { at, lines } = blocks[i]!;
    const top = Math.max(at, free);
    shifts[i] = (top - at) / LINE;
    free = top + LINE * lines;
  }
  return shifts;
}

/** Open characteristics that are named at a rail; of more, their number is said. */
const MOST_STATES = 2;

const stateLines = (texts: readonly string[], { say }: Context): string[] =>
  texts.length <= MOST_STATES + 1
    ? [...texts]
    : [...texts.slice(0, MOST_STATES), say('leave.more', { count: texts.length - MOST_STATES })];

/** @param decided The pictures of decisions: the plan names the stations that they name. */
export function machineChart(context: Context, decided: readonly Chart[]): Chart[] {
  const { results, last, length, deviation, datum, k, say } = context;
  const { survey, corrections } = results;
  const rails = survey.rails.filter(({ stations }) => stations.length > 0);
  if (rails.length === 0) return [];
  // Rails are drawn at equal distances, whatever their real distances, so that there is room for the text.
  const rows = [
    ...new Set(
      rails.filter(({ direction }) => direction === 'along').map(({ stations }) => stations[0]!.across),
    ),
  ].sort((a, b) => a - b);
  const at = ({ along, across }: { along: number; across: number }) => ({
    x: length.fromBase(along),
    y: evenly(across, rows),
  });
  const endsOf = ({ stations }: SurveyRail) => [stations[0]!, stations.at(-1)!] as const;
  const middleOf = (rail: SurveyRail) => {
    const [a, b] = endsOf(rail);
    return at({ along: b.along, across: (a.across + b.across) / 2 });
  };
  const all = [...rails.flatMap(endsOf), ...survey.setups, ...survey.monuments].map(at);
  const xDomain = extent(all.map((p) => p.x));
  const alignOf = (p: { x: number }) => alignAt(p.x, xDomain);
  const placeOf = (id: string, station: number) =>
    rails.find((rail) => rail.id === id)?.stations.find((s) => s.station === station);
  const open = last.phase.characteristics.filter(
    (c) => c.verdict === 'does-not-conform' || c.verdict === 'undecided',
  );
  const named = decided
    .filter(({ of }) =>
      of.some(({ characteristic }) => open.includes(last.phase.characteristics[characteristic]!)),
    )
    .flatMap(({ stations }) => stations);
  const decides = [...new Map(named.map((s) => [stationKey(s.rail, s.station), s])).values()];
  const moved = [...new Map((corrections.moves ?? []).map((m) => [`${m.rail}\n${m.along}`, m])).values()];
  const isAdjusted = corrections.of === 'adjusters';
  const placed = (rail: string, along: number) => {
    const own = rails.find(({ id }) => id === rail);
    if (own === undefined) return [];
    const { across, along: first } = own.stations[0]!;
    return [at(own.direction === 'along' ? { along, across } : { along: first, across: along })];
  };
  const directionsOf = (of: Moved) =>
    (corrections.moves ?? [])
      .filter(({ rail, along }) => rail === of.rail && along === of.along)
      .map(
        (move) =>
          directionOf(move, rails.find(({ id }) => id === move.rail)?.direction ?? 'along', context).arrow,
      )
      .join('');
  const states = rails.map((rail) => ({
    rail,
    words: open
      .filter((c) => c.rail === rail.id)
      .map((c) => ({ c, text: `${verdictMarks[c.verdict]} ${nameText(c.what, context)}` })),
  }));
  // Text at the right end of each rail; a cross rail may end where another rail does.
  const acrossDomain = extent(all.map((p) => p.y));
  const pxPerRow = (heightOf(rails.length) - 32) / Math.max(1e-9, acrossDomain[1] - acrossDomain[0]);
  const shifts = shiftsOf(
    states.map(({ rail, words }) => ({
      at: (acrossDomain[1] - middleOf(rail).y) * pxPerRow,
      lines: 1 + Math.min(MOST_STATES + 1, words.length),
    })),
  );
  const lineStations = datum ?? rails[0]!;
  const heights = rails
    .filter(({ direction }) => direction === 'along')
    .flatMap((rail) =>
      last.phase.stations.flatMap((s): (Row & { x: number; y: number; rail: string })[] =>
        s.rail === rail.id && isKnown(s.height)
          ? [
              {
                rail: rail.id,
                x: length.fromBase(s.along),
                y: deviation.fromBase(s.height.value),
                says: say('machine.height', {
                  station: stationKey(s.rail, s.station),
                  figure: withUnit(signedText(s.height.value, deviation, k * s.height.u), deviation),
                  phase: last.words,
                }),
              },
            ]
          : [],
      ),
    );
  const ids = [...new Set(heights.map(({ rail }) => rail))];
  const [from, to] = endsOf(lineStations);
  const openWords = states.flatMap(({ rail, words }) =>
    words.length === 0
      ? []
      : [
          say('machine.open-rail', {
            rail: railWords(rail.id, context),
            list: words
              .map(({ c }) =>
                say('plan.expected', {
                  name: nameText(c.what, context),
                  verdict: verdictText(c.verdict, context),
                }),
              )
              .join(', '),
          }),
        ],
  );
  const isLevelled = heights.length > 0;
  return [
    {
      key: 'machine',
      title: say('machine.title'),
      section: 'plan',
      role: 'body',
      of: [],
      stations: decides,
      caption: [
        say('machine.above'),
        ...(decides.length > 0 ? [say('machine.diamonds')] : []),
        ...(open.length > 0
          ? [
              say('machine.marks', {
                marks: [...new Set(open.map(({ verdict }) => verdict))]
                  .map((verdict) => `${verdictMarks[verdict]} ${verdictText(verdict, context)}`)
                  .join(', '),
              }),
            ]
          : []),
        ...(moved.length > 0 ? [say('machine.squares', { of: isAdjusted ? 'adjusters' : 'places' })] : []),
        say('machine.triangles'),
        ...(survey.monuments.length > 0 ? [say('machine.monuments')] : []),
        ...(heights.length > 0 ? [say('machine.right', { phase: last.words })] : []),
      ].join(' '),
      alt: say('machine.alt', {
        elevation: String(heights.length > 0),
        rails: rails
          .map((r) =>
            say(r.datum ? 'machine.alt.datum' : 'machine.alt.rail', {
              rail: railWords(r.id, context),
              stations: r.stations.length,
            }),
          )
          .join('; '),
        setups: survey.setups.length,
        open: openWords.length === 0 ? 'none' : openWords.join('; '),
        decided: decides.length === 0 ? 'none' : decides.map((s) => stationKey(s.rail, s.station)).join(', '),
      }),
      view: viewOf(rails.length, isLevelled),
      phone: { view: viewOf(rails.length, isLevelled, true), data: { states: [] } },
      isSized: true,
      params: {
        xDomain,
        xWords: say('axis-title.stations', {
          from: positionText(from.along, length),
          to: withUnit(positionText(to.along, length), length),
        }),
        acrossDomain,
        planWords: say('machine.from-above'),
        heightWords: say('machine.heights', { phase: last.words, unit: deviation.label }),
        places: lineStations.stations.map((s) => length.fromBase(s.along)),
        stationNames: Object.fromEntries(
          lineStations.stations.map((s) => [length.fromBase(s.along), s.station]),
        ),
        railIds: ids,
        lineColour: colours[last.role],
      },
      data: {
        rails: rails.map((rail) => {
          const [a, b] = endsOf(rail).map(at) as [{ x: number; y: number }, { x: number; y: number }];
          return { ...a, x2: b.x, y2: b.y, isDatum: rail.datum };
        }),
        stations: rails.flatMap((rail) =>
          rail.stations.map((s) => ({
            ...at(s),
            says: say('machine.point', {
              station: stationKey(rail.id, s.station),
              along: positionText(s.along, length),
              across: withUnit(positionText(s.across, length), length),
            }),
          })),
        ),
        setups: survey.setups.map((s) => ({ ...at(s), text: s.id })),
        monuments: survey.monuments.map((s) => ({ ...at(s), text: s.id })),
        stays: isAdjusted
          ? (corrections.places ?? []).flatMap((place) =>
              moved.some((m) => m.rail === place.rail && m.along === place.along)
                ? []
                : placed(place.rail, place.along),
            )
          : [],
        moves: inGroups(
          moved.flatMap((m) =>
            placed(m.rail, m.along).map((p) => ({
              ...p,
              rail: m.rail,
              name: m.adjuster,
              arrows: directionsOf(m),
            })),
          ),
          isCovered(moveLabel, xDomain),
        ).flatMap((group) =>
          group.map(({ x, y }, i) => ({
            ...{ x, y, align: alignOf({ x }) },
            text: i === middleIndex(group) ? moveLabel(group) : '',
          })),
        ),
        decides: inGroups(
          decides.flatMap((s) => {
            const place = placeOf(s.rail, s.station);
            return place === undefined ? [] : [{ ...at(place), ...s }];
          }),
          isCovered(namesOf, xDomain),
        ).flatMap((group) =>
          group.map(({ x, y }, i) => ({
            ...{ x, y, align: alignOf({ x }) },
            text: i === middleIndex(group) ? namesOf(group) : '',
          })),
        ),
        names: rails.map((rail, k) => ({
          ...middleOf(rail),
          x: xDomain[1],
          line: shifts[k]!,
          text: rail.datum ? say('sketch.datum', { rail: rail.id }) : rail.id,
        })),
        states: states.flatMap(({ rail, words }, k) =>
          stateLines(
            words.map(({ text }) => text),
            context,
          ).map((text, i) => ({
            ...middleOf(rail),
            ...{ x: xDomain[1], text, line: shifts[k]! + i + 1 },
          })),
        ),
        ...(heights.length > 0 && {
          heights,
        }),
      },
    },
  ];
}
