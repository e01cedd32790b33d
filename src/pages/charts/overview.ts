/** All rails in small pictures with one scale: characteristics without a tolerance, and those far from their limits. */
import { extent } from '../../base/statistics/extent.js';
import { isKnown } from '../../results/known.js';
import type { Quantity, StationResult } from '../../results/results-schema.js';
import { withUnit } from '../../results/words/format-quantity.js';
import { axisText } from '../words/names.js';
import type { Chart, Kind, Part } from './chart.js';
import { rowsOf } from './chart.js';
import {
  railPosition,
  railWords,
  signedText,
  stationKey,
  stationsOf,
  type Context,
  type Role,
  type SurveyRail,
} from './context.js';
import { colours } from './theme.js';

/** Panels side by side, px as all pictures. */
const MOST_ACROSS = 4;
/** Number of panels of both groups in one row. */
const MOST_IN_ROW = 6;
/** Number of rows of panels that fit on a page with a caption. */
const MOST_ROWS = 7;
const ACROSS = 656;
/**
 * Distance between panels, and width for the numbers at the left of a row. Panels are laid out by their plots alone, because without a
 * canvas the width of a name is only estimated, and much too wide: the picture would be printed with smaller letters.
 */
const GAP = { column: 24, row: 32 };
const NUMBERS = 33;

interface Panel {
  readonly name: string;
  readonly rail: SurveyRail;
  readonly of: (station: StationResult) => Quantity | undefined;
}

type Group = 'own' | 'between';

/** One scale for all panels of a group. */
const facet = (group: Group, width: number, isOneRow: boolean): Part => {
  const y = {
    field: 'y',
    type: 'quantitative',
    title: null,
    scale: { domain: { expr: `yDomains['${group}']` } },
    axis: { tickCount: 4 },
  };
  const x = {
    field: 'x',
    type: 'quantitative',
    axis: { tickCount: 3, title: { expr: 'xWords' } },
    scale: { domain: { expr: 'xDomain' }, nice: false },
  };
  const line = (role: Role): Part[] => [
    {
      name: `${role}-line-${group}`,
      transform: [{ filter: `datum.role === '${role}'` }],
      mark: { type: 'line', color: colours[role], strokeDash: { expr: `dash['${role}']` } },
      encoding: { x, y },
    },
    {
      name: `${role}-point-${group}`,
      transform: [{ filter: `datum.role === '${role}'` }],
      mark: {
        type: 'point',
        aria: true,
        color: colours[role],
        size: 12,
        shape: role === 'as-left' ? 'circle' : 'diamond',
      },
      encoding: { x, y, description: { field: 'says' } },
    },
  ];
  return {
    ...rowsOf(group),
    title: { text: { expr: `headings['${group}']` } },
    facet: { field: 'panel', type: 'nominal', sort: { field: 'n', op: 'min' } },
    ...(!isOneRow && { columns: MOST_ACROSS }),
    ...{ bounds: 'flush', spacing: GAP },
    spec: {
      width,
      height: 66,
      layer: [
        {
          transform: [{ filter: "datum.role === 'zero'" }],
          mark: { type: 'rule', style: 'zero' },
          encoding: { x, x2: { field: 'to' }, y },
        },
        ...line('as-found'),
        ...line('as-left'),
      ],
    },
  };
};

const viewOf = (groups: readonly { group: Group; width: number }[], isOneRow: boolean): Part => ({
  [isOneRow ? 'hconcat' : 'vconcat']: groups.map(({ group, width }) => facet(group, width, isOneRow)),
});

export const overviewKinds: readonly Kind[] = [false, true].flatMap((isOneRow) =>
  ([['own'], ['between'], ['own', 'between']] as const).map((groups) => ({
    view: viewOf(
      groups.map((group) => ({ group, width: 100 })),
      isOneRow,
    ),
    isSized: true,
    params: ['xWords', 'headings', 'xDomain', 'yDomains', 'dash'],
  })),
);

