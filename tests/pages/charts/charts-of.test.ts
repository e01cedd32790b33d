import { describe, expect, test } from 'vitest';
import { chartsOf } from '../../../src/pages/charts/charts-of.js';
import type { ChartSpec } from '../../../src/pages/charts/chart-spec.js';
import { caseNames, cases } from './cases.js';
import { fixture } from './fixtures.js';

const keysOf = (charts: readonly ChartSpec[]) => charts.map((chart) => chart.key);

test('two rails, as found and as left: every chart, in reading order', () => {
  expect(keysOf(chartsOf(fixture(cases.metric)))).toEqual([
    'plan',
    'straightness-vertical-A',
    'straightness-horizontal-A',
    'straightness-vertical-B',
    'straightness-horizontal-B',
    'parallelism-vertical-B',
    'parallelism-horizontal-B',
    'cross-level-B',
    'budget',
    'residuals-as-found',
    'residuals-as-left',
  ]);
});

test('what could not be determined has no chart, and hides no other', () => {
  const keys = keysOf(chartsOf(fixture(cases.untied)));
  expect(keys.filter((key) => /^(parallelism|cross-level)/.test(key))).toEqual([]);
  expect(keys).toContain('straightness-vertical-B');
});

test('a cross rail is drawn in height and ahead', () => {
  const keys = keysOf(chartsOf(fixture(cases.crossRail)));
  expect(keys).toContain('straightness-vertical-C');
  expect(keys).toContain('straightness-along-C');
  expect(keys).not.toContain('straightness-horizontal-C');
});

test('as left that would look flat beside as found gets a picture of its own', () => {
  const keys = keysOf(chartsOf(fixture(cases.veryRough)));
  expect(keys).toContain('straightness-vertical-A-close-up');
  expect(keysOf(chartsOf(fixture(cases.metric)))).not.toContain('straightness-vertical-A-close-up');
});

test('one phase alone', () => {
  expect(keysOf(chartsOf(fixture(cases.foundOnly)))).toContain('straightness-vertical-A');
  expect(keysOf(chartsOf(fixture(cases.leftOnly)))).toContain('residuals-as-left');
});

describe.each(caseNames)('%s', (name) => {
  const results = fixture(cases[name]);
  const charts = chartsOf(results);

  test('keys are file names, unique also where case does not count', () => {
    for (const { key } of charts) expect(key).toMatch(/^[A-Za-z0-9][A-Za-z0-9._-]{0,119}$/);
    expect(new Set(charts.map(({ key }) => key.toLowerCase())).size).toBe(charts.length);
  });

  test('every chart has words: title, caption with a full stop, alternative text', () => {
    for (const { title, caption, alt } of charts) {
      expect(title.length).toBeGreaterThan(5);
      expect(caption).toMatch(/\.$/);
      expect(alt).toMatch(/\.$/);
      expect(`${title}${caption}${alt}`).not.toMatch(/undefined|NaN|null|Infinity|[\u0000-\u001f]/);
    }
  });

  test('the document is plain JSON and the same each time; the results are not touched', () => {
    const before = JSON.stringify(results);
    expect(JSON.parse(JSON.stringify(charts))).toEqual(charts);
    expect(JSON.stringify(chartsOf(results))).toBe(JSON.stringify(charts));
    expect(JSON.stringify(results)).toBe(before);
  });
});

test('signed charts say what + means, lengths how much larger they are drawn, and the verdict stands in words', () => {
  const charts = chartsOf(fixture(cases.metric));
  const about = (key: string) => {
    const chart = charts.find((one) => one.key === key)!;
    return `${chart.caption}\n${chart.alt}\n${JSON.stringify(chart.spec.datasets['texts'])}`;
  };
  expect(about('straightness-vertical-A')).toMatch(/\+ up/);
  expect(about('straightness-horizontal-A')).toMatch(/\+ left, facing increasing along/);
  expect(about('parallelism-vertical-B')).toMatch(/\+ rail B is higher/);
  expect(about('parallelism-horizontal-B')).toMatch(
    /\+ left, facing increasing along: here the rails are farther apart/,
  );
  expect(about('cross-level-B')).toMatch(/\+ rail B is higher than rail A/);
  expect(about('straightness-vertical-A')).toMatch(/drawn about [\d\u202f]+ times larger than lengths/);
  expect(about('straightness-vertical-A')).toMatch(/limit.40.µm:.conforms/);
  expect(about('straightness-vertical-A')).toMatch(/± U, k.=.2 \(95.%\)/);
});

test('a rail to the right of the datum comes closer with +', () => {
  const chart = chartsOf(fixture(cases.inches)).find((one) => one.key === 'parallelism-horizontal-B')!;
  expect(chart.alt).toContain('closer together');
});
