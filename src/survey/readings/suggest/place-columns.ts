/** Which of our columns each column of another program's file looks like, by its header and its cells. */
import { nearest } from '../../../base/diagnostics/nearest.js';
import { positionMm } from '../../job/job.js';
import { soundOnes } from '../../job/declared.js';
import type { Frame } from '../../job/resolve-job.js';
import { fromMm, isLengthUnit, toMm, type LengthUnit } from '../../../base/units/units.js';
import { columnNamed, columnsOf, readHeaderCell, type ColumnName, type Kind } from '../../job/columns.js';
import { unitWord } from '../../../base/units/unit-words.js';
import { cluesOf, type Clues } from './clues.js';
import type { GuessedHeader } from './guess-header.js';
import { conceptsOf, headerWords, type Concept } from './header-words.js';

export type Placed =
  /** It has our name already. */
  | { readonly as: 'own' }
  | { readonly as: 'columns'; readonly names: readonly string[]; readonly clues: Clues }
  | { readonly as: 'reading'; readonly clues: Clues }
  /** The readings at one station: the sheet has a column for each. */
  | { readonly as: 'station'; readonly at: StationOfColumn; readonly clues: Clues }
  /** May hold readings, or what tells them apart: only a person can say. `why` says what it looks like. */
  | { readonly as: 'asked'; readonly why: string }
  | null;

/** As values of job.json name it. */
export type StationOfColumn = { readonly station: string } | { readonly position: string };

type Line = Pick<GuessedHeader, 'cells' | 'above' | 'samples'>;

/** @param samples Cells below the header; without them, headers are judged by their words alone. */
export function placeColumns({ cells, above, samples }: Line, kind: Kind, frame: Frame): Placed[] {
  const own = cells.map((cell) => columnNamed(kind, readHeaderCell(cell)));
  const times = (name: string) => own.filter((other) => other === name).length;
  const stations = hasStationColumn(cells, samples)
    ? new Map<number, StationOfColumn>()
    : stationColumns(cells, frame);
  return cells.map((cell, i) => {
    const at = stations.get(i);
    if (at !== undefined) return { as: 'station', at, clues: cluesOf('', frame) };
    if (cell === '') return null;
    const name = own[i];
    if (name !== undefined && times(name) === 1) return { as: 'own' };
    const clues = withAbove(cell, above[i] ?? '', frame);
    const sample = samples[i] ?? null;
    return (
      place({ clues, samples: sample, kind, frame }) ??
      (clues.concepts.has('increment') ? INCREMENT : misspelt(cell, clues, own, kind)) ??
      placeByValues(clues, sample, kind, frame)
    );
  });
}

const INCREMENT: Placed = {
  as: 'asked',
  why: 'by its name, changes from one station to the next; these are not readings from the plane',
};

/** Fewer columns with numbers for names are no row of stations. */
const FEWEST_STATIONS = 3;

/** With a column of stations, numbered columns are passes or repeats. Its name may also head the row of station numbers. */
const hasStationColumn = (cells: readonly string[], samples: Line['samples']): boolean =>
  cells.some((cell, i) => {
    const { words } = headerWords(cell);
    const isNamed = words.some((word) => conceptsOf(word).has('station') || conceptsOf(word).has('position'));
    return (
      isNamed &&
      !words.some((word) => /^\d/.test(word)) &&
      (samples[i] === undefined || isNumeric(samples[i]))
    );
  });

/** Columns that are named by numbers in rising order: `1`, `Stn 2`, `500 mm`. By their place in the header. */
function stationColumns(cells: readonly string[], frame: Frame): Map<number, StationOfColumn> {
  const found = cells.flatMap((cell, i) => {
    const match = /^\D*?(-?\d+(?:[.,]\d+)?)\s*(\p{L}*)$/u.exec(cell);
    const [, number, said] = match ?? [];
    const isPlace = headerWords(cell).words.every(
      (word) => /^\d+$/.test(word) || conceptsOf(word).has('station') || conceptsOf(word).has('position'),
    );
    const unit = said === undefined || said === '' ? frame.lengthUnit : unitWord(said);
    if (number === undefined || !isPlace || typeof unit !== 'string' || !isLengthUnit(unit)) return [];
    return [{ i, value: Number(number.replace(',', '.')), unit, isSaid: said !== '' }];
  });
  const isRising = found.every(({ value }, k) => k === 0 || value > found[k - 1]!.value);
  if (found.length < FEWEST_STATIONS || !isRising) return new Map();
  const most = Math.max(0, ...soundOnes(frame.rails).map((rail) => rail.stations.length));
  const isNumber = found.every(
    ({ value, isSaid }) => Number.isInteger(value) && value >= 1 && value <= most && !isSaid,
  );
  return new Map(
    found.map(({ i, value, unit }): [number, StationOfColumn] => [
      i,
      isNumber
        ? { station: String(value) }
        : { position: String(Number(fromMm(toMm(value, unit), frame.lengthUnit).toPrecision(12))) },
    ]),
  );
}

