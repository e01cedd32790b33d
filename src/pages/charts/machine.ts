/** The machine in plan and elevation: its rails, what does not conform and where, and where to move. */
import { isKnown } from '../../results/known.js';
import { positionText, withUnit } from '../../results/words/format-quantity.js';
import { verdictMarks } from '../../results/words/texts.js';
import { nameText, verdictText } from '../words/names.js';
import type { Chart, Part, Row } from './chart.js';
import { rowsOf } from './chart.js';
import { railWords, signedText, stationKey, type Context, type SurveyRail } from './context.js';
import { colours, dashes } from './theme.js';

const x = {
  field: 'x',
  type: 'quantitative',
  scale: { domain: { expr: 'xDomain' }, nice: false, zero: false, padding: 10 },
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

const plan = (width: number, rails: number): Part => ({
  width,
  height: Math.max(90, 46 * rails),
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
    label('setups', { style: 'quiet', dy: -12 }),
    label('monuments', { style: 'quiet', dy: -11 }),
    symbol('moves', { shape: 'square', size: 70, color: colours.ink }),
    label('moves', { style: 'quiet', dy: 13 }),
    symbol('decides', { shape: 'diamond', size: 80, color: colours.ink }),
    label('decides', { style: 'named', dy: -13, align: { expr: 'datum.align' }, limit: 120 }),
    label('names', { align: 'left', dx: 16, fontWeight: 'bold' }),
    label('states', { align: 'left', dx: 16, dy: { expr: '13 * datum.line' }, style: 'quiet', limit: 0 }),
  ],
});

const elevation = (width: number, xTitle: string, right: boolean): Part => ({
  width,
  height: 120,
  title: { text: { expr: 'heightWords' } },
  encoding: {
    x: { ...x, axis: { values: { expr: 'places' }, labelExpr: 'stationNames[datum.value]' }, title: xTitle },
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
        strokeDash: {
          field: 'rail',
          scale: { domain: { expr: 'railIds' }, range: dashes },
          legend: {
            symbolType: 'stroke',
            ...(right
              ? { legendX: 474, legendY: 10 }
              : { direction: 'horizontal', legendX: 0, legendY: 156 }),
          },
        },
      },
    },
    {
      ...rowsOf('heights'),
      mark: { type: 'point', aria: true, size: 14, color: { expr: 'lineColour' } },
      encoding: { description: { field: 'says' } },
    },
  ],
});

/** @param decided The pictures of what decides: where they name stations, the plan does. */
export function machineChart(context: Context, decided: readonly Chart[]): Chart[] {
  const { results, last, length, deviation, datum, k, say } = context;
  const { survey, corrections } = results;
  const rails = survey.rails.filter(({ stations }) => stations.length > 0);
  if (rails.length === 0) return [];
  const at = ({ along, across }: { along: number; across: number }) => ({
    x: length.fromBase(along),
    y: length.fromBase(across),
  });
  const endsOf = ({ stations }: SurveyRail) => [stations[0]!, stations.at(-1)!] as const;
  const middleOf = (rail: SurveyRail) => {
    const [a, b] = endsOf(rail);
    return at({ along: b.along, across: (a.across + b.across) / 2 });
  };
  const all = [...rails.flatMap(endsOf), ...survey.setups, ...survey.monuments].map(at);
  const extent = (values: readonly number[]): [number, number] => [Math.min(...values), Math.max(...values)];
  const xDomain = extent(all.map((p) => p.x));
  const alignOf = (p: { x: number }) =>
    p.x < xDomain[0] + 0.06 * (xDomain[1] - xDomain[0])
      ? 'left'
      : p.x > xDomain[1] - 0.06 * (xDomain[1] - xDomain[0])
        ? 'right'
        : 'center';
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
  const datumOfMoves = (rail: string, along: number) => {
    const own = rails.find(({ id }) => id === rail);
    return own === undefined
      ? []
      : [
          {
            x: length.fromBase(own.direction === 'along' ? along : own.stations[0]!.along),
            y: length.fromBase(own.direction === 'along' ? own.stations[0]!.across : along),
          },
        ];
  };
  const states = rails.map((rail) => ({
    rail,
    words: open
      .filter((c) => c.rail === rail.id)
      .map((c) => ({ c, text: `${verdictMarks[c.verdict]} ${nameText(c.what, context)}` })),
  }));
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
  const xTitle = say('axis-title.stations', {
    from: positionText(from.along, length),
    to: withUnit(positionText(to.along, length), length),
  });
  const view = (width: number, right: boolean) => ({
    resolve: { legend: { strokeDash: 'independent' } },
    vconcat: [plan(width, rails.length), ...(heights.length > 0 ? [elevation(width, xTitle, right)] : [])],
  });
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
        ...(isAdjusted && moved.length > 0 ? [say('machine.squares')] : []),
        say('machine.triangles'),
        ...(heights.length > 0 ? [say('machine.below', { phase: last.words })] : []),
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
      view: view(458, true),
      phone: { view: view(292, false), data: { states: [] } },
      params: {
        xDomain,
        acrossDomain: extent(all.map((p) => p.y)),
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
        moves: isAdjusted
          ? moved.flatMap((m) => datumOfMoves(m.rail, m.along).map((p) => ({ ...p, text: m.adjuster })))
          : [],
        decides: decides.flatMap((s) => {
          const place = placeOf(s.rail, s.station);
          return place === undefined
            ? []
            : [{ ...at(place), text: stationKey(s.rail, s.station), align: alignOf(at(place)) }];
        }),
        names: rails.map((rail) => ({
          ...middleOf(rail),
          x: xDomain[1],
          text: rail.datum ? say('sketch.datum', { rail: rail.id }) : rail.id,
        })),
        states: states.flatMap(({ rail, words }) =>
          words.slice(0, 2).map(({ text }, i) => ({ ...middleOf(rail), x: xDomain[1], text, line: i + 1 })),
        ),
        ...(heights.length > 0 && {
          heights,
        }),
      },
    },
  ];
}
