import { execFile } from 'node:child_process';
import { existsSync } from 'node:fs';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { promisify } from 'node:util';
import { describe, expect, test } from 'vitest';
import { parse, View } from 'vega';
import { compile, type TopLevelSpec } from 'vega-lite';
import { chartsOf } from '../../../src/pages/charts/charts-of.js';
import { renderChart } from '../../../src/pages/charts/render-svg.js';
import * as fonts from '../../../src/pages/fonts/fonts.js';
import { caseNames, cases } from './cases.js';
import { fixture } from './fixtures.js';
import { readSvg } from './reading-svg.js';

const draw = async (chart: Parameters<typeof renderChart>[0]) => (await renderChart(chart, fonts)).svg;

describe.each(caseNames)('%s', (name) => {
  const charts = chartsOf(fixture(cases[name]));

  test.each(charts.map((chart) => [chart.key, chart] as const))('%s', async (_, chart) => {
    const svg = await draw(chart);
    const tags = readSvg(svg);
    const names = new Set(tags.map((tag) => tag.name));
    for (const tag of names) {
      expect([
        'svg',
        'title',
        'desc',
        'style',
        'rect',
        'g',
        'path',
        'line',
        'text',
        'defs',
        'clipPath',
      ]).toContain(tag);
    }
    // The whole picture in itself: no address but the font's own data and its own parts.
    expect(
      svg.replace(
        /http:\/\/www\.w3\.org\/2000\/svg|url\(data:font\/woff2;chart=[\w.-]+;base64,[\w+/=]*\)/g,
        '',
      ),
    ).not.toMatch(/https?:|url\((?!#)|href|<script|javascript:| on\w+=/i);
    const ids = tags.flatMap((tag) => tag.attributes.get('id') ?? []);
    expect(new Set(ids).size).toBe(ids.length);
    for (const id of ids) expect(id.startsWith(`${chart.key}-`)).toBe(true);
    for (const [, used] of svg.matchAll(/url\(#([^)]*)\)/g)) expect(ids).toContain(used);
    for (const id of tags[0]!.attributes.get('aria-labelledby')!.split(' ')) expect(ids).toContain(id);
    for (const tag of tags.filter((one) => one.name === 'text')) {
      expect(parseFloat(tag.attributes.get('font-size')!)).toBeGreaterThanOrEqual(10.5);
      expect(tag.attributes.get('font-family')).toBe(fonts.fontFamily);
    }
    // The title of the upright axis: its baseline stays right of the picture's left edge by its own height.
    const upright = /translate\((-[\d.]+),[\d.]+\) rotate\(-90\)/.exec(svg);
    if (upright !== null) expect(Number(upright[1])).toBeGreaterThan(12 - chart.spec.padding.left);
    expect(svg.replace(/<style>.*?<\/style>/, '')).not.toMatch(/NaN|undefined|Infinity/);
    expect(tags.some((tag) => tag.name === 'text' && tag.text !== '')).toBe(true);
  });

  test('vega-lite compiles every document without a word', () => {
    const said: string[] = [];
    const note = (...message: readonly unknown[]) => (said.push(message.join(' ')), logger);
    const logger = { level: () => logger, error: note, warn: note, info: () => logger, debug: () => logger };
    for (const chart of charts.slice(0, 3))
      compile(chart.spec as unknown as TopLevelSpec, { logger: logger as never });
    for (const chart of charts.slice(-2))
      compile(chart.spec as unknown as TopLevelSpec, { logger: logger as never });
    expect(said).toEqual([]);
  });
});

test('the same bytes in any order, several at a time, and a second time', async () => {
  const charts = Object.values(cases).flatMap((each) => chartsOf(fixture(each)));
  const forwards = await Promise.all(charts.map(draw));
  const backwards = await Promise.all([...charts].reverse().map(draw));
  expect(backwards.reverse()).toEqual(forwards);
  for (const [i, chart] of charts.entries()) expect(await draw(chart)).toBe(forwards[i]);
});

test('drawing leaves the document as it was', async () => {
  const [chart] = chartsOf(fixture(cases.metric));
  const before = JSON.stringify(chart);
  await draw(chart!);
  expect(JSON.stringify(chart)).toBe(before);
  expect(Object.getOwnPropertySymbols(chart!.spec.datasets['texts']![0]!)).toEqual([]);
});

test('frozen documents can be drawn', async () => {
  const freeze = (value: unknown): void => {
    if (typeof value !== 'object' || value === null) return;
    Object.values(value).forEach(freeze);
    Object.freeze(value);
  };
  const charts = chartsOf(fixture(cases.metric));
  freeze(charts);
  for (const chart of charts) expect(await draw(chart)).toContain('</svg>');
});

test('the short way of drawing paints what vega itself paints', async () => {
  for (const chart of chartsOf(fixture(cases.metric))) {
    const compiled = compile(chart.spec as unknown as TopLevelSpec, {
      config: { font: fonts.fontFamily },
    }).spec;
    const view = new View(parse(compiled), { renderer: 'none' });
    const theirs = await view.toSVG();
    view.finalize();
    const paths = (svg: string) =>
      [...svg.matchAll(/ d="(M[^"]*)"/g)].map(([, d]) =>
        d!.replace(/-?\d+\.\d{3,}/g, (n) => Number(n).toFixed(2)),
      );
    const ours = paths(await draw(chart)).map((d) =>
      d.replace(/-?\d+\.\d+/g, (n) => Number(Number(n).toFixed(2)).toString()),
    );
    const normal = paths(theirs).map((d) =>
      d.replace(/-?\d+\.\d+/g, (n) => Number(Number(n).toFixed(2)).toString()),
    );
    for (const d of ours) expect(normal).toContain(d);
  }
});

test('hostile texts stay text', async () => {
  const charts = chartsOf(fixture(cases.hostile));
  const svg = (await Promise.all(charts.map(draw))).join('');
  expect(svg).not.toContain('<script');
  expect(svg).toContain('&lt;script&gt;');
  expect(svg).not.toContain('<b>');
});

test('a chart with a mistake in it is not drawn', async () => {
  const [chart] = chartsOf(fixture(cases.metric));
  const broken = { ...chart!, spec: { ...chart!.spec, layer: [{ mark: 'no-such-mark' }] } };
  const sound = await draw(chart!);
  await expect(draw(broken)).rejects.toThrow();
  // Nor does one that breaks half-way leave anything behind.
  const params = chart!.spec.params.map((param) =>
    param.name === 'yDomain' ? { ...param, value: [null, 'none'] } : param,
  );
  await draw({ ...chart!, spec: { ...chart!.spec, params } }).catch(() => undefined);
  expect(await draw(chart!)).toBe(sound);
});

const built = fileURLToPath(new URL('../../../dist/pages/charts/render-svg.js', import.meta.url));

test.skipIf(!existsSync(built))('two processes with different histories draw the same bytes', async () => {
  const folder = await mkdtemp(join(tmpdir(), 'waysheet-charts-'));
  try {
    const charts = chartsOf(fixture(cases.metric));
    await writeFile(join(folder, 'charts.json'), JSON.stringify(charts));
    const url = (path: string) => JSON.stringify(pathToFileURL(path).href);
    await writeFile(
      join(folder, 'draw.mjs'),
      `import { readFileSync } from 'node:fs';
       import { createHash } from 'node:crypto';
       import { renderChart } from ${url(built)};
       import * as fonts from ${url(join(built, '..', '..', 'fonts', 'fonts.js'))};
       const charts = JSON.parse(readFileSync(${JSON.stringify(join(folder, 'charts.json'))}, 'utf8'));
       const order = process.argv[2] === 'backwards' ? [...charts].reverse() : charts.slice(-4);
       const hashes = {};
       for (const chart of order) {
         const { svg } = await renderChart(chart, fonts);
         hashes[chart.key] = createHash('sha256').update(svg).digest('hex');
       }
       console.log(JSON.stringify(hashes));`,
    );
    const run = async (order: string) =>
      JSON.parse(
        (await promisify(execFile)(process.execPath, [join(folder, 'draw.mjs'), order])).stdout,
      ) as Record<string, string>;
    const [all, some] = await Promise.all([run('backwards'), run('last')]);
    for (const [key, hash] of Object.entries(some)) expect(all[key]).toBe(hash);
    expect(Object.keys(all)).toHaveLength(charts.length);
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
});
