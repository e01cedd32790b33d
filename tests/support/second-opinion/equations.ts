/**
 * The observation equations again, written out from job.json and the CSV files as they stand,
 * with nothing of the product's own: units, columns, signs and priors are all settled here afresh.
 * Everything is in m, µm, µm/m and µm/h.
 */
import { parse } from 'csv-parse/sync';

/* eslint-disable @typescript-eslint/no-explicit-any -- job.json as it was written */
export interface Folder {
  readonly job: any;
  readonly files: Readonly<Record<string, string>>;
}

export interface Equation {
  readonly terms: Readonly<Record<string, number>>;
  readonly value: number;
  readonly sigma: number;
  /** Line of the file and axis; null for a prior. */
  readonly source: { readonly file: string; readonly row: number; readonly axis: string } | null;
}

export const METRES: Record<string, number> = {
  m: 1,
  mm: 1e-3,
  um: 1e-6,
  in: 0.0254,
  ft: 0.3048,
  thou: 0.0000254,
};
export const RADIANS: Record<string, number> = {
  'um/m': 1e-6,
  'mm/m': 1e-3,
  'in/ft': 1 / 12,
  'thou/ft': 1 / 12000,
  arcsec: Math.PI / 648000,
  arcmin: Math.PI / 10800,
  deg: Math.PI / 180,
  mrad: 1e-3,
  urad: 1e-6,
};
const um = (v: number, unit: string): number => v * METRES[unit]! * 1e6;
const umPerM = (v: number, unit: string): number => v * RADIANS[unit]! * 1e6;

export interface Place {
  readonly x: number;
  readonly y: number;
}

export interface Track {
  readonly id: string;
  readonly datum: boolean;
  readonly cross: boolean;
  readonly places: readonly Place[];
}

export function tracksOf(job: any): Track[] {
  const metre = (v: number) => v * METRES[job.units.length]!;
  return job.rails.map((r: any): Track => {
    const s = r.stations;
    const at: number[] = s.at ?? Array.from({ length: s.count }, (_, k) => s.first + k * s.spacing);
    const cross = r.direction === 'across';
    return {
      id: r.id,
      datum: r.datum === true,
      cross,
      places: at.map((v) =>
        cross ? { x: metre(r.along), y: metre(v) } : { x: metre(v), y: metre(r.across ?? 0) },
      ),
    };
  });
}

