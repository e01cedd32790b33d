/**
 * Random job folders of every kind of survey: units, signs, cross rails, spans through a chain of rails, sight lines,
 * drift, repeat rows, rows left out; well and badly tied. The readings are those of made-up rails, with noise.
 */
import { equationsOf, METRES, RADIANS, tracksOf, type Folder, type Track } from './equations.js';
import { normal, seeded } from '../jobs.js';

type Cells = Record<string, string>;

/* eslint-disable @typescript-eslint/no-explicit-any -- job.json as it is written */
export type RandomFolder = Folder;

interface Dice {
  readonly next: () => number;
  readonly pick: <T>(list: readonly T[]) => T;
  readonly chance: (p: number) => boolean;
  readonly whole: (from: number, to: number) => number;
}

function diceOf(seed: number): Dice {
  const next = seeded(seed * 104729 + 71);
  for (let k = 0; k < 5; k++) next();
  return {
    next,
    pick: (list) => list[Math.floor(next() * list.length)]!,
    chance: (p) => next() < p,
    whole: (from, to) => from + Math.floor(next() * (to - from + 1)),
  };
}

/** Of the job: units, and where things are, mm. */
interface Site {
  readonly lengthUnit: string;
  readonly readingUnit: string;
  /** mm in the job's unit, without rounding that matters. */
  readonly L: (mm: number) => number;
  readonly spacing: number;
  readonly first: number;
  readonly across0: number;
}

/** The files as they grow. */
class Tables {
  readonly byFile = new Map<string, { header: string[]; rows: Cells[]; entry: any }>();

  begin(file: string, header: string[], entry: object): Cells[] {
    const rows: Cells[] = [];
    this.byFile.set(file, { header, rows, entry: { phase: 'as-left', ...entry } });
    return rows;
  }

  dropEmpty(): void {
    for (const [file, { rows }] of this.byFile) if (rows.length === 0) this.byFile.delete(file);
  }

  text(): Record<string, string> {
    return Object.fromEntries(
      [...this.byFile].map(([file, { header, rows }]) => [
        file,
        [header.join(','), ...rows.map((r) => header.map((h) => r[h] ?? '').join(','))].join('\n') + '\n',
      ]),
    );
  }
}

export function randomFolder(seed: number): RandomFolder {
  const dice = diceOf(seed);
  const lengthUnit = dice.pick(['mm', 'mm', 'm', 'in', 'ft']);
  const readingUnit = dice.pick(['um', 'mm', 'thou', 'in']);
  const L = (mm: number) => Number((mm / (METRES[lengthUnit]! * 1000)).toPrecision(14));
  const count = dice.whole(2, 7);
  const site: Site = {
    lengthUnit,
    readingUnit,
    L,
    spacing: dice.pick([300, 500, 812.5]),
    first: dice.pick([0, -700, 10_000]),
    across0: dice.pick([0, 0, 1500, -800]),
  };
  const job: any = {
    format: 'waysheet-job/1',
    id: `R-${seed}`,
    units: { length: lengthUnit, reading: readingUnit },
    rails: railsOf(dice, site, count),
    instruments: instrumentsOf(dice),
    setups: setupsOf(dice, site),
    monuments: monumentsOf(dice, site),
    tolerances: tolerancesOf(dice, site),
    readings: [],
  };
  const tracks = tracksOf(job);
  const tables = new Tables();
  readOffsets(dice, site, job, tracks, tables);
  readSlopes(dice, tracks, tables);
  readSpans(dice, tracks, tables);
  tables.dropEmpty();
  job.readings = [...tables.byFile].map(([file, { entry }]) => ({ file, ...entry }));
  fillIn(dice, job, tables);
  return { job, files: tables.text() };
}

