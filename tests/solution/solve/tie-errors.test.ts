/** Ties of simulated surveys (tests/solution/intake/gross-mistakes.ts): which of their errors the readings show. */
import { describe, expect, test } from 'vitest';
import type { OffsetReading } from '../../../src/survey/readings/readings.js';
import { adjust } from '../../../src/solution/solve/adjustment.js';
import { shownBy, tiesOf } from '../../../src/solution/solve/tie-errors.js';
import { buildNetwork } from '../../../src/solution/solve/network.js';
import { honestSurvey } from '../intake/gross-mistakes.js';

describe('a monument pair that alone carries the direction', () => {
  test('shows no error of one monument: nothing is claimed of it', () => {
    const survey = [...Array(200).keys()]
      .map((k) => honestSurvey(60_000 + k))
      .find(({ job, passes }) => job.monuments.length > 0 && passes > 1)!;
    const list = survey.phases.get('as-left')!;
    const moved = list.map((r) =>
      r.kind === 'offset' && r.point.kind === 'monument' && r.point.monument === 'M2' && r.setup === 'S2'
        ? { ...r, um: r.um + 60 }
        : r,
    );
    // Two monuments alone carry the direction: nothing checks them, and nothing is claimed.
    const adjustment = adjust(buildNetwork(survey.job, moved));
    const monument = tiesOf(survey.job, adjustment).find(
      ({ what }) => what === 'monument M2 as read from S2',
    )!;
    expect(shownBy(monument, adjustment).isSeen).toBe(false);
  });
});

test('the height of a rail is a tie from two readings on, where another rail is read from the set-up too', () => {
  const survey = honestSurvey(60_003);
  const heights = survey.phases
    .get('as-left')!
    .filter(
      (r): r is OffsetReading => r.kind === 'offset' && r.point.kind === 'station' && r.axis === 'vertical',
    );
  const own = heights.filter(({ setup }) => setup === heights[0]!.setup).slice(0, 4);
  const tiesWith = (railsRead: readonly string[]) => {
    const list = own.map((r, i) => ({
      ...r,
      point: { kind: 'station' as const, rail: railsRead[i]!, station: 1 + i },
    }));
    return tiesOf(survey.job, adjust(buildNetwork(survey.job, list))).map(({ what }) => what.slice(0, 20));
  };
  expect(tiesWith(['A', 'A', 'B', 'B'])).toEqual(['the height of rail A', 'the height of rail B']);
  expect(tiesWith(['A', 'A', 'A', 'B'])).toEqual(['the height of rail A']);
  expect(tiesWith(['A', 'A', 'A', 'A'])).toEqual([]);
});
