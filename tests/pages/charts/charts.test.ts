/** The pictures of reports: drawn as written, the same every time, and saying what results.json says. */
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { chartsOf } from '../../../src/pages/charts/charts-of.js';
import { onPhone, shapeOf, type Chart } from '../../../src/pages/charts/chart.js';
import { compile } from '../../../src/pages/charts/compile.js';
import { nameOf } from '../../../src/pages/charts/compiled.js';
import { contextOf, isJudged, limitsOf, type Judged } from '../../../src/pages/charts/context.js';
import { shapes } from '../../../src/pages/charts/kinds.js';
import { bracketOf } from '../../../src/pages/charts/profile.js';
import { renderChart } from '../../../src/pages/charts/render-svg.js';
import * as fonts from '../../../src/pages/fonts/fonts.js';
import { isKnown } from '../../../src/results/known.js';
import type { Results } from '../../../src/results/results-schema.js';
import { judgedOf, levelledShot, makeJob, sample } from '../../support/folders.js';
import { program } from '../../support/program.js';
import { randomFolder } from '../../support/second-opinion/random-folder.js';
import { cases } from './cases.js';
import { drawnTexts } from './drawn-text.js';
import { fixture } from './fixtures.js';
import { readSvg } from './reading-svg.js';

const samples = ['TH-0412', 'TH-2031', 'TH-1175', 'TH-3318', 'TH-4520'];
const known = new Map<string, Results>();
beforeAll(async () => {
  for (const id of samples) known.set(id, await judgedOf(sample(id)));
});

/** On a page and on a phone. */
const allOf = (results: Results): Chart[] =>
  chartsOf(results).flatMap((chart) => [chart, onPhone(chart)].filter((c) => c !== null));

const draw = async (chart: Chart) => (await renderChart(chart, fonts)).svg;

const compiledNames = shapes.map(nameOf);
const kindOf = ({ params = {}, ...chart }: Chart) => ({ ...chart, params: Object.keys(params) });

test('the build has compiled every kind of picture, as it is compiled from the sources', () => {
  const folder = join(dirname(program()), 'pages/charts/compiled');
  expect(readdirSync(folder).sort()).toEqual([...new Set(compiledNames)].sort());
  for (const shape of shapes)
    expect(readFileSync(join(folder, nameOf(shape)), 'utf8')).toBe(JSON.stringify(compile(shape)));
});

test('a picture with sizes of its own is drawn as if it had been compiled with them', async () => {
  const sized = [...known.values()].flatMap(allOf).filter(({ isSized }) => isSized);
  expect(sized.length).toBeGreaterThan(10);
  for (const chart of sized) expect(await draw(chart)).toBe(await draw({ ...chart, isSized: false }));
});