function railsOf(
  { next, pick, chance, whole }: Dice,
  { L, first, spacing, across0 }: Site,
  count: number,
): any[] {
  const regular = () => ({ first: L(first), spacing: L(spacing), count });
  const irregular = (n: number) => {
    let at = first + Math.floor(300 * next());
    return { at: Array.from({ length: n }, () => L((at += 150 + Math.floor(600 * next())))) };
  };
  const like = () => (chance(0.7) ? regular() : irregular(whole(2, 6)));
  const rails: any[] = [
    { id: 'A', datum: true, across: L(across0), stations: chance(0.6) ? regular() : irregular(count) },
  ];
  if (chance(0.8)) rails.push({ id: 'B', across: L(across0 + pick([3200, -2600])), stations: like() });
  if (chance(0.35)) rails.push({ id: 'C', across: L(across0 + pick([5200, -4100])), stations: like() });
  if (chance(0.35))
    rails.push({
      id: 'X',
      direction: 'across',
      along: L(first + pick([0, 900])),
      stations: {
        at: [across0 - 900, across0 + 100, across0 + 1300, across0 + 2000].slice(0, whole(2, 4)).map(L),
      },
    });
  if (chance(0.3)) rails.reverse();
  return rails;
}

const inUnit = (um: number, unit: string): number => Number((um / (METRES[unit]! * 1e6)).toPrecision(14));

function instrumentsOf({ chance }: Dice): any[] {
  return [
    {
      id: 'L1',
      reading: { u: inUnit(1.5, 'um'), perMetre: inUnit(0.4, 'um'), unit: 'um' },
      level: { u: 1, unit: 'arcsec' },
      ...(chance(0.8) && { square: { u: 5, unit: 'urad' } }),
      drift: { u: 12, unit: 'um/h' },
    },
    {
      id: 'L2',
      reading: { u: inUnit(2, 'thou'), unit: 'thou' },
      level: { u: 0.00006, unit: 'in/ft' },
      ...(chance(0.5) && { square: { u: 0.01, unit: 'mm/m' } }),
      drift: { u: 0.5, unit: 'thou/h' },
    },
    { id: 'E1', reading: { u: 2, unit: 'um/m' } },
    { id: 'E2', reading: { u: 0.3, unit: 'arcsec' } },
    { id: 'T1', reading: { u: 0.01, perMetre: 0.002, unit: 'mm' } },
  ];
}

function setupsOf({ next, pick, chance, whole }: Dice, { L, first, across0 }: Site): any[] {
  return Array.from({ length: whole(1, 3) }, (_, k) => ({
    id: `S${k + 1}`,
    instrument: chance(0.75) ? 'L1' : 'L2',
    along: L(first - 600 + 1400 * k * next()),
    across: L(across0 + 400 + 2000 * (next() - 0.5)),
    ...(chance(0.7) && { levelled: chance(0.85) }),
    ...(chance(0.7) && {
      plus: {
        vertical: pick(['up', 'down']),
        horizontal: pick(['left', 'right']),
        along: pick(['ahead', 'back']),
      },
    }),
    ...(chance(0.2) && { drift: 'linear' }),
  }));
}

function monumentsOf({ chance, whole }: Dice, { L, first, across0 }: Site): any[] {
  return chance(0.75)
    ? [
        { id: 'M1', along: L(first + 3000), across: L(across0 - 700) },
        { id: 'M2', along: L(first + 3100), across: L(across0 + 2300) },
        { id: 'M3', along: L(first + 2500), across: L(across0 + 600) },
      ].slice(0, whole(1, 3))
    : [];
}

function tolerancesOf({ chance }: Dice, { lengthUnit, spacing }: Site): any[] {
  const tolerances: any[] = [];
  for (const plane of ['vertical', 'horizontal'])
    for (const reference of ['least-squares', 'minimum-zone', 'end-points'])
      tolerances.push({
        what: `straightness-${plane}-local`,
        limit: 10,
        unit: 'um',
        over: {
          length: lengthUnit === 'in' || lengthUnit === 'ft' ? (2.5 * spacing) / 25.4 : 2 * spacing,
          unit: lengthUnit === 'in' || lengthUnit === 'ft' ? 'in' : 'mm',
        },
        ...((reference !== 'least-squares' || chance(0.5)) && { reference }),
      });
  return tolerances;
}