/** For a column whose name says nothing: what its cells are, as far as the job declares them; else whether to ask. */
function placeByValues(clues: Clues, samples: readonly string[] | null, kind: Kind, frame: Frame): Placed {
  if (samples === null || samples.length === 0) return null;
  const all = (ids: ReadonlyMap<string, unknown> | null | undefined) =>
    ids !== undefined && ids !== null && ids.size > 0 && samples.every((cell) => ids.has(cell));
  const columns = (name: string): Placed => ({ as: 'columns', names: [name], clues });
  if (kind === 'offset') {
    if (all(frame.setups)) return columns('setup');
    if (all(frame.targets)) return columns('target');
    if (all(frame.monuments)) return columns('monument');
  }
  if (clues.concepts.has('aside')) return null;
  if (isNumeric(samples)) return { as: 'asked', why: 'numbers' };
  // Short codes that come again and again tell rows apart: targets, rods, positions of a bracket.
  const kinds = new Set(samples);
  const isCode =
    kinds.size > 1 && kinds.size <= samples.length / 2 && [...kinds].every((cell) => CODE.test(cell));
  return isCode
    ? { as: 'asked', why: `${[...kinds].slice(0, 3).join(', ')}${kinds.size > 3 ? ' …' : ''}` }
    : null;
}

/** `T1`, `rod 2`, `B`. */
const CODE = /^(?:\p{L}{1,6}[\s_-]?\d{1,3}|\p{L}|\d{1,3}\p{L})$/u;

