/** The pages of an issued PDF against those that the same results make now: what stands there, what should, and where. */
import { diffArrays } from 'diff';
import type { Painted, PdfPage, PdfPages } from './read-pages.js';

export interface PageDifference {
  /** From 1; null: the file as a whole. */
  readonly page: number | null;
  /** In words. */
  readonly what: string;
}

/** Differences named of one page; more say nothing new. */
const NAMED = 6;

/** A line thinner than this covers nothing, points. */
const COVERS = 2;

export type Strictness =
  /** Printed by the same browser from the same page: everything is where it was. */
  | 'same-print'
  /** The same, with the field of an electronic signature on top. */
  | 'signed'
  /** Another browser: text and what covers it are compared, not where lines break. */
  | 'other-print';

/** @returns Empty: nothing that is compared differs. */
export function comparePages(issued: PdfPages, made: PdfPages, how: Strictness): PageDifference[] {
  const found = [...comparedInformation(issued, made, how), ...comparedActive(issued, made, how)];
  if (how === 'other-print')
    return [
      ...found,
      ...comparedWords(issued, made),
      ...strangeAnnotations(issued, made),
      ...covered(issued),
    ];
  if (issued.pages.length !== made.pages.length)
    found.push({
      page: null,
      what: `it has ${issued.pages.length} pages; the report has ${made.pages.length}`,
    });
  for (const { issued: page, made: wanted, number } of pairedPages(issued, made)) {
    if (page === null)
      found.push({ page: number, what: `a page of the report is missing: “${head(wanted!)}”` });
    else if (wanted === null)
      found.push({ page: number, what: `a page that the report does not have: “${head(page)}”` });
    else found.push(...comparedPage(how === 'signed' ? withoutSignature(page) : page, wanted, number));
  }
  return found;
}

const withoutSignature = (page: PdfPage): PdfPage => ({
  ...page,
  annotations: page.annotations.filter((words) => !words.startsWith('Widget ')),
});

const key = ({ kind, text, at, size, look }: Painted): string =>
  `${kind} ${text} ${at.map((v) => v.toFixed(1)).join(' ')} ${size.map((v) => v.toFixed(1)).join(' ')} ${look}`;

const textOf = ({ painted }: PdfPage): string[] =>
  painted.filter(({ kind }) => kind === 'text').map(({ text }) => text);

/** Enough of a page to know it by; what every page has at its head is left out. */
const head = (page: PdfPage): string => textOf(page).slice(3, 9).join(' ').slice(0, 80);

interface Pair {
  readonly issued: PdfPage | null;
  readonly made: PdfPage | null;
  readonly number: number;
}

/** Equal pages belong together, so that one that is missing does not make all behind it differ. */
function pairedPages(issued: PdfPages, made: PdfPages): Pair[] {
  if (issued.pages.length === made.pages.length)
    return issued.pages.map((page, i) => ({ issued: page, made: made.pages[i]!, number: i + 1 }));
  const whole = (page: PdfPage) => page.painted.map(key).join('\n');
  const pairs: Pair[] = [];
  let [at, of] = [0, 0];
  for (const part of diffArrays(issued.pages.map(whole), made.pages.map(whole)))
    for (let k = 0; k < part.count; k++) {
      if (!part.added) at++;
      if (!part.removed) of++;
      pairs.push({
        issued: part.added ? null : issued.pages[at - 1]!,
        made: part.removed ? null : made.pages[of - 1]!,
        number: part.added ? of : at,
      });
    }
  return pairs;
}

function comparedPage(issued: PdfPage, made: PdfPage, page: number): PageDifference[] {
  const found: string[] = [...textDifferences(textOf(issued), textOf(made))];
  const wanted = counted(made.painted.map(key));
  const stands = counted(issued.painted.map(key));
  const isStrange = (thing: Painted) => !wanted.has(key(thing));
  const hasText = found.length > 0;
  for (const thing of issued.painted.filter(isStrange))
    if (thing.kind !== 'text') found.push(`${shapeWords(thing)} that the report does not draw`);
    else if (!hasText)
      found.push(`“${thing.text}” looks otherwise than in the report: other glyphs, place, size or colour`);
  for (const thing of made.painted)
    if (!stands.has(key(thing)) && thing.kind !== 'text') found.push(`${shapeWords(thing)} is missing`);
  for (const annotation of missingFrom(issued.annotations, made.annotations))
    found.push(`an annotation that the report does not have: ${annotation}`);
  for (const annotation of missingFrom(made.annotations, issued.annotations))
    found.push(`a link of the report is missing: ${annotation}`);
  if (found.length === 0 && issued.painted.map(key).join('\n') !== made.painted.map(key).join('\n'))
    found.push('the same things are drawn in another order, or more often');
  const more = found.length - NAMED;
  return [...found.slice(0, NAMED), ...(more > 0 ? [`and ${more} more on this page`] : [])].map((what) => ({
    page,
    what,
  }));
}

