/** The station tables: where each station was found and left. */
import type { Quantity, Results, StationResult } from '../../../results/results-schema.js';
import { alignDecimals, positionColumn } from '../../../results/words/format-quantity.js';
import { isKnown, phasesOf, quantityText, type Figures, type NamedPhase } from '../figures.js';
import {
  charactersAcross,
  figure,
  figureHead,
  head,
  row,
  rowHeader,
  table,
  type Cell,
  type Group,
  type HeadCell,
  type Table,
} from '../table.js';
import { phaseWords } from '../../../results/words/texts.js';
import { railTitle, stationName } from './characteristic-names.js';
import { thinStations, type Thinned } from './thin.js';

interface Column {
  readonly title: string;
  readonly pick: (station: StationResult) => Quantity | undefined;
}

const alongColumns: readonly Column[] = [
  { title: 'Height', pick: (station) => station.height },
  { title: 'Deviation, vertical', pick: (station) => station.deviation.vertical },
  { title: 'Offset', pick: (station) => station.offset },
  { title: 'Deviation, horizontal', pick: (station) => station.deviation.horizontal },
];

const acrossColumns: readonly Column[] = [
  { title: 'Height', pick: (station) => station.height },
  { title: 'Deviation, vertical', pick: (station) => station.deviation.vertical },
  { title: 'Ahead', pick: (station) => station.ahead },
  { title: 'Deviation, along', pick: (station) => station.deviation.along },
];

type Direction = 'along' | 'across';
type Rail = Results['survey']['rails'][number];

/** Width of the text area at 8.5 pt, in digits; and what lies between two columns. */
const PAPER_WIDTH = { A4: 87, Letter: 90 };
const GAP = 0.8;
/** "St." and "Along, mm" are wider than what stands beneath them. */
const LEAST_WIDTHS = [3, 9];

/** What every part of a station table is made from. */
interface Source {
  readonly results: Results;
  readonly figures: Figures;
  readonly phases: readonly NamedPhase[];
  readonly thinned: Thinned;
  readonly direction: Direction;
  readonly rails: readonly Rail[];
  /** Whether the rows say their rail. */
  readonly named: boolean;
  /** Of each phase: the station of a rail by its number. */
  readonly read: readonly ((rail: string, station: number) => StationResult | undefined)[];
}

/**
 * The table of the rails that run along, and that of cross rails. One that is too wide for the paper is parted into
 * heights and sideways places.
 */
export function stationTables(results: Results, figures: Figures): Table[] {
  const phases = phasesOf(results);
  const thinned = thinStations(phases);
  const read = phases.map(({ phase }) => {
    const byKey = new Map(phase.stations.map((station) => [`${station.station} ${station.rail}`, station]));
    return (rail: string, station: number) => byKey.get(`${station} ${rail}`);
  });
  return (['along', 'across'] as const).flatMap((direction) => {
    const rails = results.survey.rails.filter((rail) => rail.direction === direction);
    return tablesOf({ results, figures, phases, thinned, direction, rails, named: true, read });
  });
}

function tablesOf(source: Source): Table[] {
  const { direction, rails, read } = source;
  const isRead = ({ pick }: Column) =>
    rails.some((rail) =>
      rail.stations.some(({ station }) =>
        read.some((of) => {
          const found = of(rail.id, station);
          return found !== undefined && pick(found) !== undefined;
        }),
      ),
    );
  const all = direction === 'along' ? alongColumns : acrossColumns;
  const columns = all.filter(isRead);
  if (columns.length === 0) return [];
  const only = rails.length === source.results.survey.rails.length;
  const caption = direction === 'along' ? 'Stations of the rails' : 'Stations of the cross rails';
  // Before the table is parted, the stations go without their rail: it stands above them.
  for (const named of [true, false]) {
    const whole = stationTable({ ...source, named }, columns, caption, only);
    const width = charactersAcross(whole.groups, LEAST_WIDTHS) + GAP * columnCount(source, columns);
    if (width <= PAPER_WIDTH[source.results.style.paper]) return [whole];
  }
  const [heights, places] = [all.slice(0, 2), all.slice(2)].map((part) =>
    part.filter((c) => columns.includes(c)),
  );
  return [
    ...(heights!.length > 0 ? [stationTable(source, heights!, `${caption}: heights`, false)] : []),
    ...(places!.length > 0 ? [stationTable(source, places!, `${caption}: places sideways`, false)] : []),
  ];
}

const columnCount = ({ phases }: Source, columns: readonly Column[]) =>
  2 + columns.length * (phases.length + 1);

function stationTable(
  source: Source,
  columns: readonly Column[],
  caption: string,
  hideCaption: boolean,
): Table {
  const { phases, direction, figures } = source;
  const groups = source.rails.flatMap((rail) => railGroup(source, columns, rail));
  return table(caption, headRows(phases, columns, direction, figures), groups, {
    css: `stations groups-${columns.length}${hideCaption ? ' hidden-caption' : ''}`,
    notes: notes(source, columns),
  });
}

