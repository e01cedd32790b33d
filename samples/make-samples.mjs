/**
 * Writes the sample jobs of this folder. Everything in them is invented: the firm, the people, the machines and
 * the readings, which are computed from made-up rails, made-up set-ups and seeded noise.
 *
 *   node samples/make-samples.mjs
 */
import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const here = dirname(fileURLToPath(import.meta.url));

/** mulberry32 and Box–Muller: good enough to make a demo look real, and the same on every machine. */
function noise(seed) {
  let a = seed;
  const uniform = () => {
    a = (a + 0x6d2b79f5) | 0;
    let t = Math.imul(a ^ (a >>> 15), 1 | a);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
  return (u) => u * Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
}

const pad = (n) => String(n).padStart(2, '0');

/** Clock of a survey day, a minute or two a reading. */
function clock(day, hour, minute) {
  let minutes = hour * 60 + minute;
  return (step = 2) => {
    minutes += step;
    return `${day}T${pad(Math.floor(minutes / 60))}:${pad(minutes % 60)}`;
  };
}

function write(job, files) {
  const folder = join(here, job.id);
  rmSync(folder, { recursive: true, force: true });
  mkdirSync(join(folder, 'readings'), { recursive: true });
  writeFileSync(join(folder, 'job.json'), `${JSON.stringify(job, null, 2)}\n`);
  for (const [name, rows] of Object.entries(files)) writeFileSync(join(folder, name), `${rows.join('\n')}\n`);
}

const header = 'setup,rail,station,monument,target,pass,time,vertical,horizontal,along,use,note';

/**
 * One set-up's readings of the model (heights, offsets µm; positions m): s·(z + k − h − p·dx − q·dy) and so on.
 */
function reader(setup, state, draw, unit) {
  const sign = (side, positive) => (side === positive ? 1 : -1);
  const u = (dx, dy) => Math.hypot(1.5, 0.3 * Math.hypot(dx, dy));
  return {
    vertical: (x, y, z, k) => {
      const [dx, dy] = [x - setup.x, y - setup.y];
      const r = z + k - state.h - state.p * dx - state.q * dy;
      return unit(sign(setup.plus.vertical, 'up') * r + draw(u(dx, dy)));
    },
    horizontal: (x, y, o, b, c) => {
      const [dx, dy] = [x - setup.x, y - setup.y];
      return unit(sign(setup.plus.horizontal, 'left') * (o + b - c - state.yaw * dx) + draw(u(dx, dy)));
    },
    along: (x, y, ahead, a) => {
      const [dx, dy] = [x - setup.x, y - setup.y];
      return unit(sign(setup.plus.along, 'ahead') * (ahead + a - state.d + state.yaw * dy) + draw(u(dx, dy)));
    },
  };
}

const um = (v) => v.toFixed(1);
const thou = (v) => (v / 25.4).toFixed(2);

// ——— 1. One shot: both rails of a short bed from one set-up ————————————————————————————————————————————
{
  const draw = noise(11);
  const at = Array.from({ length: 9 }, (_, k) => k * 0.4);
  const setup = { x: -0.5, y: 0.65, plus: { vertical: 'up', horizontal: 'left', along: 'ahead' } };
  const read = reader(setup, { h: 12, p: 1.4, q: -0.9, yaw: 2.1, d: 0 }, draw, um);
  const rails = {
    A: { y: 0, z: (x) => 2.6 * Math.sin(1.1 * x) + 1.2 * x, o: (x) => 1.8 * Math.cos(1.4 * x) },
    B: { y: 1.3, z: (x) => 3 + 1.7 * Math.sin(1.3 * x + 0.6) + 1.9 * x, o: (x) => 1.2 * Math.sin(1.8 * x) - 0.8 * x },
  };
  const rows = [header];
  const now = clock('2026-05-19', 9, 10);
  for (const pass of [1, 2]) {
    for (const [id, rail] of Object.entries(rails)) {
      const order = pass === 1 ? at.map((_, k) => k) : at.map((_, k) => at.length - 1 - k);
      for (const k of order) {
        const v = read.vertical(at[k], rail.y, rail.z(at[k]), 40);
        const h = read.horizontal(at[k], rail.y, rail.o(at[k]), -15, 20);
        const bumped = pass === 1 && id === 'B' && k === 5;
        if (bumped) rows.push(`S1,${id},${k + 1},,T1,${pass},${now()},${um(Number(v) + 62)},${h},,no,hose lay against the target: read again`);
        rows.push(`S1,${id},${k + 1},,T1,${pass},${now()},${v},${h},,,`);
      }
    }
  }
  write(
    {
      format: 'waysheet-job/1',
      id: 'TH-0412',
      title: 'Toolroom grinder, bed rails after re-levelling (invented demonstration)',
      issuer: 'Tern Hollow Alignment Office (invented)',
      customer: 'Bellbrook Gear Works (invented)',
      site: 'Bellbrook, toolroom, bay 2',
      machine: { name: 'Surface grinder "Wren"', serial: 'W-118' },
      surveyed: { by: 'I. Maddern', on: '2026-05-19' },
      prepared: { by: 'O. Tressel', on: '2026-05-20' },
      units: { length: 'mm', reading: 'um' },
      conditions: { temperature: { from: 20.1, to: 20.4, unit: 'C' }, note: 'Machine idle overnight, covers on.' },
      rails: [
        { id: 'A', name: 'Front rail', datum: true, across: 0, stations: { first: 0, spacing: 400, count: 9 } },
        { id: 'B', name: 'Rear rail', across: 1300, stations: { first: 0, spacing: 400, count: 9 } },
      ],
      instruments: [
        {
          id: 'L1',
          description: 'rotating-plane laser with position-sensing targets',
          serial: 'DEMO-3307',
          certificate: 'DEMO-CAL-5521',
          calibrationDue: '2026-11-30',
          reading: { u: 1.5, perMetre: 0.3, unit: 'um' },
          level: { u: 1, unit: 'arcsec' },
          range: { limit: 500, unit: 'um' },
        },
      ],
      setups: [{ id: 'S1', instrument: 'L1', along: -500, across: 650, levelled: true, plus: setup.plus }],
      readings: [{ file: 'readings/as-left.csv', phase: 'as-left' }],
      tolerances: [
        { what: 'straightness-vertical', limit: 12, unit: 'um' },
        { what: 'straightness-horizontal', limit: 12, unit: 'um' },
        { what: 'parallelism-vertical', rail: 'B', limit: 15, unit: 'um' },
        { what: 'parallelism-horizontal', rail: 'B', limit: 15, unit: 'um' },
        { what: 'cross-level', rail: 'B', limit: 20, unit: 'um/m' },
        { what: 'twist', rail: 'B', limit: 15, unit: 'um/m' },
      ],
      decision: { rule: 'simple', coverage: 0.95 },
    },
    { 'readings/as-left.csv': rows },
  );
}

// ——— 2. The long one: two set-ups, direction by monuments, height by one target, as found and as left ————————
{
  const draw = noise(2031);
  const count = 25;
  const at = Array.from({ length: count }, (_, k) => k * 0.5);
  const s1 = { x: -0.6, y: 0.4, plus: { vertical: 'up', horizontal: 'left', along: 'ahead' } };
  const s2 = { x: -0.6, y: 2.8, plus: { vertical: 'up', horizontal: 'right', along: 'ahead' } };
  const wave = (a, l, f) => (x) => a * Math.sin((2 * Math.PI * x) / l + f);
  const A = {
    found: { z: (x) => wave(24, 11, 0.3)(x) + wave(7, 3.1, 1)(x) - 6.5 * x, o: (x) => wave(19, 9, 2)(x) + wave(5, 2.7, 0)(x) },
    left: { z: (x) => wave(6.5, 8, 0.9)(x) + wave(2.4, 2.3, 0)(x) + 0.7 * x, o: (x) => wave(5.5, 10, 1.2)(x) + wave(2, 3.3, 2)(x) },
  };
  const B = {
    found: { z: (x) => 58 + wave(31, 13, 1.9)(x) + wave(6, 2.9, 2)(x) + 9 * x, o: (x) => wave(26, 12, 0.5)(x) + 7 * x + wave(6, 3.7, 1)(x) },
    left: { z: (x) => 5 + wave(6, 9, 2.2)(x) + wave(2.5, 2.6, 1)(x) + 1.1 * x, o: (x) => wave(6, 11, 0.2)(x) + 0.6 * x + wave(2, 2.5, 0)(x) },
  };
  const files = {};
  for (const [phase, day, hour] of [['found', '2026-03-12', 7], ['left', '2026-03-14', 8]]) {
    const rows = [header];
    const now = clock(day, hour, 10);
    const one = reader(s1, { h: 31, p: 0.9, q: -0.6, yaw: 4.2, d: 15 }, draw, um);
    const two = reader(s2, { h: -12, p: -0.5, q: 0.8, yaw: -3.6, d: 8 }, draw, um);
    const m = { M1: { x: 2.4, y: -1.6, at: 22 }, M2: { x: 2.4, y: 4.8, at: -14 } };
    const monuments = (who, setup, pass, note = '') => {
      for (const [id, p] of Object.entries(m)) rows.push(`${setup},,,${id},T3,${pass},${now(3)},,,${who.along(p.x, p.y, p.at, 6)},,${note}`);
    };
    for (const look of [1, 2]) monuments(one, 'S1', look);
    for (const pass of [1, 2]) {
      const order = pass === 1 ? at.keys() : [...at.keys()].reverse();
      for (const k of order) {
        const x = at[k];
        rows.push(`S1,A,${k + 1},,T1,${pass},${now(1)},${one.vertical(x, 0, A[phase].z(x), 55)},${one.horizontal(x, 0, A[phase].o(x), 12, 25)},,,`);
      }
    }
    for (const look of [3, 4]) monuments(one, 'S1', look, 'closing look');
    now(35);
    for (const look of [1, 2]) monuments(two, 'S2', look);
    for (const [k, note] of [[0, 'height carried over'], [12, 'height carried over']]) {
      for (const pass of [1, 2]) rows.push(`S2,A,${k + 1},,T1,${pass},${now(2)},${two.vertical(at[k], 0, A[phase].z(at[k]), 55)},,,,${note}`);
    }
    for (const pass of [1, 2]) {
      const order = pass === 1 ? at.keys() : [...at.keys()].reverse();
      for (const k of order) {
        const x = at[k];
        const slipped = phase === 'found' && pass === 2 && k === 17;
        const v = two.vertical(x, 3.2, B[phase].z(x), 55);
        const h = two.horizontal(x, 3.2, B[phase].o(x), 12, -40);
        if (slipped) rows.push(`S2,B,${k + 1},,T1,${pass},${now(1)},${um(Number(v) - 140)},${h},,no,target not seated; cleaned and read again`);
        rows.push(`S2,B,${k + 1},,T1,${pass},${now(1)},${v},${h},,,`);
      }
    }
    for (const look of [3, 4]) monuments(two, 'S2', look, 'closing look');
    files[`readings/as-${phase}.csv`] = rows;
  }
  write(
    {
      format: 'waysheet-job/1',
      id: 'TH-2031',
      title: 'Gantry mill, bed rails after regrout (invented demonstration)',
      issuer: 'Tern Hollow Alignment Office (invented)',
      customer: 'Marrow Quay Shipyard (invented)',
      site: 'Marrow Quay, plate shop, north bay',
      machine: { name: 'Gantry mill "Heron"', serial: 'H-2207' },
      surveyed: { by: 'I. Maddern', on: '2026-03-14' },
      prepared: { by: 'O. Tressel', on: '2026-03-16' },
      units: { length: 'mm', reading: 'um' },
      report: { length: 'mm', deviation: 'um', slope: 'um/m', paper: 'A4' },
      conditions: {
        temperature: { from: 19.4, to: 20.8, unit: 'C' },
        note: 'Doors shut, heaters off since the evening before; bridge not yet mounted.',
      },
      rails: [
        { id: 'A', name: 'Column-side rail', datum: true, across: 0, stations: { first: 0, spacing: 500, count } },
        { id: 'B', name: 'Aisle-side rail', across: 3200, stations: { first: 0, spacing: 500, count } },
      ],
      monuments: [
        { id: 'M1', along: 2400, across: -1600 },
        { id: 'M2', along: 2400, across: 4800 },
      ],
      instruments: [
        {
          id: 'L1',
          description: 'rotating-plane laser with position-sensing targets',
          serial: 'DEMO-4410',
          certificate: 'DEMO-CAL-7702',
          calibrationDue: '2026-09-30',
          reading: { u: 1.5, perMetre: 0.3, unit: 'um' },
          level: { u: 1, unit: 'arcsec' },
          square: { u: 1, unit: 'arcsec' },
          range: { limit: 12.7, unit: 'mm' },
        },
      ],
      setups: [
        { id: 'S1', instrument: 'L1', along: -600, across: 400, levelled: true, plus: s1.plus },
        { id: 'S2', instrument: 'L1', along: -600, across: 2800, levelled: true, plus: s2.plus, note: 'moved across; targets faced the other way' },
      ],
      readings: [
        { file: 'readings/as-found.csv', phase: 'as-found' },
        { file: 'readings/as-left.csv', phase: 'as-left' },
      ],
      tolerances: 'tolerances/bed-rails.json',
      decision: { rule: 'guarded', coverage: 0.95 },
    },
    files,
  );
  mkdirSync(join(here, 'TH-2031', 'tolerances'), { recursive: true });
  const growing = { upTo: 2000, limit: 15, more: { each: 1000, limit: 2.5 }, most: 50 };
  writeFileSync(
    join(here, 'TH-2031', 'tolerances', 'bed-rails.json'),
    `${JSON.stringify(
      {
        name: 'Bed rails, drawing H-2207-04 rev C (invented)',
        source: 'supplied by the customer',
        tolerances: [
          { what: 'straightness-vertical', limit: growing, unit: 'um' },
          { what: 'straightness-horizontal', limit: growing, unit: 'um' },
          { what: 'straightness-vertical-local', limit: 15, unit: 'um', over: { length: 1000, unit: 'mm' } },
          { what: 'straightness-horizontal-local', limit: 15, unit: 'um', over: { length: 1000, unit: 'mm' } },
          { what: 'level-along', limit: 20, unit: 'um/m' },
          { what: 'parallelism-vertical', rail: 'B', limit: 60, unit: 'um' },
          { what: 'parallelism-horizontal', rail: 'B', limit: 60, unit: 'um' },
          { what: 'height-difference', rail: 'B', limit: 60, unit: 'um' },
          { what: 'cross-level', rail: 'B', limit: 20, unit: 'um/m' },
          { what: 'twist', rail: 'B', limit: 20, unit: 'um/m' },
        ],
      },
      null,
      2,
    )}\n`,
  );
}

// ——— 3. Inches and thousandths: one shot of a router bed; one value too close to its limit to be proven ——————
{
  const draw = noise(96);
  const at = Array.from({ length: 11 }, (_, k) => k * 24 * 0.0254);
  const y = 96 * 0.0254;
  const setup = { x: -30 * 0.0254, y: 48 * 0.0254, plus: { vertical: 'up', horizontal: 'right', along: 'ahead' } };
  const files = {};
  const shape = {
    found: {
      A: { z: (x) => 90 * Math.sin(0.7 * x) - 30 * x, o: (x) => 60 * Math.cos(0.9 * x) },
      B: { z: (x) => 250 + 70 * Math.sin(0.8 * x + 2) + 25 * x, o: (x) => 75 * Math.sin(0.6 * x) + 20 * x },
    },
    left: {
      A: { z: (x) => 13 * Math.sin(0.95 * x), o: (x) => 11 * Math.cos(1.1 * x) },
      B: { z: (x) => 10 + 12 * Math.sin(0.9 * x + 1) - 1.5 * x, o: (x) => 13 * Math.sin(0.8 * x) + 2 * x },
    },
  };
  for (const [phase, day] of [['found', '2026-08-03'], ['left', '2026-08-05']]) {
    const now = clock(day, 13, 5);
    const read = reader(setup, { h: 80, p: -2.2, q: 1.7, yaw: -6, d: 0 }, draw, thou);
    const rows = ['setup,rail,position,target,pass,time,vertical,horizontal,use,note'];
    for (const pass of [1, 2]) {
      for (const id of ['A', 'B']) {
        for (const [k, x] of at.entries()) {
          const yr = id === 'A' ? 0 : y;
          const r = shape[phase][id];
          rows.push(`S1,${id},${k * 24},T1,${pass},${now(1)},${read.vertical(x, yr, r.z(x), 30)},${read.horizontal(x, yr, r.o(x), 8, 14)},,`);
        }
      }
    }
    files[`readings/as-${phase}.csv`] = rows;
  }
  write(
    {
      format: 'waysheet-job/1',
      id: 'TH-1175',
      title: 'Router gantry, new rails (invented demonstration, inch units)',
      issuer: 'Tern Hollow Alignment Office (invented)',
      customer: 'Quillon Panel Company (invented)',
      site: 'Quillon, hall B',
      machine: { name: 'Router gantry "Plover"', serial: 'P-60' },
      surveyed: { by: 'R. Askew', on: '2026-08-05' },
      units: { length: 'in', reading: 'thou' },
      report: { length: 'in', deviation: 'thou', slope: 'thou/ft', paper: 'Letter' },
      conditions: { temperature: { from: 71, to: 74, unit: 'F' } },
      rails: [
        { id: 'A', name: 'Fixed-side rail', datum: true, across: 0, stations: { first: 0, spacing: 24, count: 11 } },
        { id: 'B', name: 'Float-side rail', across: 96, stations: { first: 0, spacing: 24, count: 11 } },
      ],
      instruments: [
        {
          id: 'L2',
          description: 'rotating-plane laser with position-sensing targets',
          serial: 'DEMO-1187',
          certificate: 'DEMO-CAL-6003',
          calibrationDue: '2026-07-31',
          reading: { u: 0.06, perMetre: 0.012, unit: 'thou' },
          level: { u: 1, unit: 'arcsec' },
          range: { limit: 0.5, unit: 'in' },
        },
      ],
      setups: [{ id: 'S1', instrument: 'L2', along: -30, across: 48, levelled: true, plus: setup.plus }],
      readings: [
        { file: 'readings/as-found.csv', phase: 'as-found' },
        { file: 'readings/as-left.csv', phase: 'as-left' },
      ],
      tolerances: [
        { what: 'straightness-vertical', limit: 0.0015, unit: 'in' },
        { what: 'straightness-horizontal', limit: 0.0015, unit: 'in' },
        { what: 'level-along', rail: 'A', limit: 0.25, unit: 'thou/ft' },
        { what: 'parallelism-vertical', rail: 'B', limit: 0.0021, unit: 'in' },
        { what: 'parallelism-horizontal', rail: 'B', limit: 0.0015, unit: 'in' },
        { what: 'cross-level', rail: 'B', limit: 0.25, unit: 'thou/ft' },
      ],
      decision: { rule: 'guarded' },
    },
    files,
  );
}

// ——— 4. Everything at once: overlapping legs, level and autocollimator, spans, a cross rail —————————————————
{
  const draw = noise(3318);
  const count = 41;
  const at = Array.from({ length: count }, (_, k) => k * 0.5);
  const across = 3.6;
  const plus = { vertical: 'up', horizontal: 'left', along: 'ahead' };
  const s1 = { x: -0.8, y: 1.8, plus };
  const s2 = { x: 9.6, y: 1.8, plus };
  const rails = {
    A: { y: 0, z: (x) => 9 * Math.sin(0.45 * x + 0.4) + 2.5 * Math.sin(1.9 * x) + 0.5 * x, o: (x) => 8 * Math.cos(0.5 * x) },
    B: { y: across, z: (x) => -6 + 8 * Math.sin(0.5 * x + 1.9) + 0.7 * x, o: (x) => 7 * Math.sin(0.42 * x + 0.8) + 12 },
  };
  const cross = Array.from({ length: 8 }, (_, k) => 0.2 + k * 0.45);
  const C = { x: 20.9, z: (y) => 14 + 3 * Math.sin(1.4 * y) - 2 * y, ahead: (y) => 4 * Math.sin(1.1 * y) + 6.5 * y };

  const rows = [header];
  const now = clock('2026-06-23', 7, 30);
  const legs = [
    ['S1', reader(s1, { h: 10, p: 1.2, q: -0.8, yaw: 3, d: 4 }, draw, um), [0, 22]],
    ['S2', reader(s2, { h: -25, p: -0.9, q: 0.6, yaw: -2.2, d: -6 }, draw, um), [18, 41]],
  ];
  for (const [id, who, [from, to]] of legs) {
    for (const pass of [1, 2]) {
      for (const [name, rail] of Object.entries(rails)) {
        const order = at.map((_, k) => k).slice(from, to);
        for (const k of pass === 1 ? order : order.reverse()) {
          const [x, y] = [at[k], rail.y];
          const v = who.vertical(x, y, rail.z(x), 35);
          rows.push(`${id},${name},${k + 1},,T1,${pass},${now(1)},${v},${who.horizontal(x, y, rail.o(x), 9, name === 'A' ? 16 : -22)},,,`);
        }
      }
    }
    if (id === 'S2') {
      for (const pass of [1, 2]) {
        for (const [k, y] of cross.entries()) {
          rows.push(`S2,C,${k + 1},,T1,${pass},${now(1)},${who.vertical(C.x, y, C.z(y), 35)},,${who.along(C.x, y, C.ahead(y), 11)},,`);
        }
      }
    }
  }
  const level = ['from_rail,from_station,to_rail,to_station,axis,slope,pass,note'];
  for (const [name, rail] of Object.entries(rails)) {
    for (let k = 1; k < count; k++) {
      const slope = (rail.z(at[k]) - rail.z(at[k - 1])) / 0.5 + draw(4);
      level.push(`${name},${k},${name},${k + 1},vertical,${slope.toFixed(1)},1,`);
    }
  }
  for (const k of [0, 10, 20, 30, 40]) {
    const slope = (rails.B.z(at[k]) - rails.A.z(at[k])) / across + draw(4);
    level.push(`A,${k + 1},B,${k + 1},vertical,${slope.toFixed(1)},1,on the bridge straightedge`);
  }
  const sight = ['from_rail,from_station,to_rail,to_station,axis,slope,pass'];
  for (const pass of [1, 2]) {
    for (let k = 1; k < count; k++) {
      const slope = (rails.A.o(at[k]) - rails.A.o(at[k - 1])) / 0.5 + (pass === 1 ? 41 : -17) + draw(2);
      sight.push(`A,${k},A,${k + 1},horizontal,${(slope / 4.84813681109536).toFixed(2)},${pass}`);
    }
  }
  const span = ['rail,other,station,span,pass,note'];
  for (const k of [0, 10, 20, 30, 40]) {
    const mm = across * 1000 + (rails.B.o(at[k]) - rails.A.o(at[k]) + draw(12)) / 1000;
    span.push(`A,B,${k + 1},${mm.toFixed(3)},1,`);
  }
  write(
    {
      format: 'waysheet-job/1',
      id: 'TH-3318',
      title: 'Gantry line, long rails in two legs, with cross rail (invented demonstration)',
      issuer: 'Tern Hollow Alignment Office (invented)',
      customer: 'Osier Bank Turbine Works (invented)',
      site: 'Osier Bank, long hall',
      machine: { name: 'Gantry line "Bittern"', serial: 'B-31' },
      surveyed: { by: 'I. Maddern', on: '2026-06-23' },
      prepared: { by: 'O. Tressel', on: '2026-06-25' },
      units: { length: 'mm', reading: 'um' },
      conditions: { temperature: { from: 20.6, to: 21.3, unit: 'C' }, note: 'Crane parked at the far end.' },
      rails: [
        { id: 'A', name: 'South rail', datum: true, across: 0, stations: { first: 0, spacing: 500, count } },
        { id: 'B', name: 'North rail', across: 3600, stations: { first: 0, spacing: 500, count } },
        { id: 'C', name: 'Cross rail, far end', direction: 'across', along: 20900, stations: { first: 200, spacing: 450, count: 8 } },
      ],
      instruments: [
        {
          id: 'L1',
          description: 'rotating-plane laser with position-sensing targets',
          serial: 'DEMO-4410',
          certificate: 'DEMO-CAL-7702',
          calibrationDue: '2026-09-30',
          reading: { u: 1.5, perMetre: 0.3, unit: 'um' },
          level: { u: 1, unit: 'arcsec' },
          square: { u: 1, unit: 'arcsec' },
          range: { limit: 12.7, unit: 'mm' },
        },
        { id: 'E1', description: 'electronic level on a 500 mm base', serial: 'DEMO-0918', certificate: 'DEMO-CAL-2204', calibrationDue: '2027-01-31', reading: { u: 4, unit: 'um/m' } },
        { id: 'C1', description: 'autocollimator with mirror on a 500 mm base', serial: 'DEMO-0077', certificate: 'DEMO-CAL-3119', calibrationDue: '2027-02-28', reading: { u: 0.4, unit: 'arcsec' } },
        { id: 'R1', description: 'laser tracker, distances across', serial: 'DEMO-5150', certificate: 'DEMO-CAL-9931', calibrationDue: '2026-12-31', reading: { u: 10, perMetre: 2, unit: 'um' } },
      ],
      setups: [
        { id: 'S1', instrument: 'L1', along: -800, across: 1800, levelled: true, plus },
        { id: 'S2', instrument: 'L1', along: 9600, across: 1800, levelled: true, plus, note: 'second leg; stations 19 to 22 read from both' },
      ],
      readings: [
        { file: 'readings/legs.csv', phase: 'as-left' },
        { file: 'readings/level.csv', phase: 'as-left', kind: 'slope', instrument: 'E1', unit: 'um/m' },
        { file: 'readings/autocollimator.csv', phase: 'as-left', kind: 'slope', instrument: 'C1', unit: 'arcsec' },
        { file: 'readings/span.csv', phase: 'as-left', kind: 'span', instrument: 'R1', unit: 'mm' },
      ],
      tolerances: [
        { what: 'straightness-vertical', limit: 40, unit: 'um' },
        { what: 'straightness-horizontal', limit: 40, unit: 'um' },
        { what: 'straightness-vertical-local', limit: 15, unit: 'um', over: { length: 2000, unit: 'mm' } },
        { what: 'level-along', rail: 'A', limit: 10, unit: 'um/m' },
        { what: 'parallelism-vertical', rail: 'B', limit: 40, unit: 'um' },
        { what: 'parallelism-horizontal', rail: 'B', limit: 40, unit: 'um' },
        { what: 'cross-level', rail: 'B', limit: 15, unit: 'um/m' },
        { what: 'twist', rail: 'B', limit: 15, unit: 'um/m' },
        { what: 'span', rail: 'B', limit: 60, unit: 'um' },
        { what: 'coplanarity', rail: 'B', reference: 'minimum-zone', limit: 50, unit: 'um' },
        { what: 'squareness', rail: 'C', limit: 20, unit: 'um/m' },
      ],
      decision: { rule: 'guarded', coverage: 0.95 },
    },
    { 'readings/legs.csv': rows, 'readings/level.csv': level, 'readings/autocollimator.csv': sight, 'readings/span.csv': span },
  );
}

// ——— 5. Four rails before they are adjusted: air and targets stated, joints, a crown, adjusters with screws and shims ———
{
  const draw = noise(45);
  const at = Array.from({ length: 11 }, (_, k) => k * 0.6);
  const length = 6;
  const places = { A: 0, B: 0.9, C: 2.6, D: 3.5 };
  const crown = (x) => 30 * (1 - Math.abs(x - length / 2) / (length / 2));
  const heights = {
    A: (x) => 4 * x + 9 * Math.sin(2.1 * x),
    B: (x) => crown(x) + 18 + 11 * Math.sin(1.6 * x + 1) - (x > 3.9 ? 34 : 0),
    C: (x) => crown(x) - 22 + 12 * Math.cos(1.9 * x),
    D: (x) => 35 + 12 * Math.sin(0.9 * x) - 45 * Math.max(0, (x - 3.6) / 2.4),
  };
  const offsets = { A: (x) => 8 * Math.sin(x), B: (x) => 14 * Math.sin(1.3 * x + 0.4), C: (x) => 10 * Math.cos(1.1 * x), D: (x) => 12 * Math.sin(0.8 * x) };
  const setup = { x: 3, y: 1.75, plus: { vertical: 'up', horizontal: 'left', along: 'ahead' } };
  const read = reader(setup, { h: 31, p: 2.1, q: -1.6, yaw: 14, d: 0 }, draw, um);
  // Air 0.12 K/m warmer above bends the light down, the plane stands lower there, and targets read more (1 K/m: 0.48 µm a m²).
  const bend = (x, y) => (0.5 * 503 * (1013 / 293 ** 2) * (0.0343 + 0.12) * ((x - setup.x) ** 2 + (y - setup.y) ** 2)) / 6.371;
  const time = clock('2026-08-24', 8, 5);
  const rows = [header];
  for (const pass of [1, 2])
    for (const rail of 'ABCD')
      for (const [k, x] of at.entries()) {
        const y = places[rail];
        const vertical = read.vertical(x, y, heights[rail](x) + bend(x, y), 0);
        rows.push(`S1,${rail},${k + 1},,T1,${pass},${time(1)},${vertical},${read.horizontal(x, y, offsets[rail](x), 0, 120 * places[rail])},,,`);
      }
  const stations = { first: 0, spacing: 600, count: 11 };
  const nominal = { vertical: [{ along: 0, offset: 0 }, { along: 3000, offset: 30 }, { along: 6000, offset: 0 }], unit: 'um' };
  const beam = { stiffness: { value: 2.1, unit: 'MN m2' } };
  const screws = (rail, count, more) =>
    Array.from({ length: count }, (_, k) => ({ id: `${rail}${k + 1}`, rail, along: (6000 / (count - 1)) * k, ...more }));
  const screw = { moves: { vertical: { up: 1.5, down: 0.8, unit: 'mm', pitch: 1.5 }, horizontal: { left: 0.5, right: 0.5, unit: 'mm', pitch: 1 } } };
  write(
    {
      format: 'waysheet-job/1',
      id: 'TH-4520',
      title: 'Four-rail transfer bed before adjustment (invented demonstration)',
      issuer: 'Tern Hollow Alignment Office (invented)',
      customer: 'Harrow Fen Presses (invented)',
      site: 'Harrow Fen, hall 1',
      machine: { name: 'Transfer bed "Heron"', serial: 'H-204' },
      surveyed: { by: 'I. Maddern', on: '2026-08-24' },
      prepared: { by: 'O. Tressel', on: '2026-08-24' },
      units: { length: 'mm', reading: 'um' },
      conditions: { temperature: { from: 21.2, to: 21.9, unit: 'C' }, note: 'Hall doors shut; heaters off since the evening.' },
      rails: [
        { id: 'A', name: 'Outer rail, aisle side', datum: true, across: 0, stations, joints: [3300], beam },
        { id: 'B', name: 'Inner rail, aisle side', across: 900, stations, joints: [3900], nominal, beam },
        { id: 'C', name: 'Inner rail, wall side', across: 2600, stations, nominal, beam },
        { id: 'D', name: 'Outer rail, wall side', across: 3500, stations, beam },
      ],
      instruments: [
        {
          id: 'L1',
          description: 'rotating-plane laser with position-sensing targets',
          serial: 'DEMO-3307',
          certificate: 'DEMO-CAL-5521',
          calibrationDue: '2026-11-30',
          reading: { u: 1.5, perMetre: 0.3, unit: 'um' },
          level: { u: 0.3, unit: 'arcsec' },
          cone: { u: 0.2, unit: 'arcsec' },
          range: { limit: 1, unit: 'mm' },
        },
      ],
      targets: [{ id: 'T1', serial: 'DEMO-T-11', scale: { u: 0.2, unit: '%' }, roll: { u: 1, unit: 'mrad' } }],
      setups: [
        {
          id: 'S1', instrument: 'L1', along: 3000, across: 1750, levelled: true, plus: setup.plus,
          air: { vertical: { gradient: 0.1, u: 0.1, unit: 'K/m' }, sideways: { gradient: 0, u: 0.05, unit: 'K/m' } },
          note: 'thermometers 1 m apart beside the bed',
        },
      ],
      readings: [{ file: 'readings/as-found.csv', phase: 'as-found' }],
      tolerances: [
        { what: 'straightness-vertical', limit: 35, unit: 'um' },
        { what: 'straightness-horizontal', limit: 45, unit: 'um' },
        { what: 'coplanarity', rails: ['A', 'B', 'C', 'D'], limit: 60, unit: 'um' },
        { what: 'parallelism-vertical', rail: 'C', against: 'B', limit: 40, unit: 'um' },
        { what: 'height-difference', rail: 'D', from: -20, to: 60, unit: 'um' },
        { what: 'straightness-vertical', rail: 'A', between: [1200, 4800], reference: 'end-points', limit: 30, unit: 'um' },
      ],
      adjusters: [
        ...screws('A', 6, screw),
        ...screws('B', 6, screw),
        ...screws('C', 6, screw),
        ...screws('D', 6, { shims: { have: [0.5, 0.2, 0.1, 0.05, 0.02, 0.01], in: 1.5, unit: 'mm' } }),
      ],
      corrections: { want: 'fewest-moves', margin: 0.05, untouched: ['A'] },
      decision: { rule: 'guarded', coverage: 0.95 },
    },
    { 'readings/as-found.csv': rows },
  );
}
