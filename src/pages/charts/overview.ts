/** All rails in small pictures with one scale: what has no tolerance is seen here, and what is far from its limit. */
import { isKnown } from '../../results/known.js';
import type { Quantity, StationResult } from '../../results/results-schema.js';
import { withUnit } from '../../results/words/format-quantity.js';
import { axisText } from '../words/names.js';
import type { Chart, Part, Row } from './chart.js';
import { rowsOf } from './chart.js';
import {
  railPosition,
  railWords,
  signedText,
  stationKey,
  stationsOf,
  type Context,
  type SurveyRail,
} from './context.js';
import { colours } from './theme.js';

interface Panel {
  readonly name: string;
  readonly rail: SurveyRail;
  readonly of: (station: StationResult) => Quantity | undefined;
}

const view = (columns: number, yTitle: string, lengthLabel: string, hasBoth: boolean): Part => {
  const y = { field: 'y', type: 'quantitative', title: null, scale: { domain: { expr: 'yDomain' } } };
  const x = {
    field: 'x',
    type: 'quantitative',
    title: lengthLabel,
    axis: { tickCount: 4 },
    scale: { domain: { expr: 'xDomain' }, nice: false },
  };
  const line = (role: 'as-left' | 'as-found', dash: readonly number[]): Part[] => [
    {
      name: `${role}-line`,
      transform: [{ filter: `datum.role === '${role}'` }],
      mark: { type: 'line', color: colours[role], strokeDash: dash },
      encoding: { x, y },
    },
    {
      name: `${role}-point`,
      transform: [{ filter: `datum.role === '${role}'` }],
      mark: {
        type: 'point',
        aria: true,
        color: colours[role],
        size: 14,
        shape: role === 'as-left' ? 'circle' : 'diamond',
      },
      encoding: { x, y, description: { field: 'says' } },
    },
  ];
  return {
    ...rowsOf('points'),
    title: { text: yTitle },
    facet: { field: 'panel', type: 'nominal', sort: { field: 'n', op: 'min' } },
    columns,
    spec: {
      width: columns === 1 ? 560 : columns === 2 ? 284 : 180,
      height: 76,
      layer: [
        {
          transform: [{ filter: "datum.role === 'zero'" }],
          mark: { type: 'rule', style: 'zero' },
          encoding: { y },
        },
        ...line('as-found', hasBoth ? [4, 3] : [1, 0]),
        ...line('as-left', [1, 0]),
      ],
    },
  };
};

export function overviewCharts(context: Context): Chart[] {
  const { rails } = context.results.survey;
  const { datum, say } = context;
  const own = rails.flatMap((rail): Panel[] =>
    (['vertical', 'horizontal', 'along'] as const).map((plane) => ({
      name: say('overview.panel', { rail: railWords(rail.id, context), plane: axisText(plane, context) }),
      rail,
      of: (station) => station.deviation[plane],
    })),
  );
  const others = rails.filter((rail) => !rail.datum && rail.direction === 'along');
  const between = others.flatMap((rail): Panel[] =>
    (['height', 'offset'] as const).map((what) => ({
      name: say(`overview.${what}`, { rail: railWords(rail.id, context) }),
      rail,
      of: (station) => station.difference?.[what],
    })),
  );
  const { label } = context.deviation;
  return [
    ...sheet(context, 'overview', own, {
      title: say('overview.title'),
      heading: say('overview.heading', { unit: label }),
      section: 'straightness',
    }),
    ...(datum === undefined
      ? []
      : sheet(context, 'differences', between, {
          title: say('differences.title', { rail: railWords(datum.id, context) }),
          heading: say('differences.heading', { rail: railWords(datum.id, context), unit: label }),
          section: 'parallelism',
        })),
  ];
}

function sheet(
  context: Context,
  key: string,
  panels: readonly Panel[],
  words: { title: string; heading: string; section: Chart['section'] },
): Chart[] {
  const { deviation, length, phases, k, say } = context;
  const points = panels.flatMap(({ name, rail, of }, n) =>
    phases.flatMap((phase): Row[] => {
      const stations = stationsOf(phase);
      return rail.stations.flatMap((place): Row[] => {
        const station = stations.get(stationKey(rail.id, place.station));
        const quantity = station && of(station);
        if (!isKnown(quantity)) return [];
        return [
          {
            panel: name,
            n,
            role: phase.role,
            x: length.fromBase(railPosition(rail, place)),
            y: deviation.fromBase(quantity.value),
            says: say('chart.point', {
              station: stationKey(rail.id, place.station),
              figure: withUnit(signedText(quantity.value, deviation, k * quantity.u), deviation),
              phase: phase.words,
            }),
          },
        ];
      });
    }),
  );
  const shown = [...new Set(points.map((row) => row['panel'] as string))];
  if (shown.length === 0) return [];
  const extent = (field: 'x' | 'y'): [number, number] => {
    const values = [...points.map((row) => row[field] as number), ...(field === 'y' ? [0] : [])];
    return [Math.min(...values), Math.max(...values)];
  };
  const { heading, ...rest } = words;
  const ranges = shown.map((name) => {
    const values = points.filter((row) => row['panel'] === name).map((row) => row['y'] as number);
    const text = (v: number) => signedText(v / deviation.fromBase(1), deviation, 1);
    return say('overview.range', {
      name,
      from: text(Math.min(...values)),
      to: text(Math.max(...values)),
    });
  });
  const both = phases.length > 1 ? [say('chart.ghost', { phase: phases[0]!.words })] : [];
  return [
    {
      key,
      ...rest,
      caption: [say('overview.caption'), ...both].join(' '),
      alt: say('overview.alt', { title: rest.title, unit: deviation.label, ranges: ranges.join('; ') }),
      role: 'annex',
      of: [],
      stations: [],
      view: view(
        Math.min(2, shown.length),
        heading,
        say(panels[0]!.rail.direction === 'along' ? 'axis-title.along' : 'axis-title.across', {
          unit: length.label,
        }),
        phases.length > 1,
      ),
      params: { xDomain: extent('x'), yDomain: extent('y') },
      data: {
        points: [
          ...points,
          ...shown.map((panel) => ({
            panel,
            role: 'zero',
            y: 0,
            n: panels.findIndex(({ name }) => name === panel),
          })),
        ],
      },
    },
  ];
}
