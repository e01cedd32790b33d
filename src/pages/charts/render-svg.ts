/** Vega-Lite document → SVG text, on the server, without a canvas. */
import type * as Vega from 'vega';
import type { Runtime, View } from 'vega';
import type * as VegaLite from 'vega-lite';
import type { TopLevelSpec } from 'vega-lite';
import { documentOf, type Chart, type Part } from './chart.js';

export interface ChartFonts {
  /** A `<style>` element with the font that draws `usedText`, as a data URI of this chart; `bold`: that weight too. */
  readonly svgFontStyle: (
    usedText: string,
    options?: { readonly bold?: boolean; readonly chart?: string },
  ) => string;
}

/** Loaded at the first picture: 0.2 s that a run without pictures does not pay. */
let tools: Promise<[typeof Vega, typeof VegaLite]> | undefined;

/** By everything of a document but its rows, values of parameters and description: pictures of one kind share one. */
const kinds = new Map<string, Runtime>();
const MOST_KINDS = 64;

/**
 * The same picture gives the same bytes in any order, at once with others and in every process: each has a view of its
 * own, and the ids of clips, which vega counts through the process, are numbered anew.
 *
 * @throws {Error} vega or vega-lite reports an error or a warning: the picture was not drawn as written.
 */
export async function renderChart(
  chart: Chart,
  fonts: ChartFonts,
): Promise<{ readonly svg: string; readonly spec: Part }> {
  const [vega, vegaLite] = await (tools ??= Promise.all([import('vega'), import('vega-lite')]));
  const spec = documentOf(chart);
  const shape = {
    ...spec,
    datasets: undefined,
    description: undefined,
    params: Object.entries(chart.params ?? {}).map(([name, value]) => ({
      name,
      value: Array.isArray(value) ? [] : null,
    })),
  };
  const key = JSON.stringify(shape);
  let runtime = kinds.get(key);
  if (runtime === undefined) {
    const compiled = vegaLite.compile(shape as unknown as TopLevelSpec, { logger: strict as never });
    runtime = vega.parse(compiled.spec);
    if (kinds.size >= MOST_KINDS) kinds.clear();
    kinds.set(key, runtime);
  }
  const view: View = new vega.View(runtime, { renderer: 'none', logger: strict });
  for (const [name, value] of Object.entries(chart.params ?? {})) view.signal(name, value);
  // Copies: vega marks the rows that it is given.
  for (const [name, rows] of Object.entries(chart.data))
    view.data(
      name,
      rows.map((row) => ({ ...row })),
    );
  await view.runAsync();
  const painted = await view.toSVG();
  view.finalize();
  return { svg: finish(chart, painted, fonts), spec };
}

const fail = (...message: readonly unknown[]): never => {
  throw new Error(`chart: ${message.map(String).join(' ')}`);
};
const strict = {
  level: () => strict,
  error: fail,
  warn: fail,
  info: () => strict,
  debug: () => strict,
};

/** Within a tag: ids and references to them, what only a page with scripts of vega needs, long coordinates. */
const TAG_PARTS =
  / id="([^"]*)"|url\(#([^)]*)\)| class="([^"]*)"| aria-label="([^"]*)"| (?:role|pointer-events|xmlns:xlink|aria-[a-z]+)="[^"]*"|-?\d+\.\d{3,}(?:e-?\d+)?/g;

/** What is named in the picture for readers of a page: the phase of a mark (see `named` in parts.ts). */
const CLASS = /\bas[-_](left|found)/;

/** Ids of this picture alone; words for marks as `data-says`; the font; XML that every reader takes. */
function finish({ key, alt }: Chart, painted: string, fonts: ChartFonts): string {
  const ids = new Map<string, string>();
  const idOf = (id: string) => ids.get(id) ?? ids.set(id, `${key}-${ids.size}`).get(id)!;
  let text = '';
  const body = legal(painted).replace(/<[^>]*>|[^<]+/g, (piece) => {
    if (!piece.startsWith('<')) {
      text += piece;
      return piece;
    }
    if (piece.endsWith(' display="none"/>')) return '';
    const isPoint = piece.includes('aria-roledescription="point"');
    return piece.replace(TAG_PARTS, (found, id?: string, ref?: string, name?: string, says?: string) => {
      if (id !== undefined) return ` id="${idOf(id)}"`;
      if (ref !== undefined) return `url(#${idOf(ref)})`;
      if (name !== undefined) return CLASS.test(name) ? ` class="as-${CLASS.exec(name)![1]}"` : '';
      // Of points alone: axes and titles are described to readers of vega's own pages.
      if (says !== undefined) return isPoint ? ` data-says="${says}"` : '';
      return found.startsWith(' ') ? '' : String(Math.round(Number(found) * 100) / 100 + 0);
    });
  });
  const used = [...new Set(text.replace(/&amp;/g, '&').replace(/&[lg]t;/g, '<>'))].sort().join('');
  const style = fonts.svgFontStyle(used, { bold: body.includes('font-weight="bold"'), chart: key });
  return (
    body
      .replace('<svg', `<svg role="img" aria-label="${escaped(alt)}" paint-order="stroke"`)
      .replace('>', `>${style}`) + '\n'
  );
}

/** Looked for one by one only where there is any surrogate: a drawing has a hundred thousand characters. */
const wellFormed = (text: string): string =>
  /[\ud800-\udfff]/.test(text)
    ? text.replace(/[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g, '\ufffd')
    : text;

/** Characters that XML 1.0 does not allow, lone surrogates among them, become the replacement character. */
const legal = (text: string): string =>
  wellFormed(text).replace(/[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]/g, '\ufffd');

const escaped = (text: string): string =>
  legal(text).replace(/&/g, '&amp;').replace(/</g, '&lt;').replace(/>/g, '&gt;').replace(/"/g, '&quot;');
