/**
 * Every problem of a job as one page that an office can send back to the crew: by file and line, the line with the cell marked, what it is, what was expected, what to do. Self-contained; no script; all text
 * escaped, and a policy that would let nothing run or load if it were not.
 */
import { createHash } from 'node:crypto';
import { groupBy } from '../../base/lists.js';
import { leastOf, mostOf } from '../../base/statistics/extent.js';
import type { Diagnostic } from '../../base/diagnostics/diagnostic.js';
import { grouped, type Group } from '../../base/diagnostics/groups.js';
import { explain, visible } from '../../base/diagnostics/messages.js';
import { piecesOf, type Piece, type SourceLines } from '../../base/diagnostics/source-lines.js';
import { clause, sentences } from '../words/phrases.js';
import type { Words } from '../words/words.js';

/** Pieces of HTML that are escaped already are told from text by their type. */
interface Html {
  readonly html: string;
}

export interface ProblemPage {
  /** Of the job: its id, or the folder's name. */
  readonly title: string;
  /** Sorted, as `inspectJob` gives them. */
  readonly diagnostics: readonly Diagnostic[];
  /** The files that have problems, as far as they can be read, by their path in the job. */
  readonly sources: ReadonlyMap<string, SourceLines>;
  /** Said in the head of the page. */
  readonly notes?: readonly string[];
  readonly words: Words;
}

/** Pure: the same problems give the same page. */
export function problemPage({ title, diagnostics, sources, notes = [], words }: ProblemPage): string {
  const files = groupBy(diagnostics, (d) => d.at?.file ?? '');
  const counted = countOf(diagnostics, words);
  const page = markup`<!doctype html>
<html lang="${words.language}">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${POLICY}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${title}: ${counted}</title>
<style>${raw(STYLE)}</style>
</head>
<body>
<header>
<p class="kind">${words.say('problems.kind')}</p>
<h1>${title}</h1>
<p class="count">${counted}</p>
<p>${introduction(diagnostics, words)}</p>${notes.map((note) => markup`\n<p>${note}</p>`)}
</header>
<main>
${[...files].map(([file, list]) => fileSection(file, list, sources.get(file) ?? null, words))}
</main>
</body>
</html>
`;
  return page.html;
}

const countsOf = (list: readonly Diagnostic[]) => {
  const count = (severity: Diagnostic['severity']) => list.filter((d) => d.severity === severity).length;
  return { errors: count('error'), asked: count('confirm'), warnings: count('warning') };
};

function countOf(list: readonly Diagnostic[], { say }: Words): string {
  const { errors, asked, warnings } = countsOf(list);
  const parts = [
    errors === 0 ? '' : say('problems.errors', { count: errors }),
    asked === 0 ? '' : say('problems.asked', { count: asked }),
    warnings === 0 ? '' : say('problems.warnings', { count: warnings }),
  ].filter((part) => part !== '');
  return parts.join(', ') || say('problems.none');
}

function introduction(list: readonly Diagnostic[], { say }: Words): string {
  const { errors, asked, warnings } = countsOf(list);
  if (list.length === 0) return say('problems.nothing');
  return [
    say(errors > 0 ? 'problems.with-errors' : asked > 0 ? 'problems.with-asked' : 'problems.usable'),
    ...(asked > 0 ? [say('problems.to-confirm')] : []),
    ...(warnings > 0 ? [say('problems.suspicions')] : []),
  ].join(' ');
}

function fileSection(
  file: string,
  list: readonly Diagnostic[],
  source: SourceLines | null,
  words: Words,
): Html {
  const rows = groupBy(grouped(list), ({ first }) => String(first.at?.row ?? ''));
  const headerRow = source?.headerRow ?? 0;
  const header = headerRow > 0 ? piecesOf(source!, headerRow, []) : null;
  return markup`<section>
<h2>${file === '' ? words.say('problems.whole-job') : file}</h2>
<p class="count">${countOf(list, words)}</p>
${lineOf(headerRow, header, 'header')}
${[...rows.values()].map((ofRow) => rowSection(ofRow, source, words))}
</section>
`;
}

function rowSection(list: readonly Group[], source: SourceLines | null, words: Words): Html {
  const row = list[0]!.first.at?.row;
  const marks = list.flatMap(({ first }) => first.at ?? []);
  const pieces = source === null || row === undefined ? null : piecesOf(source, row, marks);
  return markup`<article>
<h3>${row === undefined ? words.say('problems.whole-file') : words.say('problems.line', { row })}</h3>
${lineOf(row ?? 0, pieces, 'line')}
${list.map((group) => problem(group, words))}
</article>
`;
}

const lineOf = (row: number, pieces: readonly Piece[] | null, kind: 'line' | 'header'): Html =>
  pieces === null
    ? NOTHING
    : markup`<pre class="${kind}"><span class="number">${row}</span>${pieces.map(pieceHtml)}</pre>`;

/** A blank cell is shown as wide as it takes to see the mark. */
const pieceHtml = ({ text, marked }: Piece): Html =>
  marked ? markup`<mark>${text === '' ? '\u00a0\u00a0' : text}</mark>` : markup`${text}`;

