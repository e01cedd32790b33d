/** `aim` against a beam that is turned: the target of each place is read before and after, whatever the pivot. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { leftByWrongSetting, pivotUm, runAim, setPointU, setPointUm } from '../../src/cli/aim.js';

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

function aim(options: Record<string, unknown>): { status: number; out: string; err: string } {
  const said = { out: '', err: '' };
  const console = {
    out: (text: string) => void (said.out += text),
    err: (text: string) => void (said.err += text),
    isInteractive: false,
  };
  const status = runAim({ near: '350mm', travel: '2400mm', far: '2mm', json: false, console, ...options });
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