function shapeWords({ kind, at, size, text }: Painted): string {
  const what = { shape: 'a shape', clip: 'a clipping', picture: 'a picture', other: text, text };
  const [x, y, w, h] = [...at, ...size].map((v) => Math.round(v));
  return `${what[kind]} of ${w} × ${h} points at ${x}, ${y}`;
}

/** "stands “16.9”, should be “16.8”", with what stands before it. */
function textDifferences(issued: readonly string[], made: readonly string[]): string[] {
  const parts = diffArrays([...issued], [...made], { timeout: 2000 });
  if (parts === undefined) return ['its text is another'];
  const found: string[] = [];
  let before = '';
  for (let k = 0; k < parts.length; k++) {
    const part = parts[k]!;
    const next = parts[k + 1];
    const words = (list: readonly string[]) => `“${list.join(' ').slice(0, 120)}”`;
    const place = before === '' ? '' : ` behind “${before}”`;
    if (part.removed && next?.added) {
      found.push(`stands ${words(part.value)}${place}, should be ${words(next.value)}`);
      k++;
    } else if (part.added && next?.removed) {
      found.push(`stands ${words(next.value)}${place}, should be ${words(part.value)}`);
      k++;
    } else if (part.removed)
      found.push(`stands ${words(part.value)}${place}, which the report does not have`);
    else if (part.added) found.push(`is missing ${words(part.value)}${place}`);
    else before = part.value.slice(-3).join(' ').slice(-60);
  }
  return found;
}

/** All words of the document: where a line or a page ends is the browser's business. */
function comparedWords(issued: PdfPages, made: PdfPages): PageDifference[] {
  const words = ({ pages }: PdfPages) =>
    pages.flatMap((page) =>
      textOf(page)
        // The page's number among its pages, which another browser may part otherwise.
        .filter((text) => !/^page \d+ of \d+$/.test(text))
        .flatMap((text) => text.split(/\s+/)),
    );
  return textDifferences(words(issued), words(made))
    .slice(0, 3 * NAMED)
    .map((what) => ({ page: null, what }));
}

/** Wherever they stand, for another browser places them otherwise. */
function strangeAnnotations(issued: PdfPages, made: PdfPages): PageDifference[] {
  const plain = (words: string) => words.replace(/ at -?\d+, -?\d+/, '');
  const known = made.pages.flatMap(({ annotations }) => annotations.map(plain));
  return issued.pages.flatMap(({ annotations }, i) =>
    missingFrom(annotations.map(plain), known).map((words) => ({
      page: i + 1,
      what: `an annotation that the report does not have: ${words}`,
    })),
  );
}

/** Shapes and pictures that lie over text which was drawn before them. */
function covered({ pages }: PdfPages): PageDifference[] {
  return pages.flatMap(({ painted }, i) =>
    painted.flatMap((thing, at) => {
      if (thing.kind !== 'shape' && thing.kind !== 'picture') return [];
      if (thing.size[0] < COVERS || thing.size[1] < COVERS) return [];
      const below = painted
        .slice(0, at)
        .filter(
          (other) =>
            other.kind === 'text' &&
            other.at.every((v, k) => v >= thing.at[k]! && v <= thing.at[k]! + thing.size[k]!),
        );
      return below.length === 0
        ? []
        : [
            {
              page: i + 1,
              what: `${shapeWords(thing)} lies over “${below
                .map(({ text }) => text)
                .join(' ')
                .slice(0, 80)}”`,
            },
          ];
    }),
  );
}

/** What the file says of itself, but for the browser that printed it and the version that wrote it. */
function comparedInformation(issued: PdfPages, made: PdfPages, how: Strictness): PageDifference[] {
  if (how === 'signed')
    return comparedKeys(issued, made, ['Title', 'Author', 'Subject', 'Creator', 'CreationDate']);
  const own = how === 'same-print' ? [] : ['Producer', 'Creator', 'PDFFormatVersion'];
  const keys = new Set([...Object.keys(issued.information), ...Object.keys(made.information)]);
  return comparedKeys(
    issued,
    made,
    [...keys].filter((name) => !own.includes(name)),
  );
}

function comparedKeys(issued: PdfPages, made: PdfPages, keys: readonly string[]): PageDifference[] {
  return keys
    .filter((name) => issued.information[name] !== made.information[name])
    .map((name) => ({
      page: null,
      what: `its ${name} is ${issued.information[name] ?? 'not given'}, should be ${made.information[name] ?? 'not given'}`,
    }));
}

const comparedActive = (issued: PdfPages, made: PdfPages, how: Strictness): PageDifference[] =>
  missingFrom(issued.active, made.active)
    .filter((what) => how !== 'signed' || !what.startsWith('a form field '))
    .map((what) => ({ page: null, what: `it holds ${what}` }));

function missingFrom(list: readonly string[], other: readonly string[]): string[] {
  const left = counted(other);
  return list.filter((entry) => {
    const n = left.get(entry) ?? 0;
    left.set(entry, n - 1);
    return n <= 0;
  });
}

function counted(list: readonly string[]): Map<string, number> {
  const counts = new Map<string, number>();
  for (const entry of list) counts.set(entry, (counts.get(entry) ?? 0) + 1);
  return counts;
}
