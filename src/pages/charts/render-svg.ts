/** Vega-Lite document → SVG text, on the server, without a canvas. */
import { documentOf, shapeOf, sizesOf, type Chart, type Part } from './chart.js';
import { compiled } from './compiled.js';
import { strict } from './strict.js';
import { theme } from './theme.js';

export interface ChartFonts {
  /** A `<style>` element with the font that draws `usedText`, as a data URI of this chart; `bold`: that weight too. */
  readonly svgFontStyle: (
    usedText: string,
    options?: { readonly bold?: boolean; readonly chart?: string },
  ) => string;
}

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
  const { View } = await import('./vega-view.js');
  const { params = {}, mark = theme.locale.number.decimal } = chart;
  const runtime = await compiled(shapeOf({ ...chart, params: Object.keys(params) }));
  const locale = { number: { ...theme.locale.number, decimal: mark } };
  const view = new View(runtime, { renderer: 'none', logger: strict, locale } as never);
  for (const [name, value] of [...sizesOf(chart), ...Object.entries(params)]) view.signal(name, value);
  // Copies: vega marks the rows that it is given.
  for (const [name, rows] of Object.entries(chart.data))
    view.data(
      name,
      rows.map((row) => ({ ...row })),
    );
  await view.runAsync();
  const painted = await view.toSVG();
  view.finalize();
  return { svg: finish(chart, painted, fonts), spec: documentOf(chart) };
}

/** Within a tag: ids and references to them, what only a page with scripts of vega needs, long coordinates. */
const TAG_PARTS =
  / id="([^"]*)"|url\(#([^)]*)\)| class="([^"]*)"| aria-label="([^"]*)"| (?:role|pointer-events|xmlns:xlink|aria-[a-z]+)="[^"]*"|-?\d+\.\d{3,}(?:e-?\d+)?/g;

/** The name in the picture for screen readers: the phase of a mark (see `named` in parts.ts). */
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
      // Only of points: descriptions of axes and titles are for pages of vega.
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

/** Characters are tested one by one only if there is a surrogate: a drawing has 100,000 characters. */
const wellFormed = (text: string): string =>
  /[\ud800-\udfff]/.test(text)
    ? text.replace(/[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g, '\ufffd')
    : text;

/** Characters that XML 1.0 does not allow, lone surrogates among them, become the replacement character. */
const legal = (text: string): string =>
  wellFormed(text).replace(/[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]/g, '\ufffd');

const escaped = (text: string): string =>
  legal(text).replace(/&/g, '&amp;').replace(/</g, '&lt;').replace(/>/g, '&gt;').replace(/"/g, '&quot;');
