/** Random surveys of every kind of reading, well and badly tied, for comparison with an independent solution. */
import type { Job, Rail } from '../../src/survey/job/job.js';
import type { Reading } from '../../src/survey/readings/readings.js';
import { crossRail, job, laser, normal, rail, seeded, setup } from './jobs.js';

export interface Survey {
  readonly job: Job;
  readonly readings: Reading[];
}

export function randomSurvey(seed: number): Survey {
  const next = seeded(seed * 7919 + 13);
  const pick = <T>(list: readonly T[]): T => list[Math.floor(next() * list.length)]!;
  const chance = (p: number) => next() < p;
  const whole = (from: number, to: number) => from + Math.floor(next() * (to - from + 1));

  const positions = (n: number) => Array.from({ length: n }, (_, k) => k * 400 + Math.floor(next() * 200));
  const at = positions(whole(2, 7));
  const rails: Rail[] = [rail('A', 0, at, { datum: true })];
  if (chance(0.8)) rails.push(rail('B', 3000, chance(0.7) ? at : positions(whole(2, 6))));
  if (chance(0.3)) rails.push(rail('C', -2000, at));
  if (chance(0.3)) rails.push(crossRail('X', 2500, [200, 900, 1700, 2600]));
  const monuments = chance(0.7)
    ? [
        { id: 'M1', alongMm: 4000, acrossMm: 700 },
        { id: 'M2', alongMm: 4000, acrossMm: 2300 },
      ]
    : [];
  const setups = Array.from({ length: whole(1, 3) }, (_, k) =>
    setup(`S${k + 1}`, -600 + 900 * k, 400 + 1200 * k, {
      levelled: chance(0.6),
      instrument: chance(0.8) ? 'L1' : 'L2',
      sign: { vertical: pick([1, -1]), horizontal: pick([1, -1]), along: pick([1, -1]) },
    }),
  );
  const instruments = [
    laser(),
    laser({ id: 'L2', squareU: chance(0.5) ? null : 4 }),
    laser({ id: 'E1', measures: 'slope', readingU: 2, perMetreU: 0, levelU: null, squareU: null }),
    laser({ id: 'T1', readingU: 20, perMetreU: 5, levelU: null, squareU: null }),
  ];

  const readings: Reading[] = [];
  let row = 1;
  const common = (pass: string) => ({
    source: { file: 'readings/r.csv', row: ++row },
    pass,
    time: null,
    note: '',
  });
  for (const s of setups) {
    for (const r of rails) {
      if (!chance(0.7)) continue;
      const passes = whole(1, 2);
      for (let pass = 1; pass <= passes; pass++) {
        const target = chance(0.8) ? 'T1' : pick(['T2', 'T3']);
        for (const station of r.stations) {
          for (const axis of r.direction === 'along'
            ? (['vertical', 'horizontal'] as const)
            : (['vertical', 'along'] as const)) {
            if (chance(0.2)) continue;
            readings.push({
              kind: 'offset',
              ...common(String(pass)),
              setup: s.id,
              point: { kind: 'station', rail: r.id, station: station.number },
              target,
              axis,
              um: 300 * normal(next),
            });
          }
        }
      }
    }
    for (const m of monuments) {
      for (const axis of ['along', 'vertical'] as const) {
        if (!chance(axis === 'along' ? 0.8 : 0.3)) continue;
        readings.push({
          kind: 'offset',
          ...common('1'),
          setup: s.id,
          point: { kind: 'monument', monument: m.id },
          target: pick(['T1', 'T3']),
          axis,
          um: 300 * normal(next),
        });
      }
    }
  }
  for (const r of rails) {
    if (!chance(0.4)) continue;
    const axis = r.direction === 'across' ? 'vertical' : pick(['vertical', 'horizontal'] as const);
    const sight = chance(0.5) ? `${r.id}|${axis}` : null;
    for (let k = 1; k < r.stations.length; k++) {
      const [from, to] = chance(0.8) ? [k, k + 1] : [k + 1, Math.max(1, k - 1)];
      if (from === to) continue;
      readings.push({
        kind: 'slope',
        ...common('1'),
        from: { rail: r.id, station: from },
        to: { rail: r.id, station: to },
        axis,
        umPerM: 50 * normal(next),
        instrument: 'E1',
        sight,
      });
    }
  }
  const other = rails[1];
  if (other !== undefined && other.direction === 'along') {
    if (chance(0.4)) {
      for (const station of rails[0]!.stations) {
        if (other.stations[station.number - 1] === undefined || chance(0.4)) continue;
        readings.push({
          kind: 'slope',
          ...common('1'),
          from: { rail: 'A', station: station.number },
          to: { rail: other.id, station: station.number },
          axis: 'vertical',
          umPerM: 50 * normal(next),
          instrument: 'E1',
          sight: null,
        });
      }
    }
    if (chance(0.4)) {
      readings.push({
        kind: 'span',
        ...common('1'),
        rail: 'A',
        other: other.id,
        station: 1,
        otherStation: 1,
        departureUm: 100 * normal(next),
        nominalMm: 3000,
        instrument: 'T1',
      });
    }
  }
  return { job: job({ rails, monuments, setups, instruments }), readings };
}
