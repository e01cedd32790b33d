/**
 * What a PDF shows and carries, as a reader of the standard sees it: runs of text, what is drawn and where, links,
 * scripts, and how often it was written.
 */
import { createHash } from 'node:crypto';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { assertReadable } from '../../../pages/report/pdf-file/assert-readable.js';

/** Something that is painted. Places in points from the lower left corner of the page. */
export interface Painted {
  readonly kind: 'text' | 'shape' | 'clip' | 'picture' | 'other';
  /** Text that a copy out of the PDF has; of a shape nothing. */
  readonly text: string;
  readonly at: readonly [x: number, y: number];
  /** Width and height. */
  readonly size: readonly [number, number];
  /** All else that decides how it looks: character codes, font size, colours, outline. */
  readonly look: string;
}

export interface PdfPage {
  readonly painted: readonly Painted[];
  /** In words: links, comments, fields. */
  readonly annotations: readonly string[];
}

export interface PdfPages {
  readonly pages: readonly PdfPage[];
  /** What the file says of itself: title, author, dates. */
  readonly information: Readonly<Record<string, string>>;
  /** In words: scripts, forms, actions on opening. */
  readonly active: readonly string[];
}

type Matrix = readonly number[];
const IDENTITY: Matrix = [1, 0, 0, 1, 0, 0];

/** The library's own code is large: it is loaded when a PDF is read. */
async function reader() {
  const pdfjs = await import('pdfjs-dist/legacy/build/pdf.mjs');
  const folder = dirname(createRequire(import.meta.url).resolve('pdfjs-dist/package.json'));
  const data = (name: string) => `${pathToFileURL(join(folder, name)).href}/`;
  return { pdfjs, cMapUrl: data('cmaps'), standardFontDataUrl: data('standard_fonts') };
}

/** @throws {Error} not a PDF that can be read; see assertReadable. */
export async function readPages(bytes: Uint8Array): Promise<PdfPages> {
  assertReadable(bytes);
  const { pdfjs, ...data } = await reader();
  const task = pdfjs.getDocument({
    ...data,
    // The library takes the memory of what it is given.
    data: Uint8Array.from(bytes),
    verbosity: 0,
    useSystemFonts: false,
    disableFontFace: true,
    isEvalSupported: false,
  });
  try {
    const document = await task.promise;
    const pages: PdfPage[] = [];
    for (let number = 1; number <= document.numPages; number++) {
      const page = await document.getPage(number);
      const { fnArray, argsArray } = await page.getOperatorList();
      const annotations = (await page.getAnnotations()) as Record<string, unknown>[];
      pages.push({
        painted: paintedBy(fnArray, argsArray as unknown[][], pdfjs.OPS),
        annotations: annotations.map(annotationWords),
      });
      page.cleanup();
    }
    const { info } = await document.getMetadata();
    const [scripts, opening, fields] = [
      await document.getJSActions(),
      await document.getOpenAction(),
      await document.getFieldObjects(),
    ];
    return {
      pages,
      information: Object.fromEntries(
        Object.entries(info as Record<string, unknown>).map(([key, value]) => [key, JSON.stringify(value)]),
      ),
      active: [
        ...(scripts === null ? [] : ['a script']),
        ...(opening === null ? [] : ['an action on opening']),
        ...Object.keys(fields ?? {}).map((name) => `a form field “${name}”`),
      ],
    };
  } finally {
    await task.destroy();
  }
}

function annotationWords(annotation: Record<string, unknown>): string {
  const { subtype, rect, url, dest, contentsObj } = annotation;
  const place = Array.isArray(rect) ? (rect as number[]).slice(0, 2).map(Math.round).join(', ') : '?';
  const text = (contentsObj as { str?: string } | undefined)?.str ?? '';
  const target =
    typeof url === 'string' ? url : dest === null || dest === undefined ? '' : JSON.stringify(dest);
  return [`${String(subtype)} at ${place}`, target, text].filter((part) => part !== '').join(' ');
}

interface State {
  matrix: Matrix;
  fill: string;
  stroke: string;
  /** Font size, transparency, rendering of text: whatever else was set last, by operator. */
  more: Map<string, string>;
}

