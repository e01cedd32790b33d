/**
 * Every problem of a job as one page that an office can send back to the crew: by file and line, the line with the cell marked, what it is, what was expected, what to do. Self-contained; no script; all text
 * escaped, and a policy that would let nothing run or load if it were not.
 */
import { groupBy } from '../../base/lists.js';
import { extent } from '../../base/statistics/extent.js';
import type { Diagnostic } from '../../base/diagnostics/diagnostic.js';
import { grouped, type Group } from '../../base/diagnostics/groups.js';
import { explain, visible } from '../../base/diagnostics/messages.js';
import { piecesOf, type Piece, type SourceLines } from '../../base/diagnostics/source-lines.js';
import { clause, sentences } from '../words/phrases.js';
import type { Words } from '../words/words.js';
import { compiledTemplate, policyHash, templateText } from './templates.js';

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
  const style = templateText('problem.css');
  const files = [...groupBy(diagnostics, (d) => d.at?.file ?? '')];
  return compiledTemplate(templateText('problem.hbs'))(words, {
    ...{ style, hash: policyHash(style), title: shown(title), counted: countOf(diagnostics, words) },
    intro: [introduction(diagnostics, words), ...notes.map(shown)],
    files: files.map(([file, list]) => fileView(file, list, sources.get(file) ?? null, words)),
  });
}

/** Line ends within a cell are shown as such; other control characters by their number. */
const shown = (text: string): string => visible(text.replace(/\n/g, ' ⏎ ').replace(/\t/g, ' → '));

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

function fileView(file: string, list: readonly Diagnostic[], source: SourceLines | null, words: Words) {
  const rows = groupBy(grouped(list), ({ first }) => String(first.at?.row ?? ''));
  const headerRow = source?.headerRow ?? 0;
  return {
    file: file === '' ? words.say('problems.whole-job') : shown(file),
    counted: countOf(list, words),
    headerRow,
    header: headerRow > 0 ? shownPieces(piecesOf(source!, headerRow, [])) : null,
    rows: [...rows.values()].map((ofRow) => {
      const row = ofRow[0]!.first.at?.row;
      const marks = ofRow.flatMap(({ first }) => first.at ?? []);
      return {
        row: row ?? 0,
        title: row === undefined ? words.say('problems.whole-file') : words.say('problems.line', { row }),
        pieces: source === null || row === undefined ? null : shownPieces(piecesOf(source, row, marks)),
        problems: ofRow.map((group) => problemView(group, words)),
      };
    }),
  };
}

/** A blank cell is shown as wide as it takes to see the mark. */
const shownPieces = (pieces: readonly Piece[] | null) =>
  pieces?.map(({ text, marked }) => ({
    marked,
    text: marked && text === '' ? '\u00a0\u00a0' : shown(text),
  })) ?? null;

function problemView({ first: diagnostic, rows }: Group, words: Words) {
  const { severity, code, at, confirmed } = diagnostic;
  const { say } = words;
  const { what, expected, fix, causes } = explain(diagnostic);
  const said = (text: string | null) => (text === null ? '' : shown(sentences(text, words)));
  const column = at?.column ?? '';
  const [from, to] = extent(rows);
  const same =
    to - from + 1 === rows.length
      ? say('problems.same', { from, to })
      : say('problems.same-of', { count: rows.length, from, to });
  return {
    severity,
    name: say(`problems.${severity}`),
    column: shown(/^character \d+$/.test(column) ? sentences(column, words) : column),
    what: shown(clause(what, words)),
    same: rows.length === 0 ? '' : `; ${same}`,
    code,
    expected: said(expected),
    causes:
      causes === undefined
        ? null
        : {
            intro: said(causes.intro),
            list: causes.list.map((one) => ({ what: said(one.what), fix: said(one.fix) })),
          },
    fix: said(fix),
    confirmed: confirmed === undefined ? '' : shown(`${confirmed.by}: ${confirmed.because}`),
  };
}