/** A slip of the pen in one of our own names. */
function misspelt(cell: string, clues: Clues, own: readonly (string | undefined)[], kind: Kind): Placed {
  const name = nearest(
    cell.replace(/\s*[([].*$/, ''),
    columnsOf[kind].filter((column) => !own.includes(column)),
  );
  return name === '' ? null : { as: 'columns', names: [name], clues };
}

/** Clues of the header itself, and of the group that the line above names. */
function withAbove(cell: string, above: string, frame: Frame): Clues {
  const clues = cluesOf(cell, frame);
  if (above === '') return clues;
  const group = cluesOf(above, frame);
  if (group.strange.length > 0) return clues;
  const isPoint = !clues.concepts.has('reading') && clues.axis === null && clues.pass === null;
  if (isPoint && clues.concepts.size > 0) return clues;
  return {
    ...clues,
    rail: clues.rail ?? group.rail,
    setup: clues.setup ?? group.setup,
    target: clues.target ?? group.target,
    axis: clues.axis ?? group.axis,
    pass: clues.pass ?? group.pass,
  };
}

/** What a column can be judged by: its words, its cells below (null: unknown), and the kind of file. */
interface Judged {
  readonly clues: Clues;
  readonly samples: readonly string[] | null;
  readonly kind: Kind;
  readonly frame: Frame;
}

function place(judged: Judged): Placed {
  const { clues, samples, frame } = judged;
  const numeric = samples === null || isNumeric(samples);
  const name = placeByCells(judged) ?? placeByWords(judged);
  if (name !== null) return { as: 'columns', names: name, clues };
  if (
    clues.strange.length > 0 ||
    !numeric ||
    clues.concepts.has('aside') ||
    isIncrement(clues, samples, frame)
  )
    return null;
  return placeNumbers(judged);
}

type Names = readonly ColumnName[] | null;

/** Columns that the words name whatever the cells are, and times by their cells. */
function placeByCells({ clues, samples }: Judged): readonly (ColumnName | 'date')[] | null {
  for (const name of ['note', 'time', 'date'] as const) if (clues.concepts.has(name)) return [name];
  return samples !== null && samples.length > 0 && samples.every((cell) => DATE_AND_TIME.test(cell))
    ? ['time']
    : null;
}

/** Columns of text that the words name. */
function placeByWords(judged: Judged): Names {
  const { clues, samples, kind, frame } = judged;
  const has = (concept: Concept) => clues.concepts.has(concept);
  const isText = samples === null || !isNumeric(samples);
  const isRails = samples !== null && samples.length > 0 && samples.every((cell) => frame.rails.has(cell));
  const isRead = has('reading') || clues.axis !== null;
  if (has('use') && isText) return ['use'];
  if (has('pass') && clues.pass === null && !isRead) return ['pass'];
  if (kind === 'offset' && !isRead) {
    if (has('monument')) return ['monument'];
    if (has('target') && clues.pass === null) return ['target'];
    if (has('setup') && clues.rail === null) return ['setup'];
  }
  if (has('axis') && isText) return ['axis'];
  return isText || isRails ? placeRails(judged) : null;
}

function placeRails({ clues, kind }: Judged): Names {
  const { concepts, rail } = clues;
  if (kind === 'slope' && concepts.has('rail')) {
    if (concepts.has('from')) return ['from_rail'];
    return concepts.has('to') ? ['to_rail'] : ['from_rail', 'to_rail'];
  }
  if (kind === 'span' && concepts.has('other')) return ['other'];
  return kind !== 'slope' && concepts.has('rail') && rail === null ? ['rail'] : null;
}

/** `step` may also name the station: then its cells count stations. */
function isIncrement({ concepts, axis }: Clues, samples: readonly string[] | null, frame: Frame): boolean {
  if (!concepts.has('increment')) return false;
  const most = Math.max(0, ...soundOnes(frame.rails).map((rail) => rail.stations.length));
  const counts = (samples ?? []).every(
    (cell) => /^\d+$/.test(cell) && Number(cell) >= 1 && Number(cell) <= most,
  );
  return !(concepts.has('station') && axis === null && counts);
}

function placeNumbers({ clues, samples, kind, frame }: Judged): Placed {
  const { concepts, axis, rail, pass } = clues;
  const has = (concept: Concept) => concepts.has(concept);
  const isPlace = has('station') || has('position');
  const placed = (...names: readonly string[]): Placed => ({ as: 'columns', names, clues });
  if (kind === 'slope') {
    const end = has('from') ? 'from' : has('to') ? 'to' : null;
    if (end !== null) return placed(`${end}_${stationOrPosition(clues, samples, frame)}`);
    return has('slope') ? { as: 'reading', clues } : null;
  }
  if (kind === 'span') {
    if (has('span') && !has('station')) return { as: 'reading', clues };
    return isPlace ? placed(stationOrPosition(clues, samples, frame)) : null;
  }
  const isRead = axis !== null || has('reading');
  // "Reading no." counts readings.
  if (has('reading') && has('station') && axis === null && pass === null) return null;
  if (isPlace && !isRead) return placed(stationOrPosition(clues, samples, frame));
  return isRead || rail !== null || pass !== null ? { as: 'reading', clues } : null;
}

/** A date with a time, in any order, under any header. */
const DATE_AND_TIME = /^\d{1,4}[./-]\d{1,2}[./-]\d{1,4}[T ,]\s*\d{1,2}:\d{2}/;
const NUMBER = /^[+\-\u2212\u2013]?\s?[\d.,]*\d[\d.,\s'"]*\p{L}*$/u;
export const isNumeric = (samples: readonly string[]): boolean =>
  samples.length > 0 && samples.filter((cell) => NUMBER.test(cell)).length > 0.6 * samples.length;

/** Stations are numbers from 1; positions are those of some rail's stations. Where both fit, the word decides. */
function stationOrPosition(
  { concepts, unit }: Clues,
  samples: readonly string[] | null,
  frame: Frame,
): 'station' | 'position' {
  const isPosition = concepts.has('position');
  const isStation = concepts.has('station') && !isPosition;
  if (samples === null) return isPosition ? 'position' : 'station';
  const values = samples.map((cell) => Number(cell.replace(',', '.').replace(/\s.*$/, '')));
  const rails = soundOnes(frame.rails);
  const most = Math.max(0, ...rails.map((rail) => rail.stations.length));
  const count = values.every((v) => Number.isInteger(v) && v >= 1 && v <= most);
  const said = unit === null ? null : unitWord(unit);
  const inUnit: LengthUnit = typeof said === 'string' && isLengthUnit(said) ? said : frame.lengthUnit;
  const places = new Set(
    rails.flatMap((rail) => rail.stations.map((station) => Math.round(positionMm(rail, station)))),
  );
  const fit = values.every((v) => places.has(Math.round(toMm(v, inUnit))));
  if (unit !== null) return 'position';
  if (count && fit) return isStation ? 'station' : 'position';
  return count ? 'station' : fit || !isStation ? 'position' : 'station';
}
