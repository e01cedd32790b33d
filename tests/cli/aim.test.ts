/** `aim` against a beam that is turned: the target of each place is read before and after, whatever the pivot. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  leftByWrongSetting,
  pivotUm,
  runAim,
  setPointU,
  setPointUm,
  turnedTarget,
} from '../../src/cli/aim.js';
import { createGenerator } from '../../src/base/statistics/random.js';
import { adjust } from '../../src/solution/solve/adjustment.js';
import { buildNetwork } from '../../src/solution/solve/network.js';
import { readAll } from '../solution/causes/simulate.js';
import { job, rail, setup } from '../support/jobs.js';

/** What a target at x µm from the pivot reads, µm: height of the beam and its angle. */
const beam = (height: number, angle: number) => (x: number) => height + angle * x;

const millimetres = (from: number, to: number) =>
  fc.double({ min: from * 1000, max: to * 1000, noNaN: true });
/** Before the near place, between the two places, or beyond the far one; not at the near place itself. */
const near = fc.oneof(millimetres(50, 2000), millimetres(-6000, -50));

describe('a beam that is turned about its pivot', () => {
  test('at the set point both targets read alike, in front of, between and beyond the places', () => {
    fc.assert(
      fc.property(
        near,
        millimetres(500, 10000),
        millimetres(-5, 5),
        fc.double({ min: -1e-3, max: 1e-3, noNaN: true }),
        (L1, L2, height, angle) => {
          const at = beam(height, angle);
          const set = setPointUm({ nearUm: L1, travelUm: L2, farUm: at(L1 + L2), nearReadsUm: at(L1) });
          // Turned until the near target reads the set point: its angle changes by (set − n)/L1.
          const turned = beam(height, angle + (set - at(L1)) / L1);
          expect(turned(L1)).toBeCloseTo(set, 6);
          expect(Math.abs(turned(L1 + L2) - turned(L1))).toBeLessThan(1e-6);
        },
      ),
    );
  });

  test('what a round did shows where the pivot is, and the next set point is right', () => {
    fc.assert(
      fc.property(
        near,
        near,
        millimetres(500, 10000),
        millimetres(-5, 5),
        fc.double({ min: 1e-5, max: 1e-3, noNaN: true }),
        (truth, taken, L2, height, angle) => {
          const at = beam(height, angle);
          const aim = { nearUm: taken, travelUm: L2, farUm: at(truth + L2), nearReadsUm: at(truth) };
          const set = setPointUm(aim);
          const turned = beam(height, angle + (set - at(truth)) / truth);
          const then = { nearUm: turned(truth), farUm: turned(truth + L2) };
          const found = pivotUm(aim, then)!;
          expect(found / truth).toBeCloseTo(1, 5);
          const next = setPointUm({
            nearUm: found,
            travelUm: L2,
            farUm: then.farUm,
            nearReadsUm: then.nearUm,
          });
          // The beam true to the rail reads its height at the pivot everywhere.
          expect(Math.abs(next - height)).toBeLessThan(1e-3 * Math.max(1, Math.abs(height)));
        },
      ),
    );
  });

  test('carried over by two monuments: after the turn they differ as from the first set-up', () => {
    fc.assert(
      fc.property(
        near,
        millimetres(500, 10000),
        millimetres(-5, 5),
        millimetres(-5, 5),
        fc.double({ min: -1e-3, max: 1e-3, noNaN: true }),
        (L1, L2, height, other, angle) => {
          // The far monument reads `other` more than the near one from the first set-up, whose plane is true.
          const at = (x: number, turn: number) => height + turn * x + (x === L1 ? 0 : other);
          const aim = { nearUm: L1, travelUm: L2, farUm: at(L1 + L2, angle), nearReadsUm: at(L1, angle) };
          const set = setPointUm({ ...aim, differUm: other });
          // True is a plane without an angle.
          expect(set).toBeCloseTo(at(L1, 0), 5);
        },
      ),
    );
    const aim = { nearUm: -1000, travelUm: 4000, farUm: 8, nearReadsUm: 2, differUm: 3 };
    const set = setPointUm(aim);
    const by = [
      { ...aim, farUm: 9 },
      { ...aim, nearReadsUm: 3 },
      { ...aim, differUm: 2 },
      { ...aim, differUm: 4 },
    ];
    const changes = by.map((one) => setPointUm(one) - set);
    expect(setPointU(aim, 5)).toBeCloseTo(5 * Math.hypot(...changes), 9);
  });

  test('its uncertainty and what a wrong setting leaves are the changes that small errors make', () => {
    const aim = { nearUm: 350e3, travelUm: 2400e3, farUm: 300, nearReadsUm: 40 };
    const set = setPointUm(aim);
    const byNear = setPointUm({ ...aim, nearReadsUm: 41 }) - set;
    const byFar = setPointUm({ ...aim, farUm: 301 }) - set;
    expect(setPointU(aim, 5)).toBeCloseTo(5 * Math.hypot(byNear, byFar), 9);
    expect(leftByWrongSetting(aim, 7)).toBeCloseTo(7 * (2400 / 350), 9);
    expect(pivotUm(aim, { nearUm: 40, farUm: 300 })).toBeNull();
  });
});