describe.each(samples)('%s', (id) => {
  test('every picture is drawn without a warning, as XML, with all its text inside', async () => {
    for (const chart of allOf(known.get(id)!)) {
      expect(compiledNames, chart.key).toContain(nameOf(shapeOf(kindOf(chart))));
      const svg = await draw(chart);
      readSvg(svg);
      const { width, height, texts } = drawnTexts(svg);
      expect(texts.length).toBeGreaterThan(3);
      for (const t of texts)
        expect(
          t.left >= -1 && t.right <= width + 1 && t.top >= -1 && t.bottom <= height + 1,
          `${chart.key}: “${t.text}” ${t.left.toFixed(0)} to ${t.right.toFixed(0)} of ${width}, ${t.top.toFixed(0)} to ${t.bottom.toFixed(0)} of ${height}`,
        ).toBe(true);
    }
  });

  test('what fails and what is undecided is drawn first, then what is nearest to its limit', () => {
    const results = known.get(id)!;
    const last = Object.values(results.phases).at(-1)!;
    const body = chartsOf(results).filter(({ role, of }) => role === 'body' && of.length > 0);
    const drawn = body.flatMap(({ of }) =>
      of.map(({ characteristic }) => last.characteristics[characteristic]!),
    );
    const open = last.characteristics.filter((c) => ['does-not-conform', 'undecided'].includes(c.verdict));
    for (const c of open) expect(drawn).toContain(c);
    expect(drawn.length).toBeGreaterThanOrEqual(3);
    expect(drawn.length).toBeLessThanOrEqual(5);
    const order = ['does-not-conform', 'undecided', 'conforms'];
    const ranks = drawn.map(({ verdict }) => order.indexOf(verdict));
    expect(ranks).toEqual([...ranks].sort());
  });

  test('every point of a decision is that of results.json, in the unit of the report', () => {
    const results = known.get(id)!;
    const context = contextOf(results)!;
    for (const chart of chartsOf(results).filter(({ of }) => of.length > 0)) {
      const [{ phase, characteristic }] = chart.of as [Chart['of'][number]];
      const c = results.phases[phase]!.characteristics[characteristic] as Judged;
      const unit = c.unit === 'um' ? context.deviation : context.slope;
      const rows = chart.data[context.last.role === 'as-found' ? 'found' : 'left']!;
      expect(rows.map(({ y }) => y)).toEqual(c.profile!.map(({ value }) => unit.fromBase(value)));
      expect(rows.map(({ x }) => x)).toEqual(
        c.profile!.map(({ position }) => context.length.fromBase(position)),
      );
      for (const { rail, station } of c.at)
        if (c.over === undefined) expect(chart.stations).toContainEqual({ rail, station });
    }
  });

  test('every station of the overview is that of results.json', () => {
    const results = known.get(id)!;
    const context = contextOf(results)!;
    const points = chartsOf(results).find(({ key }) => key === 'overview')!.data['own']!;
    const wanted = context.phases.flatMap(({ phase }) =>
      phase.stations.flatMap(({ deviation }) =>
        (['vertical', 'horizontal', 'along'] as const).flatMap((plane) => {
          const quantity = deviation[plane];
          return isKnown(quantity) ? [context.deviation.fromBase(quantity.value)] : [];
        }),
      ),
    );
    const drawn = points.filter(({ role }) => role !== 'zero').map(({ y }) => y as number);
    expect(drawn.sort((a, b) => a - b)).toEqual(wanted.sort((a, b) => a - b));
  });
});

/** What the picture shows: all of the bracket within the limits, a limit between its caps, or a cap inside them beyond. */
function shownBy(results: Results, c: Judged): string {
  const context = contextOf(results)!;
  const { bars, caps } = bracketOf(context, c);
  const limits = limitsOf(c);
  const [from, to] = [limits.from ?? -Infinity, limits.to ?? Infinity];
  const slack = 1e-9 * (Math.abs(c.limit) + 1);
  const isInside = (v: number) => v >= from - slack && v <= to + slack;
  const ends = bars[0]!;
  if (isInside(ends.from) && isInside(ends.to)) return 'conforms';
  if (c.signed) return ends.from > to || ends.to < from ? 'does-not-conform' : 'undecided';
  const inner = caps.slice(2);
  return inner.length === 2 && !isInside(inner[0]!) && !isInside(inner[1]!)
    ? 'does-not-conform'
    : 'undecided';
}

test('the bracket lies within the limits if and only if it was found to conform, in samples and random jobs', async () => {
  const all = [...known.values()];
  for (const seed of [21, 23, 37, 38, 39, 42, 43]) {
    const limit = [8, 20, 60, 150][seed % 4]!;
    const within = [{ limit }, { from: -limit / 3, to: limit }, { to: limit / 2 }, { from: -limit / 2 }][
      (seed >> 1) % 4
    ]!;
    const { job, files } = randomFolder(seed);
    const tolerances = [
      { what: 'straightness-vertical', limit, unit: 'um' },
      { what: 'straightness-horizontal', limit: limit + 1, reference: 'end-points', unit: 'um' },
      ...(job.rails.length > 1 ? [{ what: 'height-difference', ...within, unit: 'um' }] : []),
    ];
    const rule = { decision: { rule: 'guarded' } };
    // Some are so badly tied that what is asked of them has no value: the front door says so.
    const made = await makeJob({ ...(job as object), tolerances, ...rule }, files);
    const results = await judgedOf(made).catch(() => null);
    if (results !== null) all.push(results);
  }
  expect(all.length).toBeGreaterThan(samples.length + 3);
  const seen = new Set<string>();
  const zones = new Set<string>();
  for (const results of all)
    for (const { characteristics } of Object.values(results.phases))
      for (const c of characteristics.filter(isJudged)) {
        if (results.settings.rule !== 'guarded') continue;
        expect(shownBy(results, c), `${results.job} ${c.what} ${c.rail} ${c.value}`).toBe(c.verdict);
        seen.add(c.verdict);
        if (c.zone !== undefined) zones.add(`${c.zone.from === null} ${c.zone.to === null}`);
      }
  expect([...seen].sort()).toEqual(['conforms', 'does-not-conform', 'undecided']);
  // Two-sided, and open to either side.
  expect(zones.size).toBe(3);
});