function railGroup(
  { results, figures, thinned, direction, named, read }: Source,
  columns: readonly Column[],
  rail: Rail,
): Group[] {
  const stations = rail.stations.filter(
    ({ station }) => thinned.isShown(rail.id, station) && read.some((of) => of(rail.id, station)),
  );
  if (stations.length === 0) return [];
  const places = stations.map((station) => station[direction]);
  const positions = positionColumn(places, figures.units.length);
  const found = stations.map(({ station }) => read.map((of) => of(rail.id, station)));
  const cells = columns.flatMap(({ pick }) => {
    const quantities = found.map((inPhases) => inPhases.map((station) => station && pick(station)));
    return columnCells(quantities, figures);
  });
  const rows = stations.map(({ station }, i) =>
    row([
      rowHeader(named ? stationName(results.survey.rails, rail.id, station) : String(station), {
        css: 'number',
      }),
      figure(positions[i]!),
      ...cells.map((column) => column[i]!),
    ]),
  );
  return [{ title: `${railTitle(rail)}${rail.datum ? ' (datum)' : ''}`, rows }];
}

function headRows(
  phases: readonly NamedPhase[],
  columns: readonly Column[],
  direction: Direction,
  figures: Figures,
): HeadCell[][] {
  const both = phases.length > 1;
  const sub = [...(both ? phases.map(({ name }) => phaseWords(name)) : ['value']), 'U'];
  return [
    [
      figureHead('St.', '', { rowspan: 2 }),
      figureHead(direction === 'along' ? 'Along' : 'Across', figures.units.length.label, { rowspan: 2 }),
      ...columns.map((column) =>
        head(column.title, { unit: figures.units.deviation.label, colspan: sub.length, css: 'group' }),
      ),
    ],
    columns.flatMap(() =>
      sub.map((text, i) =>
        figureHead(text, '', { css: i === 0 ? 'first' : i === sub.length - 1 ? 'uncertainty' : '' }),
      ),
    ),
  ];
}

/** Cells of one quantity: a value for each phase, then the expanded uncertainty, decimals under each other. */
function columnCells(rows: readonly (readonly (Quantity | undefined)[])[], figures: Figures): Cell[][] {
  const unit = figures.units.deviation;
  const phases = rows[0]?.length ?? 0;
  const values = Array.from({ length: phases }, (_, p) =>
    alignDecimals(
      rows.map((row) => {
        const quantity = row[p];
        if (quantity === undefined) return '–';
        return isKnown(quantity) ? quantityText(figures, quantity, unit, { signed: true }).value : 'n.d.';
      }),
    ),
  );
  const uncertainty = alignDecimals(
    rows.map((row) => {
      const known = row.filter(isKnown);
      if (known.length === 0) return '–';
      return quantityText(
        figures,
        known.reduce((most, q) => (q.u > most.u ? q : most)),
        unit,
      ).expanded;
    }),
  );
  return [
    ...values.map((texts, p) =>
      texts.map((text) =>
        figure(text, { css: [p === 0 ? 'first' : '', p === phases - 1 ? 'strong' : ''].join(' ').trim() }),
      ),
    ),
    uncertainty.map((text) => figure(text, { css: 'uncertainty' })),
  ];
}

function notes({ results, figures, phases, thinned }: Source, columns: readonly Column[]): string[] {
  const untied = results.survey.rails.some(
    ({ id, direction, datum }) =>
      direction === 'along' && !datum && phases.some(({ phase }) => !phase.offsetTied[id]),
  );
  const meaning: Record<string, string> = {
    Height: '+ height is up, from the mean of the datum rail’s stations.',
    Offset: `+ offset is to the left (facing increasing along), from the datum rail’s least-squares line${untied ? ', and for other rails from the rail’s own mean, as the distance across was not measured' : ''}.`,
    Ahead: '+ ahead is towards increasing along, from the rail’s own mean, square to the datum rail’s line.',
  };
  const larger = phases.length > 1 ? ', the larger of as found and as left' : '';
  const list = [
    columns.flatMap(({ title }) => meaning[title] ?? []).join(' '),
    `A deviation is the distance from the rail’s own least-squares line, + up, to the left or ahead. ${figures.expanded}${larger}. St.: station; “–”: not read; “n.d.”: not determined.`,
  ].filter((text) => text !== '');
  if (thinned.everyNth === null) return list;
  return [
    `Of this long survey the table shows the ends, every ${ordinal(thinned.everyNth)} station and those where a deviation is greatest or least. All stations are in stations.csv.`,
    ...list,
  ];
}

const ordinal = (n: number): string => (n === 1 ? '' : n === 2 ? 'second' : `${n}th`);