function readOffsets(dice: Dice, { L }: Site, job: any, tracks: readonly Track[], tables: Tables): void {
  const { pick, chance, whole } = dice;
  const isLong = chance(0.3);
  const byPosition = chance(0.2);
  const offsets = tables.begin(
    'readings/offsets.csv',
    [
      'setup',
      'rail',
      byPosition ? 'position' : 'station',
      'monument',
      'target',
      'pass',
      'time',
      ...(isLong ? ['axis', 'reading'] : ['vertical', 'horizontal', 'along']),
      'use',
      'note',
    ],
    {},
  );
  let minute = 0;
  const look = (cells: Cells, axes: readonly string[]) => {
    minute += whole(1, 9);
    const time = `2026-03-${String(10 + Math.floor(minute / 600)).padStart(2, '0')}T${String(8 + Math.floor((minute % 600) / 60)).padStart(2, '0')}:${String(minute % 60).padStart(2, '0')}`;
    const use = chance(0.04) ? 'no' : '';
    if (isLong) for (const axis of axes) offsets.push({ ...cells, time, axis, reading: '0', use });
    else offsets.push({ ...cells, time, ...Object.fromEntries(axes.map((a) => [a, '0'])), use });
  };
  for (const s of job.setups) {
    const home = pick(tracks);
    for (const track of tracks) {
      if (track !== home && !chance(0.6)) continue;
      const axes = ['vertical', track.cross ? 'along' : 'horizontal'];
      const passes = whole(1, 3);
      const isPart = chance(0.3);
      for (let pass = 1; pass <= passes; pass++) {
        const target = chance(0.8) ? 'T1' : pick(['T2', 'T3', '']);
        track.places.forEach((place, k) => {
          if (isPart && k > track.places.length / 2) return;
          const read = axes.filter(() => !chance(0.12));
          if (track.cross === false && chance(0.05)) read.push('along');
          if (read.length === 0) return;
          const at: Cells = byPosition
            ? { position: String(L((track.cross ? place.y : place.x) * 1000 + pick([0, 0.3, -0.4]))) }
            : { station: String(k + 1) };
          look({ setup: s.id, rail: track.id, ...at, target, pass: String(pass) }, read);
          if (chance(0.08)) look({ setup: s.id, rail: track.id, ...at, target, pass: String(pass) }, read);
        });
      }
    }
    for (const m of job.monuments) {
      if (chance(0.75))
        look({ setup: s.id, monument: m.id, target: pick(['T1', 'T3']), pass: '1' }, ['along']);
      if (chance(0.2)) look({ setup: s.id, monument: m.id, target: 'T1', pass: '2' }, ['along', 'vertical']);
    }
  }
}

function readSlopes(dice: Dice, tracks: readonly Track[], tables: Tables): void {
  const { pick, chance } = dice;
  const slopeHeader = ['from_rail', 'from_station', 'to_rail', 'to_station', 'axis', 'slope', 'pass', 'use'];
  for (const [k, instrument] of ['E1', 'E2'].entries()) {
    if (!chance(0.4)) continue;
    const isPlan = chance(0.4);
    const unit = pick(['um/m', 'arcsec', 'thou/ft', 'urad']);
    const against = isPlan ? (chance(0.5) ? 'sight' : undefined) : pick([undefined, 'gravity', 'sight']);
    const rows = tables.begin(`readings/slope-${k}.csv`, slopeHeader, {
      kind: 'slope',
      instrument,
      unit,
      ...(against && { against }),
    });
    for (const track of tracks) if (chance(0.6)) stepAlong(dice, track, isPlan, rows);
    if (!isPlan && tracks.length > 1 && chance(0.6)) stepAcross(dice, tracks, rows);
  }
}

function stepAlong({ pick, chance }: Dice, track: Track, isPlan: boolean, rows: Cells[]): void {
  const axis = isPlan ? (track.cross ? 'along' : 'horizontal') : 'vertical';
  for (const pass of chance(0.5) ? ['1'] : ['1', '2']) {
    const stride = chance(0.8) ? 1 : 2;
    for (let i = 1; i + stride <= track.places.length; i += pick([1, 1, stride])) {
      const ends = [String(i), String(i + stride)];
      if (chance(0.3)) ends.reverse();
      rows.push({
        from_rail: track.id,
        from_station: ends[0]!,
        to_rail: track.id,
        to_station: ends[1]!,
        axis,
        slope: '0',
        pass,
        use: chance(0.03) ? 'no' : '',
      });
    }
  }
}