test('the whisker of a signed figure is the interval that is printed next to it', () => {
  let signed = 0;
  for (const results of known.values())
    for (const { characteristics } of Object.values(results.phases))
      for (const c of characteristics.filter(isJudged)) {
        if (!c.signed) continue;
        signed++;
        const { from, to } = bracketOf(contextOf(results)!, c).bars[0]!;
        expect(from, `${results.job} ${c.what} ${c.rail}`).toBeCloseTo(c.interval[0], 6);
        expect(to, `${results.job} ${c.what} ${c.rail}`).toBeCloseTo(c.interval[1], 6);
      }
  expect(signed).toBeGreaterThan(10);
});

// TH-4520 states the scale of a target, which next to no reading checks.
test('a point is beyond the bounds of the residuals only where a reading stands out', () => {
  for (const results of known.values()) {
    const { data } = chartsOf(results).find(({ key }) => key === 'residuals')!;
    for (const { role, phase } of contextOf(results)!.phases)
      expect(data[`named-${role}`]!.length > 0, `${results.job} ${role}`).toBe(
        phase.adjustment.suspects.length > 0,
      );
  }
});

test('the same bytes in any order and at once', async () => {
  const charts = [...known.values()].flatMap((results) => allOf(results));
  const first: string[] = [];
  for (const chart of charts) first.push(await draw(chart));
  const backwards: string[] = [];
  for (const chart of [...charts].reverse()) backwards.unshift(await draw(chart));
  expect(backwards).toEqual(first);
  expect(await Promise.all(charts.map(draw))).toEqual(first);
});

test('keys are file names, unique without regard to case', () => {
  for (const results of [...known.values(), ...Object.values(cases).map((c) => fixture(c))]) {
    const keys = allOf(results).map(({ key }) => key);
    for (const key of keys) expect(key).toMatch(/^[A-Za-z0-9._-]+$/);
    expect(new Set(keys.map((key) => key.toLowerCase())).size).toBe(keys.length);
  }
});

test.each(Object.keys(cases))('made-up results, %s: every picture is drawn', async (name) => {
  for (const chart of allOf(fixture(cases[name as keyof typeof cases]))) {
    const svg = await draw(chart);
    readSvg(svg);
    expect(chart.alt.length).toBeGreaterThan(20);
    expect(svg).not.toMatch(/NaN|undefined|Infinity/);
  }
});

// More rails than the legend of a picture has entries by itself, and than there are kinds of lines.
test('forty rails: every picture is drawn, and the view of the machine fits on its page', async () => {
  const ids = Array.from({ length: 40 }, (_, k) => `R${k + 1}`);
  const rows = ids.flatMap((id, r) =>
    [1, 2, 3, 4].map((k) => `S1,${id},${k},T1,${(r * k) % 5},${(r + k) % 3}`),
  );
  const results = await judgedOf(
    await makeJob(
      {
        ...levelledShot('as-left', 1.5, 5),
        rails: ids.map((id, k) => ({
          ...{ id, datum: k === 0, across: 1300 * k, stations: { first: 0, spacing: 500, count: 4 } },
        })),
      },
      { 'r.csv': ['setup,rail,station,target,vertical,horizontal', ...rows].join('\n') },
    ),
  );
  for (const chart of allOf(results)) await draw(chart);
  const onPages = await Promise.all(chartsOf(results).map(draw));
  expect(onPages.length).toBeGreaterThan(1);
  for (const svg of onPages) expect(drawnTexts(svg).height).toBeLessThan(820);
});