test('the turn that two monuments ask for is the one that the network finds between two set-ups', () => {
  const machine = job({
    rails: [rail('A', 0, [0, 2000, 4000], { datum: true }), rail('B', 3000, [0, 2000, 4000])],
    monuments: [
      { id: 'M1', alongMm: 1000, acrossMm: -1500 },
      { id: 'M2', alongMm: 1000, acrossMm: 4500 },
    ],
    setups: [setup('S1', -600, 500), setup('S2', -600, 2600)],
  });
  const looks = machine.setups.flatMap(({ id: own }, k) => [
    ...machine.monuments.map(({ id }) => ({
      ...{ setup: own, point: { kind: 'monument', monument: id } as const, target: 'T3' },
      ...{ axes: ['along'] as const, pass: 1 },
    })),
    ...[1, 2, 3].map((station) => ({
      ...{ setup: own, point: { kind: 'station', rail: 'AB'[k]!, station } as const, target: 'T1' },
      ...{ axes: ['horizontal'] as const, pass: 1 },
    })),
  ]);
  const readings = readAll({ job: machine, looks, random: createGenerator(5) }, { noise: 0, place: () => 0 });
  const { x, network } = adjust(buildNetwork(machine, readings));
  const yaw = (id: string) => x[network.unknowns.findIndex((u) => u.kind === 'yaw' && u.setup === id)]!;
  const read = (id: string, monument: string) =>
    readings.find((r) => r.setup === id && r.point.kind === 'monument' && r.point.monument === monument)!.um;
  // From S2 at 2.6 m across, M1 is at −1.5 m, and M2 is 6 m farther.
  const nearReadsUm = read('S2', 'M1');
  const set = setPointUm({
    ...{ nearUm: -4.1e6, travelUm: 6e6, nearReadsUm, farUm: read('S2', 'M2') },
    differUm: read('S1', 'M2') - read('S1', 'M1'),
  });
  const turn = (set - nearReadsUm) / -4.1;
  expect(Math.abs(yaw('S2') - yaw('S1'))).toBeGreaterThan(5);
  // Turned back by as much as S2 is turned against S1. Readings are written to 0.01 um: over metres that is 0.01 um/m.
  expect(turn).toBeCloseTo(yaw('S1') - yaw('S2'), 1);
});

function aim(options: Record<string, unknown>): { status: number; out: string; err: string } {
  const said = { out: '', err: '' };
  const console = {
    out: (text: string) => void (said.out += text),
    err: (text: string) => void (said.err += text),
    isInteractive: false,
  };
  const places = 'turned' in options ? {} : { near: '350mm', travel: '2400mm', far: '2mm' };
  const status = runAim({ ...places, json: false, console, ...options });
  return { status, ...said };
}

test('a set point that is not zero is not shown as zero, and fractions of an inch are read', () => {
  expect(aim({}).out).toMatch(/as the display reads: -0\.29 mm/);
  const inches = aim({ near: '14 1/2in', travel: '96in', far: '1/64in' });
  expect(inches.status).toBe(0);
  expect(inches.out).toContain(`near/travel ${(14.5 / 96).toFixed(4)}`);
  expect(aim({ near: '14.5in', travel: '96in', far: '0.015625in', json: true }).out).toBe(
    aim({ near: '14 1/2in', travel: '96in', far: '1/64in', json: true }).out,
  );
});

test('what is far from usual is asked about, all of it at once; --sure works it out', () => {
  const wrong = aim({ far: '-50000mm', travel: '2.4mm' });
  expect(wrong.status).toBe(2);
  expect(wrong.err).toMatch(/--far -50000mm: more than 25 mm is unusual/);
  expect(wrong.err).toMatch(/--travel 2\.4mm: less than 50 mm is unusual/);
  expect(aim({ far: '-50000mm', sure: true }).status).toBe(0);
});

test('both planes at once, with the uncertainty and what a wrong setting leaves', () => {
  const { out } = aim({ 'far-sideways': '-1.2mm', u: '5um' });
  expect(out).toMatch(/set point: near target to read -0\.29/);
  expect(out).toMatch(/set point in the other plane: near target to read \+0\.17 mm|\+0\.18 mm/);
  expect(out).toMatch(/standard uncertainty of the set point/);
});

test('fractions of an inch are shown to what they mean, and a half is rounded away from zero', () => {
  // 1/64 in · 9/54 = 0.0026042 in.
  const sixtyFourth = aim({ near: '9in', travel: '54in', far: '1/64in' }).out;
  expect(sixtyFourth).toMatch(/target to read -0\.00260 in \(as the display reads: -0\.003 in\)/);
  expect(sixtyFourth).toMatch(/far reads \+0\.016 in/);
  expect(aim({ near: '14-3/8in', travel: '96in', far: '0.012in' }).out).toBe(
    aim({ near: '14.375in', travel: '96in', far: '0.012in' }).out,
  );
  // −0.3 mm · 1/2 = −0.15 mm exactly.
  expect(aim({ near: '1m', travel: '2m', far: '0.3mm' }).out).toMatch(/as the display reads: -0\.2 mm/);
  expect(aim({ near: '1mm', travel: '100m', far: '0.3mm' }).out).toMatch(/target to read -0\.0000030 mm/);
});

test('a level that is turned end for end: its zero, what it was off by, its uncertainty', () => {
  fc.assert(
    fc.property(fc.integer({ min: -9999, max: 9999 }), fc.integer({ min: -9999, max: 9999 }), (zero, off) => {
      expect(turnedTarget(zero + off, zero - off)).toEqual({ setPoint: zero, off });
    }),
  );
  const { out } = aim({ level: '0.06mm/m', turned: '-0.02mm/m', u: '0.01mm/m' });
  expect(out).toMatch(/to read \+0\.0200 mm\/m \(as the display reads: \+0\.02 mm\/m\)/);
  expect(out).toMatch(/\/ 2 = \+0\.0400 mm\/m/);
  // 0.01/√2.
  expect(out).toMatch(/uncertainty of the set point: 0\.0071 mm\/m/);
  expect(aim({ level: '3mm', turned: '0.1mm/m' }).err).toMatch(/all of them as lengths, or all as slopes/);
  expect(aim({ turned: '0.1mm/m' }).err).toMatch(/--level and --turned belong together/);
});