export function overviewCharts(context: Context): Chart[] {
  const { rails } = context.results.survey;
  const { datum, phases, deviation, length, say } = context;
  const own = rails.flatMap((rail): Panel[] =>
    (['vertical', 'horizontal', 'along'] as const).map((plane) => ({
      name: say('overview.panel', { rail: rail.id, plane: axisText(plane, context) }),
      rail,
      of: (station) => station.deviation[plane],
    })),
  );
  const others = rails.filter((rail) => !rail.datum && rail.direction === 'along');
  const between = others.flatMap((rail): Panel[] =>
    (['height', 'offset'] as const).map((what) => ({
      name: say(`overview.${what}`, { rail: rail.id }),
      rail,
      of: (station) => station.difference?.[what],
    })),
  );
  const groups = [
    { group: 'own' as const, panels: own, heading: say('overview.own', { unit: deviation.label }) },
    {
      group: 'between' as const,
      panels: between,
      heading: say('overview.between', { rail: railWords(datum?.id ?? '', context), unit: deviation.label }),
    },
  ].flatMap(({ panels, ...about }) => {
    const rows = rowsOfPanels(context, panels);
    const shown = [...new Set(rows.map(({ panel }) => panel))];
    return shown.length === 0 ? [] : [{ ...about, rows, shown }];
  });
  const text = (v: number) => signedText(v / deviation.fromBase(1), deviation, 1);
  const title = say('overview.title');
  const xDomain = extent(groups.flatMap(({ rows }) => rows.map(({ x }) => x)));
  const yDomains = Object.fromEntries(
    groups.map(({ group, rows }) => [group, extent([0, ...rows.map(({ y }) => y)])]),
  );
  return picturesOf(groups).map((parts): Chart => {
    const count = parts.reduce((sum, { shown }) => sum + shown.length, 0);
    const isOneRow = count <= MOST_IN_ROW;
    return {
      key: 'overview',
      title,
      caption: [
        say('overview.caption'),
        ...(phases.length > 1 ? [say('chart.ghost', { phase: phases[0]!.words })] : []),
      ].join(' '),
      alt: say('overview.alt', {
        title,
        unit: deviation.label,
        ranges: parts
          .flatMap(({ rows, shown }) =>
            shown.map((name) => {
              const [least, most] = extent(rows.filter(({ panel }) => panel === name).map(({ y }) => y));
              return say('overview.range', { name, from: text(least), to: text(most) });
            }),
          )
          .join('; '),
      }),
      section: 'straightness',
      role: 'annex',
      of: [],
      stations: [],
      view: viewOf(
        parts.map(({ group, shown }) => ({
          group,
          width:
            (ACROSS - NUMBERS * (isOneRow ? parts.length : 1)) /
              (isOneRow ? count : Math.min(MOST_ACROSS, shown.length)) -
            GAP.column,
        })),
        isOneRow,
      ),
      isSized: true,
      params: {
        xWords: length.label,
        headings: Object.fromEntries(parts.map(({ group, heading }) => [group, heading])),
        xDomain,
        yDomains,
        // As found is dashed if as left is drawn too.
        dash: { 'as-found': phases.length > 1 ? [4, 3] : [], 'as-left': [] },
      },
      data: Object.fromEntries(
        parts.map(({ group, rows, shown }) => [
          group,
          [
            ...rows.filter(({ panel }) => shown.includes(panel)),
            ...shown.map((panel) => ({
              panel,
              role: 'zero',
              x: xDomain[0],
              to: xDomain[1],
              y: 0,
              n: rows.find((r) => r.panel === panel)!.n,
            })),
          ],
        ]),
      ),
    };
  });
}

interface GroupOfPanels {
  readonly group: Group;
  readonly heading: string;
  readonly rows: readonly PanelRow[];
  /** Names of panels. */
  readonly shown: readonly string[];
}

/** The panels of each picture: a picture has to fit on one page. */
function picturesOf(groups: readonly GroupOfPanels[]): GroupOfPanels[][] {
  const pictures: GroupOfPanels[][] = [];
  let left = 0;
  for (const of of groups)
    for (let from = 0; from < of.shown.length;) {
      if (left === 0) {
        pictures.push([]);
        left = MOST_ROWS;
      }
      const shown = of.shown.slice(from, from + left * MOST_ACROSS);
      pictures.at(-1)!.push({ ...of, shown });
      from += shown.length;
      left -= Math.ceil(shown.length / MOST_ACROSS);
    }
  return pictures;
}

interface PanelRow {
  readonly [key: string]: string | number;
  readonly panel: string;
  readonly n: number;
  readonly x: number;
  readonly y: number;
}

const rowsOfPanels = ({ deviation, length, phases, k, say }: Context, panels: readonly Panel[]): PanelRow[] =>
  panels.flatMap(({ name, rail, of }, n) =>
    phases.flatMap((phase): PanelRow[] => {
      const stations = stationsOf(phase);
      const rows = rail.stations.flatMap((place): PanelRow[] => {
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
      // One point is no shape.
      return rows.length > 1 ? rows : [];
    }),
  );
