/** Vega-Lite document → SVG text, on the server, without a canvas. */
import type * as Vega from 'vega';
import type { View } from 'vega';
import type { compile, TopLevelSpec } from 'vega-lite';
import type { ChartSpec, VegaLiteSpec } from './chart-spec.js';

/** What a picture asks of its font; the module `src/pages/fonts/fonts.ts` has this shape. */
export interface ChartFonts {
  readonly fontFamily: string;
  readonly textWidth: (text: string, sizePx: number, bold?: boolean) => number;
  /** A `<style>` element with the font that draws `usedText`, as a data URI of this chart; `bold`: that weight too. */
  readonly svgFontStyle: (
    usedText: string,
    options?: { readonly bold?: boolean; readonly chart?: string },
  ) => string;
}

/** The parts of vega that its types leave out. */
interface Untyped {
  readonly textMetrics: { width: (item: TextItem, text: unknown) => number };
  readonly SVGStringRenderer: new (loader: unknown) => SvgRenderer;
}
interface TextItem {
  readonly fontSize?: number;
  readonly fontWeight?: string | number;
}
interface SvgRenderer {
  initialize(
    el: null,
    width: number,
    height: number,
    origin: readonly [number, number],
    scale: number,
  ): SvgRenderer;
  background(colour: string): SvgRenderer;
  render(scene: unknown): SvgRenderer;
  svg(): string;
}

type Tools = typeof Vega & Untyped & { readonly compile: typeof compile };
let tools: Promise<Tools> | undefined;

/** Loads vega and vega-lite at the first call: 0.2 s that a run without charts does not pay. */
const loadTools = (): Promise<Tools> =>
  (tools ??= Promise.all([import('vega'), import('vega-lite')]).then(
    ([vega, { compile }]) => ({ ...vega, compile }) as unknown as Tools,
  ));

/**
 * Draws a chart. The same chart gives the same bytes in any order, process and number of runs: a view is emptied
 * between two charts, and vega's process-wide counter of ids is reset.
 *
 * @throws {Error} when vega or vega-lite reports an error or a warning: the chart was not drawn as written.
 */
export async function renderChart(chart: ChartSpec, fonts: ChartFonts): Promise<{ svg: string }> {
  return { svg: drawSvg(chart, fonts, await loadTools()) };
}

/** Whatever uses vega's process-wide state happens here without a pause, so that no other chart comes between. */
function drawSvg(chart: ChartSpec, fonts: ChartFonts, vega: Tools): string {
  const ownWidth = vega.textMetrics.width;
  vega.textMetrics.width = (item, text) =>
    text === null || text === undefined
      ? 0
      : fonts.textWidth(String(text).trim(), item.fontSize ?? 11, isBold(item.fontWeight));
  try {
    const view = viewOf(chart.spec, fonts.fontFamily, vega);
    fill(view, chart.spec);
    vega.resetSVGDefIds();
    const painted = paint(view, chart.spec, vega);
    empty(view, chart.spec);
    return finish(chart, fonts, painted);
  } catch (error) {
    views.clear(); // one of them is neither empty nor full
    throw error;
  } finally {
    vega.textMetrics.width = ownWidth;
  }
}

const isBold = (weight: string | number | undefined): boolean =>
  weight === 'bold' || (typeof weight === 'number' && weight >= 600);

function fill(view: View, spec: VegaLiteSpec): void {
  view.width(spec.width).height(spec.height).padding(spec.padding);
  for (const { name, value } of spec.params) view.signal(name, value);
  // Copies: vega marks the rows that it is given.
  for (const [name, rows] of Object.entries(spec.datasets))
    view.data(
      name,
      rows.map((row) => ({ ...row })),
    );
  view.run();
}

/** Without ticks and rows, so that no mark of this chart is kept for the next one: marks keep their order. */
function empty(view: View, spec: VegaLiteSpec): void {
  for (const { name, value } of spec.params) if (Array.isArray(value)) view.signal(name, []);
  for (const name of Object.keys(spec.datasets)) view.data(name, []);
  view.run();
}

/** What `view.toSVG()` does, at once instead of in a later turn of the event loop. */
function paint(view: View, spec: VegaLiteSpec, vega: Tools): string {
  const { left, right, top, bottom } = spec.padding;
  const [width, height] = [left + spec.width + right, top + spec.height + bottom];
  const renderer = new vega.SVGStringRenderer(view.loader()).initialize(null, width, height, [left, top], 1);
  const scene = (view.scenegraph() as unknown as { readonly root: unknown }).root;
  return renderer.background(spec.background).render(scene).svg();
}