/** The page's operators, one after the other, as things with a place. @see ISO 32000-1, 8.2 */
function paintedBy(
  operators: readonly number[],
  values: readonly unknown[][],
  codes: Readonly<Record<string, number>>,
): Painted[] {
  const names = new Map(Object.entries(codes).map(([name, code]) => [code, name]));
  const painted: Painted[] = [];
  const kept: State[] = [];
  let state: State = { matrix: IDENTITY, fill: '', stroke: '', more: new Map() };
  let text: { glyphs: string; codes: string[]; matrix: Matrix } | null = null;
  let isClip = false;
  const look = (own: string) =>
    digest(
      `${own}|${state.fill}|${state.stroke}|${[...state.more].map((entry) => entry.join('=')).join(';')}`,
    );
  const copy = (): State => ({ ...state, more: new Map(state.more) });

  operators.forEach((code, i) => {
    const name = names.get(code) ?? String(code);
    const args = values[i] ?? [];
    switch (name) {
      case 'save':
        kept.push(copy());
        break;
      case 'restore':
      case 'paintFormXObjectEnd':
        state = kept.pop() ?? state;
        break;
      case 'transform':
        state.matrix = product(state.matrix, args as number[]);
        break;
      case 'paintFormXObjectBegin':
        kept.push(copy());
        if (args[0] !== null) state.matrix = product(state.matrix, [...(args[0] as number[])]);
        break;
      case 'setFillRGBColor':
        state.fill = String(args[0]);
        break;
      case 'setStrokeRGBColor':
        state.stroke = String(args[0]);
        break;
      case 'beginText':
        text = { glyphs: '', codes: [], matrix: state.matrix };
        break;
      case 'setTextMatrix':
        if (text?.codes.length === 0) text.matrix = product(state.matrix, [...(args[0] as number[])]);
        text?.codes.push(numbers(args[0]));
        break;
      case 'moveText':
        text?.codes.push(numbers(args));
        break;
      case 'setFont':
        // Its name is the reader's own; the font is told by its size and the codes of its glyphs.
        state.more.set('font', String(args[1]));
        break;
      case 'showText':
        for (const glyph of args[0] as (number | { originalCharCode: number; unicode: string })[]) {
          if (text === null) continue;
          if (typeof glyph === 'number') text.codes.push(String(glyph));
          else {
            text.glyphs += glyph.unicode;
            text.codes.push(`#${glyph.originalCharCode}`);
          }
        }
        break;
      case 'endText':
        if (text !== null && text.glyphs.trim() !== '')
          painted.push({
            kind: 'text',
            text: text.glyphs.trim(),
            at: [text.matrix[4]!, text.matrix[5]!],
            size: [0, 0],
            look: look(text.codes.join(' ')),
          });
        text = null;
        break;
      case 'clip':
      case 'eoClip':
        isClip = true;
        break;
      case 'constructPath': {
        const [x1, y1, x2, y2] = boxOf(args[2], state.matrix);
        painted.push({
          kind: isClip ? 'clip' : 'shape',
          text: '',
          at: [x1, y1],
          size: [x2 - x1, y2 - y1],
          look: look(`${String(args[0])} ${numbers((args[1] as unknown[] | null)?.[0])}`),
        });
        isClip = false;
        break;
      }
      case 'dependency':
      case 'beginMarkedContent':
      case 'beginMarkedContentProps':
      case 'endMarkedContent':
        break;
      default:
        if (name.startsWith('paint') || name.startsWith('shading')) {
          const [x1, y1, x2, y2] = boxOf([0, 0, 1, 1], state.matrix);
          painted.push({
            kind: 'picture',
            text: '',
            at: [x1, y1],
            size: [x2 - x1, y2 - y1],
            look: look(name),
          });
        } else if (name.startsWith('set')) state.more.set(name, JSON.stringify(args));
        else painted.push({ kind: 'other', text: name, at: [0, 0], size: [0, 0], look: look(name) });
    }
  });
  return painted;
}

const digest = (text: string): string => createHash('sha256').update(text).digest('base64').slice(0, 16);

/** To a thousandth of a point, as other writers of the same page round. */
const numbers = (list: unknown): string =>
  list === null || list === undefined
    ? ''
    : Array.from(list as ArrayLike<number>, (value) => Math.round(1000 * value) / 1000).join(' ');

/** The second is applied first. */
const product = (m: Matrix, n: Matrix): Matrix => [
  m[0]! * n[0]! + m[2]! * n[1]!,
  m[1]! * n[0]! + m[3]! * n[1]!,
  m[0]! * n[2]! + m[2]! * n[3]!,
  m[1]! * n[2]! + m[3]! * n[3]!,
  m[0]! * n[4]! + m[2]! * n[5]! + m[4]!,
  m[1]! * n[4]! + m[3]! * n[5]! + m[5]!,
];

function boxOf(box: unknown, m: Matrix): [number, number, number, number] {
  if (box === null || box === undefined) return [0, 0, 0, 0];
  const [x1, y1, x2, y2] = Array.from(box as ArrayLike<number>) as [number, number, number, number];
  const corners = [
    [x1, y1],
    [x2, y1],
    [x1, y2],
    [x2, y2],
  ].map(([x, y]) => [m[0]! * x! + m[2]! * y! + m[4]!, m[1]! * x! + m[3]! * y! + m[5]!]);
  const xs = corners.map(([x]) => x!);
  const ys = corners.map(([, y]) => y!);
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
}
