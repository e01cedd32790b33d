/** The station tables: where each station was found and left. */
import type { Quantity, Results, StationResult } from '../../results/results-schema.js';
import { alignDecimals, positionColumn } from '../format-quantity.js';
import { isKnown, phasesOf, quantityText, type Figures, type NamedPhase } from '../figures.js';
import { figure, figureHead, head, row, rowHeader, table, type Cell, type Group, type HeadCell, type Table } from '../table.js';
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

/** One table for the rails that run along, one for cross rails. */
export function stationTables(results: Results, figures: Figures): Table[] {
  const phases = phasesOf(results);
  const thinned = thinStations(phases);
  return (['along', 'across'] as const).flatMap((direction) => {
    const made = stationTable(results, phases, thinned, direction, figures);
    return made ? [made] : [];
  });
}

function stationTable(
  results: Results,
  phases: readonly NamedPhase[],
  thinned: Thinned,
  direction: Direction,
  figures: Figures,
): Table | null {
  const rails = results.survey.rails.filter((rail) => rail.direction === direction);
  const ids = new Set(rails.map((rail) => rail.id));
  const found = phases.map(({ phase }) => new Map(phase.stations.filter((s) => ids.has(s.rail)).map((s) => [`${s.station} ${s.rail}`, s])));
  const inTable = (column: Column) => found.some((map) => [...map.values()].some((s) => column.pick(s) !== undefined));
  const columns = (direction === 'along' ? alongColumns : acrossColumns).filter(inTable);
  const groups: Group[] = rails.flatMap((rail) => {
    const stations = rail.stations.filter(
      ({ station }) => thinned.isShown(rail.id, station) && found.some((map) => map.has(`${station} ${rail.id}`)),
    );
    if (stations.length === 0) return [];
    const positions = positionColumn(stations.map((s) => s[direction]), figures.units.length);
    const lists = stations.map(({ station }) => found.map((map) => map.get(`${station} ${rail.id}`)));
    const cells = columns.flatMap((column) => columnCells(lists.map((list) => list.map((s) => s && column.pick(s))), figures));
    const name = rail.name ? `${rail.id} · ${rail.name}` : rail.id;
    return [
      {
        title: `Rail ${name}${rail.datum ? ' (datum)' : ''}`,
        rows: stations.map(({ station }, i) =>
          row([rowHeader(String(station), { css: 'number' }), figure(positions[i]!), ...cells.map((list) => list[i]!)]),
        ),
      },
    ];
  });
  if (groups.length === 0 || columns.length === 0) return null;
  const caption = direction === 'along' ? 'Stations of the rails' : 'Stations of the cross rails';
  return table(caption, headRows(phases, columns, direction, figures), groups, {
    css: `stations ${rails.length === results.survey.rails.length ? 'hidden-caption ' : ''}${phases.length > 1 ? 'two-phases' : 'one-phase'}`,
    notes: notes(thinned, figures, columns, phases.length > 1, results),
  });
}

function headRows(phases: readonly NamedPhase[], columns: readonly Column[], direction: Direction, figures: Figures): HeadCell[][] {
  const both = phases.length > 1;
  const sub = both ? ['found', 'left', 'U'] : [phases[0]!.name === 'as-found' ? 'found' : 'left', 'U'];
  return [
    [
      figureHead('St.', '', { rowspan: 2 }),
      figureHead(direction === 'along' ? 'Along' : 'Across', figures.units.length.label, { rowspan: 2 }),
      ...columns.map((column) => head(column.title, { unit: figures.units.deviation.label, colspan: sub.length, css: 'group' })),
    ],
    columns.flatMap(() => sub.map((text, i) => figureHead(text, '', { css: i === 0 ? 'first' : i === sub.length - 1 ? 'uncertainty' : '' }))),
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
      return quantityText(figures, known.reduce((most, q) => (q.u > most.u ? q : most)), unit).expanded;
    }),
  );
  return [
    ...values.map((texts, p) =>
      texts.map((text) => figure(text, { css: [p === 0 ? 'first' : '', p === phases - 1 ? 'strong' : ''].join(' ').trim() })),
    ),
    uncertainty.map((text) => figure(text, { css: 'uncertainty' })),
  ];
}

function notes(thinned: Thinned, figures: Figures, columns: readonly Column[], both: boolean, results: Results): string[] {
  const untied = results.survey.rails.some(
    (rail) => rail.direction === 'along' && !rail.datum && phasesOf(results).some(({ phase }) => !phase.offsetTied[rail.id]),
  );
  const meaning: Record<string, string> = {
    Height: '+ height is up, from the mean of the datum rail’s stations.',
    Offset: `+ offset is to the left (facing increasing along), from the datum rail’s least-squares line${untied ? ', and for other rails from the rail’s own mean, as the distance across was not measured' : ''}.`,
    Ahead: '+ ahead is towards increasing along, from the rail’s own mean, square to the datum rail’s line.',
  };
  const list = [
    columns.flatMap((column) => meaning[column.title] ?? []).join(' '),
    `A deviation is the distance from the rail’s own least-squares line, + up, to the left or ahead. U = ${figures.kText}·u${both ? ', the larger of found and left' : ''}. – not read; n.d. not determined.`,
  ];
  if (thinned.everyNth !== null)
    list.unshift(
      `Of this long survey the table shows the ends, every ${ordinal(thinned.everyNth)} station and those where a deviation is greatest or least. All stations are in stations.csv.`,
    );
  return list.filter((text) => text !== '');
}

const ordinal = (n: number): string => (n === 1 ? '' : n === 2 ? 'second' : `${n}th`);