function problem({ first: diagnostic, rows }: Group, words: Words): Html {
  const { severity, code, at, confirmed } = diagnostic;
  const { say } = words;
  const { what, expected, fix, causes } = explain(diagnostic);
  const column = at?.column ?? '';
  const named = column === '' ? NOTHING : markup`<b class="column">${column}</b> `;
  const line = (name: string, text: string | null) =>
    text === null ? NOTHING : markup`<dt>${name}</dt><dd>${text}</dd>\n`;
  const listed =
    causes === undefined
      ? NOTHING
      : markup`<dt>${say('problems.causes')}</dt><dd>${say('problems.causes.intro', { intro: sentences(causes.intro, words) })}<ol>${causes.list.map(
          (c) =>
            markup`<li>${sentences(c.what, words)}.${c.fix === null ? NOTHING : markup`<br>${sentences(c.fix, words)}`}</li>`,
        )}</ol></dd>\n`;
  const [from, to] = [leastOf(rows), mostOf(rows)];
  const same =
    rows.length === 0
      ? ''
      : `; ${to - from + 1 === rows.length ? say('problems.same', { from, to }) : say('problems.same-of', { count: rows.length, from, to })}`;
  return markup`<dl class="${severity}">
<dt>${say(`problems.${severity}`)}</dt><dd>${named}${clause(what, words)}${same}. <code>${code}</code></dd>
${line(say('problems.expected'), expected === null ? null : sentences(expected, words))}${listed}${line(say('problems.fix'), fix === null ? null : sentences(fix, words))}${line(say('problems.confirmed'), confirmed === undefined ? null : `${confirmed.by}: ${confirmed.because}`)}</dl>
`;
}

type Value = string | number | Html | readonly Html[];

/**
 * Every value is escaped, unless it is a piece of HTML itself. Not named `html`, because formatters would then
 * put blanks into the style sheet, whose hash the policy states.
 */
function markup(parts: TemplateStringsArray, ...values: readonly Value[]): Html {
  return { html: parts.map((part, i) => (i < values.length ? part + htmlOf(values[i]!) : part)).join('') };
}

function htmlOf(value: Value): string {
  if (typeof value === 'string' || typeof value === 'number') return escaped(String(value));
  return 'html' in value ? value.html : value.map((piece) => piece.html).join('');
}

const raw = (text: string): Html => ({ html: text });
const NOTHING = raw('');

const ENTITIES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};
/** Line ends within a cell are shown as such; other control characters by their number. */
const escaped = (text: string): string =>
  visible(text.replace(/\n/g, ' ⏎ ').replace(/\t/g, ' → ')).replace(/[&<>"']/g, (c) => ENTITIES[c]!);

const STYLE = `
:root { color: #1d2529; background: #fff; font: 15px/1.45 system-ui, 'Segoe UI', Roboto, 'Helvetica Neue', Arial, sans-serif; }
body { max-width: 62rem; margin: 0 auto; padding: 1.5rem 1.25rem 3rem; }
header { border-bottom: 2px solid #1d2529; margin-bottom: 1.5rem; padding-bottom: .75rem; }
.kind { margin: 0; color: #4d5961; }
h1 { margin: 0 0 .1rem; font-size: 1.7rem; line-height: 1.2; }
h2 { margin: 1.75rem 0 0; font-size: 1.15rem; overflow-wrap: anywhere; }
h3 { margin: 0 0 .35rem; font-size: 1rem; }
.count { margin: .1rem 0 .6rem; color: #4d5961; }
header p { margin: .3rem 0; max-width: 48rem; }
article { margin: 0 0 .9rem; padding: .7rem .85rem .75rem; border: 1px solid #c9d1d6; border-radius: 4px; break-inside: avoid; }
pre { margin: 0 0 .55rem; padding: .4rem .6rem; background: #f1f4f6; overflow-x: auto; white-space: pre-wrap; overflow-wrap: anywhere; font: 13px/1.5 ui-monospace, 'DejaVu Sans Mono', Menlo, Consolas, monospace; }
pre.header { color: #4d5961; margin-bottom: .9rem; }
.number { display: inline-block; min-width: 2.5em; margin-right: .8em; color: #4d5961; text-align: right; }
mark { background: #fff; color: inherit; font-weight: 700; outline: 1.5px solid #1d2529; border-radius: 2px; }
dl { display: grid; grid-template-columns: 7rem 1fr; gap: .1rem .75rem; margin: .35rem 0 0; padding-left: .65rem; border-left: 4px dotted #1d2529; }
dl.error { border-left-style: solid; }
dl.confirm { border-left-style: double; border-left-width: 6px; }
dt { font-weight: 600; }
dd { margin: 0; overflow-wrap: anywhere; }
ol { margin: .15rem 0 .2rem; padding-left: 1.4rem; }
li { margin: 0 0 .2rem; }
code { color: #4d5961; font: 12px ui-monospace, 'DejaVu Sans Mono', Menlo, Consolas, monospace; white-space: nowrap; }
.column::after { content: ':'; }
@media (max-width: 34rem) { dl { grid-template-columns: 1fr; } }
@media print { :root { font-size: 12px; } body { padding: 0; max-width: none; } pre { background: none; border: 1px solid #c9d1d6; } mark { print-color-adjust: exact; } }
@page { margin: 16mm; }
`;
const STYLE_HASH = createHash('sha256').update(STYLE).digest('base64');
/** The style sheet by its hash, and nothing else at all. */
const POLICY = `default-src 'none'; style-src 'sha256-${STYLE_HASH}'; base-uri 'none'; form-action 'none'`;
