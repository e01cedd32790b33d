/** The place of each station, rails side by side. Heights and offsets of every phase are in stations.csv. */
import { groupBy } from '../../../base/lists.js';
import type { Quantity, Results, StationResult } from '../../../results/results-schema.js';
import { measuredColumn, plusMinus, positionColumn } from '../../../results/words/format-quantity.js';
import { phaseText } from '../../words/names.js';
import { isKnown, lastPhase, phasesOf, type Figures } from '../figures.js';
import { figure, figureHead, plain, rowHeader, table, type Column, type Table } from '../table.js';
import { section } from './section.js';
import { thinStations } from './thin.js';

interface Pick {
  readonly title: string;
  readonly pick: (station: number) => Quantity | undefined;
}

type Rail = Results['survey']['rails'][number];

/** Greatest number of columns of figures on the paper. */
const MOST_COLUMNS = 6;

export const stationsSection = section({
  id: 'stations',
  css: 'station-tables',
  make: ({ results, figures, number }) => {
    const tables = stationTables(results, figures);
    return tables.length === 0 ? null : { tables: tables.map((one) => number.table(one)) };
  },
});

/** One table per set of rails with the same stations, divided if they are too many for the paper. */
function stationTables(results: Results, figures: Figures): Table[] {
  const { say } = figures;
  const phases = phasesOf(results);
  const { name, phase } = lastPhase(results);
  const thinned = thinStations(phases);
  const byPlace = new Map(phase.stations.map((s) => [`${s.rail} ${s.station}`, s]));
  const datum = results.survey.rails.find((rail) => rail.datum)?.id ?? '';
  const placesOf = ({ direction, stations }: Rail) => stations.map((s) => s[direction]);
  const alike = groupBy(results.survey.rails, (rail) => JSON.stringify([rail.direction, placesOf(rail)]));
  const tables: Table[] = [];
  for (const rails of alike.values()) {
    const first = rails[0]!;
    const columns = rails.flatMap((rail) =>
      columnsOf(rail, datum, figures, (n) => byPlace.get(`${rail.id} ${n}`)),
    );
    const shown = first.stations.filter(({ station }) =>
      rails.some(({ id }) => thinned.isShown(id, station) && byPlace.has(`${id} ${station}`)),
    );
    for (const part of parted(columns.filter(({ pick }) => shown.some((s) => pick(s.station)))))
      tables.push(
        stationTable(
          first,
          shown.map(({ station }) => station),
          part,
          say('stations.caption', {
            phase: phaseText(name, figures),
            unit: figures.units.deviation.label,
            cross: first.direction === 'across' ? 'yes' : 'no',
          }),
          figures,
        ),
      );
  }
  const last = tables.at(-1);
  if (last === undefined) return [];
  const notes = [
    say('stations.signs'),
    say('stations.places'),
    ...(phases.length > 1 ? [say('stations.before')] : []),
    ...(thinned.everyNth === null ? [] : [say('stations.thinned', { nth: thinned.everyNth })]),
  ];
  return [...tables.slice(0, -1), { ...last, notes }];
}

function columnsOf(
  { id, direction }: Rail,
  datum: string,
  { say }: Figures,
  of: (station: number) => StationResult | undefined,
): Pick[] {
  const across = direction === 'across';
  return [
    { title: say('station.up', { rail: id }), pick: (n) => of(n)?.deviation.vertical },
    across
      ? { title: say('station.ahead', { rail: id }), pick: (n) => of(n)?.deviation.along }
      : { title: say('station.left', { rail: id }), pick: (n) => of(n)?.deviation.horizontal },
    ...(across || id === datum
      ? []
      : [
          {
            title: say('station.above', { rail: id, datum }),
            pick: (n: number) => of(n)?.difference?.height,
          },
        ]),
  ];
}

/** Divides as evenly as possible. */
function parted(columns: readonly Pick[]): Pick[][] {
  const parts = Math.ceil(columns.length / MOST_COLUMNS);
  const size = Math.ceil(columns.length / Math.max(1, parts));
  return Array.from({ length: parts }, (_, k) => columns.slice(k * size, (k + 1) * size));
}

function stationTable(
  { direction, stations }: Rail,
  shown: readonly number[],
  columns: readonly Pick[],
  caption: string,
  figures: Figures,
): Table {
  const unit = figures.units.deviation;
  const place = new Map(stations.map((s) => [s.station, s[direction]]));
  const positions = positionColumn(
    shown.map((n) => place.get(n)!),
    figures.units.length,
  );
  const cells = columns.map(({ pick }) => {
    const quantities = shown.map(pick);
    const known = quantities.filter((q) => q !== undefined && isKnown(q));
    const texts = measuredColumn(
      known.map(({ value, u }) => ({ value, expanded: figures.k * u })),
      unit,
      { signed: true },
    );
    const textOf = new Map<Quantity, string>(known.map((q, i) => [q, plusMinus(texts[i]!)]));
    return quantities.map((q) => (q === undefined ? '–' : (textOf.get(q) ?? figures.say('station.open'))));
  });
  return table(
    caption,
    [
      [figureHead(figures.say('head.station-short')), (i) => rowHeader(String(shown[i]!), { css: 'number' })],
      [
        figureHead(figures.say(`head.${direction}`), figures.units.length.label),
        (i) => figure(positions[i]!),
      ],
      ...columns.map(({ title }, k): Column<number> => [figureHead(title), (i) => figure(cells[k]![i]!)]),
    ],
    plain([...shown.keys()]),
    { css: 'stations', mayBreak: true },
  );
}