/** All equations of one phase, priors last. */
export function equationsOf({ job, files }: Folder, phase: string): Equation[] {
  const metre = (v: number) => v * METRES[job.units.length]!;
  const tracks = new Map(tracksOf(job).map((t) => [t.id, t]));
  const instruments = new Map<string, any>(job.instruments.map((i: any) => [i.id, i]));
  const setups = new Map<string, any>((job.setups ?? []).map((s: any) => [s.id, s]));
  const monuments = new Map<string, Place>(
    (job.monuments ?? []).map((m: any) => [m.id, { x: metre(m.along), y: metre(m.across) }]),
  );
  const equations: Equation[] = [];

  const rowsOf = (entry: any) =>
    (parse(files[entry.file]!, { columns: true }) as Record<string, string>[])
      .map((row, k) => ({ row, line: k + 2 }))
      .filter(({ row }) => row['use'] !== 'no');
  const stationOf = (track: Track, station: string | undefined, position: string | undefined): number => {
    if (station) return Number(station);
    const at = metre(Number(position));
    return track.places.findIndex((p) => Math.abs((track.cross ? p.y : p.x) - at) <= 0.0005) + 1;
  };
  const entries = job.readings.filter((r: any) => r.phase === phase);

  /** Hours from the first reading of a set-up. */
  const began = new Map<string, number>();
  const hours = (time: string) => Date.parse(`${time}Z`) / 3.6e6;
  for (const entry of entries.filter((e: any) => (e.kind ?? 'offset') === 'offset')) {
    for (const { row } of rowsOf(entry)) {
      const holds = ['vertical', 'horizontal', 'along', 'reading'].some((c) => row[c]);
      if (holds && setups.get(row['setup']!).drift === 'linear')
        began.set(row['setup']!, Math.min(began.get(row['setup']!) ?? Infinity, hours(row['time']!)));
    }
  }

  // What is common to many readings: its formulas are written out here once more.
  const targets = new Map<string, any>((job.targets ?? []).map((t: any) => [t.id, t]));
  const t = job.conditions?.temperature;
  const kelvin = (t ? (t.from + (t.to ?? t.from)) / 2 : 20) + 273.15;
  /** Half the curvature of the light for each K/m, µm/m². */
  const bend = (((503 * 1013.25) / kelvin ** 2 / 6_371_000) * 1e6) / 2;
  const allRows = entries
    .filter((e: any) => (e.kind ?? 'offset') === 'offset')
    .flatMap((entry: any) => rowsOf(entry).map((r) => ({ ...r, entry })));
  const cellsOf = (row: Record<string, string>): [string, string][] =>
    (row['axis']
      ? [[row['axis'], row['reading']!] as [string, string]]
      : ['vertical', 'horizontal', 'along'].map((a): [string, string] => [a, row[a] ?? ''])
    ).filter(([, text]) => text !== '');
  const lookOf = (row: Record<string, string>) =>
    [
      row['setup'],
      row['rail'],
      row['station'] || row['position'],
      row['monument'],
      row['target'] || 'T',
      row['pass'] || '1',
    ].join('|');
  const readIn = (row: Record<string, string>, entry: any, axis: string, line: number): number | null => {
    const values = (list: any[]) =>
      list.flatMap((r) =>
        cellsOf(r.row)
          .filter(([a]) => a === axis)
          .map(([, v]) => um(Number(v), r.entry.unit ?? job.units.reading)),
      );
    const own = values(allRows.filter((r: any) => r.entry === entry && r.line === line));
    const same = own.length > 0 ? own : values(allRows.filter((r: any) => lookOf(r.row) === lookOf(row)));
    return same.length === 0 ? null : same.reduce((a, b) => a + b, 0) / same.length;
  };
  const placings = new Map<string, number>();
  for (const { row } of allRows)
    for (const [axis] of cellsOf(row))
      if (row['placing']) {
        const key = `seat ${axis} ${row['target'] || 'T'} ${row['placing']}`;
        placings.set(key, (placings.get(key) ?? 0) + 1);
      }
  /** Names and standard uncertainties of what has a prior of its own. */
  const common = new Map<string, number>();

  for (const entry of entries) {
    const kind = entry.kind ?? 'offset';
    for (const { row, line } of rowsOf(entry)) {
      const source = (axis: string) => ({ file: entry.file, row: line, axis });
      if (kind === 'offset') {
        const setup = setups.get(row['setup']!);
        const instrument = instruments.get(setup.instrument);
        const target = row['target'] || 'T';
        let point: string;
        let at: Place;
        if (row['monument']) {
          point = `monument ${row['monument']}`;
          at = monuments.get(row['monument'])!;
        } else {
          const track = tracks.get(row['rail']!)!;
          const station = stationOf(track, row['station'], row['position']);
          point = `${track.id} ${station}`;
          at = track.places[station - 1]!;
        }
        const dx = at.x - metre(setup.along);
        const dy = at.y - metre(setup.across);
        const { u, perMetre = 0, resolution = 0, unit } = instrument.reading;
        const away = Math.sqrt(dx * dx + dy * dy);
        const plainSigma = Math.sqrt(
          um(u, unit) ** 2 + um(resolution, unit) ** 2 / 12 + (um(perMetre, unit) * away) ** 2,
        );
        const cells: [string, string][] = row['axis']
          ? [[row['axis'], row['reading']!]]
          : ['vertical', 'horizontal', 'along'].map((a) => [a, row[a] ?? '']);
        for (const [axis, text] of cells) {
          if (text === '') continue;
          const plus = setup.plus?.[axis];
          const s = plus === 'down' || plus === 'right' || plus === 'back' ? -1 : 1;
          const t: Record<string, number> = {};
          if (axis === 'vertical')
            Object.assign(t, {
              [`z ${point}`]: s,
              [`k ${target}`]: s,
              [`h ${setup.id}`]: -s,
              [`p ${setup.id}`]: -s * dx,
              [`q ${setup.id}`]: -s * dy,
            });
          else if (axis === 'horizontal')
            Object.assign(t, {
              [`y ${point}`]: s,
              [`b ${target}`]: s,
              [`c ${setup.id} ${row['rail']}`]: -s,
              [`w ${setup.id}`]: -s * dx,
            });
          else
            Object.assign(t, {
              [`x ${point}`]: s,
              [`a ${target}`]: s,
              [`d ${setup.id}`]: -s,
              [`w ${setup.id}`]: s * dy,
              [`e ${setup.instrument}`]: s * dy,
            });
          // The plane moves up, left or ahead by rate × time, and the target with respect to it the other way.
          if (setup.drift === 'linear')
            t[`drift ${axis} ${setup.id}`] = -s * (hours(row['time']!) - began.get(setup.id)!);
          const read = um(Number(text), entry.unit ?? job.units.reading);
          let taken = 0;
          let sigma = plainSigma;
          const effect = (name: string, coefficient: number, u: number) => {
            t[name] = coefficient;
            common.set(name, u);
          };
          const side = (a: string) => (['down', 'right', 'back'].includes(setup.plus?.[a]) ? -1 : 1);
          const airs: any[] = Array.isArray(setup.air) ? setup.air : setup.air ? [setup.air] : [];
          const air = airs.find((a) => a.rail && a.rail === row['rail']) ?? airs.find((a) => !a.rail);
          const way = axis === 'vertical' ? 'vertical' : axis === 'horizontal' ? 'sideways' : '';
          if (air?.[way]) {
            effect(`air ${way} ${setup.id} ${air.rail ?? ''}`, s * bend * away ** 2, air[way].u);
            taken += s * bend * away ** 2 * (air[way].gradient + (way === 'vertical' ? 0.0343 : 0));
          }
          if (instrument.cone)
            effect(
              `cone ${axis} ${instrument.id}`,
              s * away,
              umPerM(instrument.cone.u, instrument.cone.unit),
            );
          const rail = job.rails.find((r: any) => r.id === row['rail']);
          if (axis === 'vertical' && rail?.thermal?.u !== undefined) {
            const track = tracks.get(rail.id)!;
            const at1 = (p: Place) => (track.cross ? p.y : p.x);
            const [x, x1, x2] = [at1(at), at1(track.places[0]!), at1(track.places.at(-1)!)];
            const arch =
              (s * rail.thermal.expansion * 1e-6 * (x - x1) * (x2 - x) * 1e6) /
              (2 * metre(rail.thermal.height));
            effect(`bow ${rail.id}`, arch, rail.thermal.u);
            taken += arch * rail.thermal.topWarmerBy;
          }
          const own = targets.get(target);
          if (own?.scale)
            effect(`scale ${target}`, read / 100, own.scale.unit === '%' ? own.scale.u : own.scale.u / 1e4);
          const plane = axis === 'vertical' ? 'horizontal' : 'vertical';
          const seen = own?.roll && axis !== 'along' ? readIn(row, entry, plane, line) : null;
          if (seen !== null)
            effect(
              `roll ${target}`,
              (axis === 'vertical' ? 1 : -1) * side('vertical') * side('horizontal') * seen * 1e-3,
              umPerM(own.roll.u, own.roll.unit) / 1000,
            );
          if (axis === 'horizontal' && rail?.tilt && own?.rod)
            effect(
              `tilt ${point}`,
              s * um(own.rod.height, own.rod.unit) * 1e-6,
              umPerM(rail.tilt.u, rail.tilt.unit),
            );
          const seat = `seat ${axis} ${target} ${row['placing']}`;
          if (own?.seat && (placings.get(seat) ?? 0) > 1) effect(seat, s, um(own.seat.u, own.seat.unit));
          else if (own?.seat) sigma = Math.sqrt(sigma ** 2 + um(own.seat.u, own.seat.unit) ** 2);
          equations.push({
            terms: t,
            value: read - taken,
            sigma,
            source: source(axis),
          });
        }
      } else if (kind === 'slope') {
        const [a, b] = [tracks.get(row['from_rail']!)!, tracks.get(row['to_rail']!)!];
        const from = Number(row['from_station']);
        const to = Number(row['to_station']);
        const [p, q] = [a.places[from - 1]!, b.places[to - 1]!];
        const distance = Math.sqrt((q.x - p.x) ** 2 + (q.y - p.y) ** 2);
        const axis = row['axis']!;
        const letter = { vertical: 'z', horizontal: 'y', along: 'x' }[axis]!;
        const t: Record<string, number> = {
          [`${letter} ${b.id} ${to}`]: 1 / distance,
          [`${letter} ${a.id} ${from}`]: -1 / distance,
        };
        const against = entry.against ?? (axis === 'vertical' ? 'gravity' : 'sight');
        const rails = [...new Set([a.id, b.id])].sort().join(' and ');
        if (against === 'sight') t[`g ${entry.file} ${rails} ${axis} ${row['pass'] || '1'}`] = 1;
        const { u, resolution = 0, unit } = instruments.get(entry.instrument).reading;
        equations.push({
          terms: t,
          value: umPerM(Number(row['slope']), entry.unit),
          sigma: Math.sqrt(umPerM(u, unit) ** 2 + umPerM(resolution, unit) ** 2 / 12),
          source: source(axis),
        });
      } else {
        const [a, b] = [tracks.get(row['rail']!)!, tracks.get(row['other']!)!];
        const station = stationOf(a, row['station'], row['position']);
        const x = a.places[station - 1]!.x;
        const opposite = b.places.findIndex((p) => Math.abs(p.x - x) <= 0.0005) + 1;
        const across = b.places[0]!.y - a.places[0]!.y;
        const { u, perMetre = 0, resolution = 0, unit } = instruments.get(entry.instrument).reading;
        equations.push({
          terms: {
            [`y ${b.id} ${opposite}`]: Math.sign(across),
            [`y ${a.id} ${station}`]: -Math.sign(across),
          },
          value: um(Number(row['span']), entry.unit) - Math.abs(across) * 1e6,
          sigma: Math.sqrt(
            um(u, unit) ** 2 + um(resolution, unit) ** 2 / 12 + (um(perMetre, unit) * across) ** 2,
          ),
          source: source('horizontal'),
        });
      }
    }
  }

  const known = new Set(equations.flatMap((e) => Object.keys(e.terms)));
  const prior = (name: string, sigma: number) => {
    if (known.has(name)) equations.push({ terms: { [name]: 1 }, value: 0, sigma, source: null });
  };
  for (const s of setups.values()) {
    const { level, drift } = instruments.get(s.instrument);
    if (s.levelled === true)
      for (const t of ['p', 'q']) {
        if (!known.has(`${t} ${s.id}`)) continue;
        const terms: Record<string, number> = { [`${t} ${s.id}`]: 1 };
        if (level.zero) {
          const turn = ((s.heading ?? 0) * Math.PI) / 180;
          terms[`zero p ${s.instrument}`] = t === 'p' ? -Math.cos(turn) : -Math.sin(turn);
          terms[`zero q ${s.instrument}`] = t === 'p' ? Math.sin(turn) : -Math.cos(turn);
          for (const z of ['p', 'q'])
            common.set(`zero ${z} ${s.instrument}`, umPerM(level.zero.u, level.zero.unit));
        }
        equations.push({ terms, value: 0, sigma: umPerM(level.u, level.unit), source: null });
      }
    if (s.drift === 'linear')
      for (const axis of ['vertical', 'horizontal', 'along'])
        prior(`drift ${axis} ${s.id}`, um(drift.u, drift.unit.replace('/h', '')));
  }
  for (const [name, u] of common) equations.push({ terms: { [name]: 1 }, value: 0, sigma: u, source: null });
  for (const i of instruments.values()) if (i.square) prior(`e ${i.id}`, umPerM(i.square.u, i.square.unit));
  return equations;
}
