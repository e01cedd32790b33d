/** Which of our columns each column of a foreign file looks like, from its header and from what stands in it. */
import { nearest } from '../../../base/diagnostics/nearest.js';
import { positionMm } from '../../job/job.js';
import { soundOnes } from '../../job/declared.js';
import type { Frame } from '../../job/settle-job.js';
import { isLengthUnit, toMm } from '../../../base/units/units.js';
import type { LengthUnit } from '../../../base/units/units.js';
import { columnNamed, columnsOf, readHeaderCell } from '../../job/columns.js';
import type { Kind } from '../../job/columns.js';
import { unitWord } from '../../../base/units/unit-words.js';
import { cluesOf } from './clues.js';
import type { Clues } from './clues.js';
import type { GuessedHeader } from './guess-header.js';
import type { Concept } from './header-words.js';

export type Placed =
  /** Bears our name already. */
  | { readonly as: 'own' }
  | { readonly as: 'columns'; readonly names: readonly string[]; readonly clues: Clues }
  | { readonly as: 'reading'; readonly clues: Clues }
  | null;

type Line = Pick<GuessedHeader, 'cells' | 'above' | 'samples'>;

/** @param samples What stands below; without them, headers are judged by their words alone. */
export function placeColumns({ cells, above, samples }: Line, kind: Kind, frame: Frame): Placed[] {
  const own = cells.map((cell) => columnNamed(kind, readHeaderCell(cell)));
  const times = (name: string) => own.filter((other) => other === name).length;
  return cells.map((cell, i) => {
    if (cell === '') return null;
    const name = own[i];
    if (name !== undefined && times(name) === 1) return { as: 'own' };
    const clues = withAbove(cell, above[i] ?? '', frame);
    return place(clues, samples[i] ?? null, kind, frame) ?? misspelt(cell, clues, own, kind);
  });
}

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

function place(clues: Clues, samples: readonly string[] | null, kind: Kind, frame: Frame): Placed {
  const { concepts, strange } = clues;
  const has = (concept: Concept) => concepts.has(concept);
  const columns = (...names: string[]): Placed => ({ as: 'columns', names, clues });
  const numeric = samples === null || isNumeric(samples);
  const isText = samples === null || !numeric;
  const isRails = samples !== null && samples.length > 0 && samples.every((cell) => frame.rails.has(cell));
  const isRead = has('reading') || clues.axis !== null;
  if (has('note')) return columns('note');
  if (has('time')) return columns('time');
  if (has('date')) return columns('date');
  if (samples !== null && samples.length > 0 && samples.every((cell) => DATE_AND_TIME.test(cell)))
    return columns('time');
  if (has('use') && isText) return columns('use');
  if (has('pass') && clues.pass === null && !isRead) return columns('pass');
  if (kind === 'offset') {
    if (has('monument') && !isRead) return columns('monument');
    if (has('target') && !isRead && clues.pass === null) return columns('target');
    if (has('setup') && !isRead && clues.rail === null) return columns('setup');
  }
  if (has('axis') && isText) return columns('axis');
  if (kind === 'slope' && (isText || isRails) && has('rail')) return slopeRails(clues, columns);
  if (kind === 'span' && (isText || isRails) && has('other')) return columns('other');
  if (kind !== 'slope' && (isText || isRails) && has('rail') && clues.rail === null) return columns('rail');
  if (strange.length > 0 || !numeric) return null;
  return placeNumbers(clues, samples, kind, frame, columns);
}

function slopeRails({ concepts }: Clues, columns: (...names: string[]) => Placed): Placed {
  if (concepts.has('from')) return columns('from_rail');
  if (concepts.has('to')) return columns('to_rail');
  return columns('from_rail', 'to_rail');
}

function placeNumbers(
  clues: Clues,
  samples: readonly string[] | null,
  kind: Kind,
  frame: Frame,
  columns: (...names: string[]) => Placed,
): Placed {
  const { concepts, axis, rail, pass } = clues;
  const has = (concept: Concept) => concepts.has(concept);
  const isPlace = has('station') || has('position');
  if (kind === 'slope') {
    const end = has('from') ? 'from' : has('to') ? 'to' : null;
    if (end !== null) return columns(`${end}_${stationOrPosition(clues, samples, frame)}`);
    if (has('slope')) return { as: 'reading', clues };
    return null;
  }
  if (kind === 'span') {
    if (has('span') && !has('station')) return { as: 'reading', clues };
    return isPlace ? columns(stationOrPosition(clues, samples, frame)) : null;
  }
  // "Reading no." counts readings.
  if (has('reading') && has('station') && axis === null && pass === null) return null;
  if (isPlace && axis === null && !has('reading')) return columns(stationOrPosition(clues, samples, frame));
  return axis !== null || rail !== null || pass !== null || has('reading') ? { as: 'reading', clues } : null;
}

/** Whatever its header is called; in whatever order. */
const DATE_AND_TIME = /^\d{1,4}[./-]\d{1,2}[./-]\d{1,4}[T ,]\s*\d{1,2}:\d{2}/;
const NUMBER = /^[+\-\u2212\u2013]?\s?[\d.,]*\d[\d.,\s'"]*\p{L}*$/u;
const isNumeric = (samples: readonly string[]): boolean =>
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
