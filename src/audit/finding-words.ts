/** What an audit found, in words, for a terminal and for its report. */
import { visible } from '../diagnostics/messages.js';
import { mostThatDiffer } from './acceptance-sample.js';
import { isSound, isUndecided, type AuditFinding } from './audit.js';

/** A report that could not be read has its reason in place of a finding. */
export type Audited = AuditFinding | { readonly path: string; readonly error: string };

/** Differences printed for one report; --json gives all. */
const LISTED = 40;

export const comparedWords: Record<AuditFinding['pagesCompared'], string> = {
  bytes: 'its pages are, byte for byte, what the same inputs print',
  drawing: 'its pages were compared glyph by glyph',
  text: 'the text of its pages is that of the report',
  none: 'its pages were not compared',
};

/** What was found of one report, a line each. */
export function findingText(f: AuditFinding): string {
  const name = f.number === null ? f.job : `report ${f.number} of ${f.job}`;
  const notes = [
    f.note,
    f.signed,
    ...f.notCompared.map(({ what, why }) => `not compared: ${what} (${why})`),
  ].filter((text) => text !== '');
  const more = notes.length === 0 ? '' : `; ${notes.join('; ')}`;
  if (isSound(f)) {
    const files = f.pdfAlone ? '' : '; every file is as issued';
    return visible(
      `${f.path}: ${name} follows from its readings${files}; ${comparedWords[f.pagesCompared]}${more} (by ${f.issuedBy})`,
    );
  }
  if (isUndecided(f))
    return [
      `${visible(f.path)}: ${visible(name)}: every file is as its manifest says, but nothing could be made again:`,
      ...f.absent.map((line) => `  ${visible(line)}`),
    ].join('\n');
  const lines = [...differenceLines(f), ...notes];
  return [
    `${visible(f.path)}: ${visible(name)} (issued by ${f.issuedBy}) does not stand as issued:`,
    ...lines.map((l) => `  ${visible(l)}`),
  ].join('\n');
}

/** What differs, a line each. */
export function differenceLines(f: AuditFinding): string[] {
  return [
    ...f.files,
    ...f.absent,
    ...f.results.slice(0, LISTED).map((d) => `${d.place}: issued ${d.issued}, recomputed ${d.recomputed}`),
    ...(f.results.length > LISTED ? [`… and ${f.results.length - LISTED} more; --json lists all`] : []),
    ...f.pages
      .slice(0, LISTED)
      .map(({ file, page, what }) => `${file}${page === null ? '' : `, page ${page}`}: ${what}`),
    ...(f.pages.length > LISTED ? [`… and ${f.pages.length - LISTED} more; --json lists all`] : []),
    ...(f.recomputed ? [] : ['the results were not recomputed']),
  ];
}

/** How many reports stand, differ, could not be made again, and could not be read. */
export function countText(findings: readonly Audited[]): string {
  const sound = findings.filter((f) => !('error' in f) && isSound(f)).length;
  const errors = findings.filter((f) => 'error' in f).length;
  const undecided = findings.filter((f) => !('error' in f) && isUndecided(f)).length;
  return [
    `${findings.length} reports: ${sound} stand`,
    `${findings.length - sound - errors - undecided} do not`,
    ...(undecided === 0 ? [] : [`${undecided} could not be made again`]),
    ...(errors === 0 ? [] : [`${errors} could not be read`]),
  ]
    .join(', ')
    .concat('.');
}

/** What a sample says of the whole archive, and what it cannot. */
export function sampleText(all: number, sample: number, seed: number, findings: readonly Audited[]): string {
  const sound = findings.filter((f) => !('error' in f) && isSound(f)).length;
  const drawn = `A sample of ${sample} of ${all} reports, drawn with seed ${seed} (size by ISO 2859-1, general level II).`;
  if (sound < sample)
    return `${drawn} Not all of them stand: the archive is not accepted by this sample, and is to be audited whole.`;
  if (sample === all) return `${drawn} It holds every report.`;
  return `${drawn} All of them stand: with 95 % confidence at most ${mostThatDiffer(all, sample)} of the ${all} do not. That no other report differs, it does not say.`;
}