const views = new Map<string, View>();
const mostViews = 16;

/**
 * Empty views, by everything of a document but its data, parameter values and size: charts of one kind share one.
 * To compile takes some 30 ms, to make a view as long as to draw in it.
 */
function viewOf(spec: VegaLiteSpec, family: string, vega: Tools): View {
  const shape = {
    ...spec,
    width: 600,
    height: 200,
    padding: 0,
    datasets: Object.fromEntries(Object.keys(spec.datasets).map((name) => [name, []])),
    params: spec.params.map(({ name, value }) => ({ name, value: Array.isArray(value) ? [] : '' })),
  };
  const key = `${family}\n${JSON.stringify(shape)}`;
  let view = views.get(key);
  if (view === undefined) {
    const compiled = vega.compile(shape as unknown as TopLevelSpec, {
      config: { font: family },
      logger: strictLogger as never,
    });
    view = new vega.View(vega.parse(compiled.spec), { renderer: 'none', logger: strictLogger });
    if (views.size >= mostViews) views.delete(views.keys().next().value!);
    views.set(key, view);
  }
  return view;
}

const fail = (...message: readonly unknown[]): never => {
  throw new Error(`chart: ${message.map(String).join(' ')}`);
};
const strictLogger = {
  level: () => strictLogger,
  error: fail,
  warn: fail,
  info: () => strictLogger,
  debug: () => strictLogger,
};

/** Title, description and font inside; ids that no other chart in the same page has; XML that every reader takes. */
function finish(chart: ChartSpec, fonts: ChartFonts, painted: string): string {
  const { svg, text } = tidy(legalXml(painted), chart.key);
  const open = svg.indexOf('>') + 1;
  const used = [...new Set(text.replace(/&amp;/g, '&').replace(/&[lg]t;/g, '<>'))].sort().join('');
  const bold = svg.includes('font-weight="bold"');
  const id = (what: string) => escapeXml(`${chart.key}-${what}`);
  const root = svg
    .slice(0, open)
    .replace('<svg', `<svg role="img" aria-labelledby="${id('title')} ${id('desc')}"`)
    .replace(' xmlns:xlink="http://www.w3.org/1999/xlink"', '');
  const words =
    `<title id="${id('title')}">${escapeXml(chart.title)}</title>` +
    `<desc id="${id('desc')}">${escapeXml(chart.alt)}</desc>`;
  return `${root}${words}${fonts.svgFontStyle(used, { bold, chart: chart.key })}${svg.slice(open)}\n`;
}

/** Within a tag: an id, a reference to one, what only a page with scripts needs, a coordinate with many decimals. */
const UNTIDY =
  / id="([^"]*)"|url\(#([^)]*)\)| (?:class|role|pointer-events|aria-[a-z]+)="[^"]*"|-?\d+\.\d{4,}(?:e-?\d+)?/g;

/** Ids prefixed with the chart's key, coordinates cut to 0.001 px, nothing that is not seen; and the text by itself. */
function tidy(painted: string, key: string): { svg: string; text: string } {
  let text = '';
  const svg = painted.replace(/<[^>]*>|[^<]+/g, (piece) => {
    if (!piece.startsWith('<')) {
      text += piece;
      return piece;
    }
    if (piece.endsWith(' display="none"/>')) return ''; // vega's frame of each group
    return piece.replace(UNTIDY, (found, id?: string, reference?: string) => {
      if (id !== undefined) return ` id="${key}-${id}"`;
      if (reference !== undefined) return `url(#${key}-${reference})`;
      return found.startsWith(' ') ? '' : String(Math.round(Number(found) * 1000) / 1000 + 0);
    });
  });
  return { svg, text };
}

/** Characters that XML 1.0 does not allow, lone surrogates among them, become the replacement character. */
const legalXml = (text: string): string =>
  /[\u0000-\u0008\u000b\u000c\u000e-\u001f\ud800-\udfff\ufffe\uffff]/.test(text)
    ? text
        .replace(/[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g, '\ufffd')
        .replace(/[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]/g, '\ufffd')
    : text;

const escapeXml = (text: string): string =>
  legalXml(text).replace(/&/g, '&amp;').replace(/</g, '&lt;').replace(/>/g, '&gt;').replace(/"/g, '&quot;');