function stepAcross({ pick, chance }: Dice, tracks: readonly Track[], rows: Cells[]): void {
  const [a, b] = [pick(tracks), pick(tracks)];
  for (let i = 1; i <= Math.min(a.places.length, b.places.length) && a.id !== b.id; i++) {
    const [p, q] = [a.places[i - 1]!, b.places[i - 1]!];
    if (Math.hypot(p.x - q.x, p.y - q.y) < 0.01) continue;
    const ends = chance(0.5) ? [a.id, b.id] : [b.id, a.id];
    rows.push({
      from_rail: ends[0]!,
      from_station: String(i),
      to_rail: ends[1]!,
      to_station: String(i),
      axis: 'vertical',
      slope: '0',
      pass: '1',
    });
  }
}

/** Each rail from the one before it, or from the first: a chain. */
function readSpans({ pick, chance }: Dice, tracks: readonly Track[], tables: Tables): void {
  const along = tracks.filter((t) => !t.cross);
  if (along.length < 2 || !chance(0.55)) return;
  const unit = pick(['mm', 'm', 'in']);
  const rows = tables.begin('readings/span.csv', ['rail', 'other', 'station', 'span', 'use'], {
    kind: 'span',
    instrument: 'T1',
    unit,
  });
  for (let k = 1; k < along.length; k++) {
    const [a, b] = chance(0.5) ? [along[k - 1]!, along[k]!] : [along[k]!, along[0]!];
    if (a.id === b.id) continue;
    const few = chance(0.5);
    a.places.forEach((place, i) => {
      if (!b.places.some((p) => Math.abs(p.x - place.x) <= 0.0005) || chance(few ? 0.7 : 0.2)) return;
      rows.push({ rail: a.id, other: b.id, station: String(i + 1), span: '0' });
      if (chance(0.1)) rows.push({ rail: a.id, other: b.id, station: String(i + 1), span: '0' });
    });
  }
}

/** How large the made-up unknowns are, by the letter of their names: µm, µm/m or µm/h. */
const SIZE: Readonly<Record<string, number>> = {
  ...{ z: 30, y: 30, x: 30, h: 200, c: 200, d: 200, k: 200, b: 200, a: 200 },
  ...{ p: 5, q: 5, w: 90, e: 5, g: 80, drift: 10 },
};

/** The readings of made-up rails: what the equations say of invented unknowns, and noise, and a blunder or two. */
function fillIn({ next, pick, chance, whole }: Dice, job: any, tables: Tables): void {
  const noise = pick([1, 1, 1, 3]);
  let blunders = chance(0.25) ? whole(1, 2) : 0;
  const truth = new Map<string, number>();
  const valueOf = (name: string) => {
    if (!truth.has(name)) truth.set(name, SIZE[name.split(' ')[0]!]! * normal(next));
    return truth.get(name)!;
  };
  for (const e of equationsOf({ job, files: tables.text() }, 'as-left')) {
    if (e.source === null) continue;
    const { entry, rows } = tables.byFile.get(e.source.file)!;
    const row = rows[e.source.row - 2]!;
    let value = Object.entries(e.terms).reduce((sum, [name, c]) => sum + c * valueOf(name), 0);
    value += noise * e.sigma * normal(next);
    if (blunders > 0 && chance(0.05)) {
      blunders--;
      value += 25 * e.sigma;
    }
    if (entry.kind === 'slope') row['slope'] = String(value / (RADIANS[entry.unit]! * 1e6));
    else if (entry.kind === 'span') row['span'] = String((value - e.value) / (METRES[entry.unit]! * 1e6));
    else {
      const column = row['axis'] === undefined ? e.source.axis : 'reading';
      row[column] = String(value / (METRES[job.units.reading]! * 1e6));
    }
  }
}
