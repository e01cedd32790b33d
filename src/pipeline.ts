/**
 * The table of contents: a folder of readings becomes an acceptance report.
 *
 *   read → validate → solve → judge → results.json → charts → HTML → PDF → manifest
 *
 * Everything after `results.json` is made from it alone. Files and the browser are handed in; the rest is pure.
 */
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Deliverables } from './pages/deliverables/deliverables.js';
import { originOf } from './pages/deliverables/content-key.js';
import { buildManifest, sha256 } from './pages/deliverables/manifest.js';
import type { OnSearch } from './results/corrections/programme.js';
import { inStage } from './base/cost/stages.js';
import type { Diagnostic } from './base/diagnostics/diagnostic.js';
import { confirmationLines, warningLines } from './results/warning-lines.js';
import type { Brand } from './survey/brand/read-brand.js';
import type { LoadedJob } from './solution/intake/load-job.js';
import type { InputFile } from './base/input/input-file.js';
import type { Printer } from './pages/report/pdf.js';
import type { Attachment } from './pages/report/print-job.js';
import type { ReportPage } from './pages/report/html.js';
import { documentTitle } from './pages/report/document-title.js';
import type { ReportChart } from './pages/report/sections/pictures.js';
import { inFirst, isPair } from './pages/words/pair.js';
import { firstOf, type Words } from './pages/words/words.js';
import { wordsOfAll } from './pages/words/languages.js';
import { languagesOf } from './survey/job/languages.js';
import type { Issue, Results } from './results/results-schema.js';

/** Inputs beyond this are named and hashed in the report, but not carried inside the PDF. */
const MOST_ATTACHED_BYTES = 32 * 2 ** 20;

export interface Made {
  readonly results: Results;
  readonly files: Deliverables;
}

export interface Issuing {
  readonly facts: Issue;
  /** Adds the office's electronic signature; null: none. */
  readonly sign: ((pdf: Uint8Array) => Promise<Uint8Array>) | null;
}

/**
 * All deliverables of one job, in memory.
 *
 * @param folder The job folder, from which the raw inputs are attached to the PDF.
 * @param printer null: no PDF.
 * @param onSearch Told how far the search for a correction plan is.
 * @param issue What makes it an issued report; null: a draft.
 * @throws {BrowserTrouble} the print failed. {Error} an input changed while it was being reported.
 */
export async function makeDeliverables(
  folder: string,
  loaded: LoadedJob,
  diagnostics: readonly Diagnostic[],
  printer: Promise<Printer> | null,
  issue: Issuing | null = null,
  onSearch?: OnSearch,
): Promise<Made> {
  const { format, job, ...rest } = await solve(loaded, diagnostics, onSearch);
  const results: Results = { format, job, ...(issue !== null && { issue: issue.facts }), ...rest };
  const words = wordsOfAll(languagesOf(loaded));
  const first = firstOf(words);
  const charts = await inStage('charts', () => drawCharts(results, words));
  const { live, html, fontless } = await inStage('page', () =>
    writePage(results, charts, words, loaded.brand ?? null),
  );
  const { stationsCsv } = await import('./pages/report/stations-csv.js');
  const files = new Map<string, Uint8Array>();
  const put = (path: string, text: string) => files.set(path, new TextEncoder().encode(text));
  put('results.json', `${JSON.stringify(results, null, 2)}\n`);
  put('stations.csv', stationsCsv(results));
  const sheet = await correctionFiles(results, first, put);
  put('report.html', live);
  for (const { key, svg, spec } of charts) {
    put(`charts/${key}.svg`, svg);
    put(`charts/${key}.vl.json`, `${JSON.stringify(spec)}\n`);
  }
  let browser: string | null = null;
  const attachedAs = new Map<string, string>();
  if (printer !== null) {
    const opened = await printer;
    const inputs = await attachInputs(folder, results.inputs, loaded, attachedAs);
    const data: Attachment = {
      name: 'results.json',
      bytes: files.get('results.json')!,
      mime: 'application/json',
      description: 'The results of this report, with all digits',
      relationship: 'Alternative',
    };
    browser = opened.browser;
    const pdf = await inStage('print', () =>
      opened.print({ html, fontless, ...documentOf(results, first), attachments: [data, ...inputs] }),
    );
    files.set('report.pdf', issue === null || issue.sign === null ? pdf : await issue.sign(pdf));
  }
  if (sheet !== null && printer !== null) {
    const title = first.say('sheet.title', { number: results.job });
    files.set(
      'corrections.pdf',
      await (await printer).print({ html: sheet, ...documentOf(results, first), title }),
    );
  }
  const origin = originOf(results.inputs, printer !== null, loaded.language);
  const { digests = null, language } = loaded;
  const manifest = await inStage('hash', () =>
    buildManifest(results, files, browser, attachedAs, origin, digests, language),
  );
  put('manifest.json', `${JSON.stringify(manifest, null, 2)}\n`);
  return { results, files };
}

/** The plan as a table file, and the sheet for the crew. @returns The sheet's page; null: nothing is to be moved. */
async function correctionFiles(
  results: Results,
  words: Words,
  put: (path: string, text: string) => void,
): Promise<string | null> {
  const { correctionsCsv, correctionSheet, planOf } = await import('./pages/report/correction-sheet.js');
  const plan = planOf(results);
  if (plan === null || (plan.of === 'stations' && plan.moves.length === 0)) return null;
  put('corrections.csv', correctionsCsv(plan));
  const sheet = correctionSheet(results, words);
  if (sheet !== null) put('corrections.html', sheet);
  return sheet;
}

/** Readings to judged results, with a plan of moves. */
export async function solve(
  loaded: LoadedJob,
  diagnostics: readonly Diagnostic[],
  onSearch?: OnSearch,
): Promise<Results> {
  const { adjusted, results } = await judge(loaded, diagnostics);
  const { correctionsOf } = await import('./results/corrections/corrections-of.js');
  const corrections = await inStage('moves', () => correctionsOf(loaded.job, adjusted, results, onSearch));
  return { ...results, corrections };
}

/** Readings to judged results; no plan of moves is searched for. */
export async function judge(loaded: LoadedJob, diagnostics: readonly Diagnostic[]) {
  const { adjustPhases } = await import('./results/adjusted-phase.js');
  const { buildResults } = await import('./results/build-results.js');
  const adjusted = await inStage('solve', () => adjustPhases(loaded.job, loaded.readings, loaded.solved));
  const facts = {
    ...loaded,
    adjusted,
    warnings: warningLines(diagnostics),
    confirmations: confirmationLines(diagnostics),
  };
  const results = await inStage('judge', () => buildResults(facts));
  return { adjusted, results };
}

/** Every chart of a report as SVG, in the order of the pages. */
export async function drawCharts(results: Results, words?: Words): Promise<ReportChart[]> {
  const [{ chartsOf }, { onPhone }, { renderChart }, fonts] = await Promise.all([
    import('./pages/charts/charts-of.js'),
    import('./pages/charts/chart.js'),
    import('./pages/charts/render-svg.js'),
    import('./pages/fonts/fonts.js'),
  ]);
  const drawn: ReportChart[] = [];
  for (const chart of chartsOf(results, words)) {
    const { key, title, caption, alt, outcome, section, rail, role, of, stations } = chart;
    // A picture says everything once.
    const shown = isPair(JSON.stringify(chart))
      ? (JSON.parse(inFirst(JSON.stringify(chart))) as typeof chart)
      : chart;
    const [page, phone] = [await renderChart(shown, fonts), onPhone(shown)];
    drawn.push({
      ...{ key, title, caption, alt, section, role, of, stations },
      ...(rail !== undefined && { rail }),
      ...(outcome !== undefined && { outcome }),
      ...page,
      ...(phone !== null && { phone: (await renderChart(phone, fonts)).svg }),
    });
  }
  return drawn;
}

/** @see IANA media types. */
const mimeOf = (path: string): string =>
  ({ json: 'application/json', svg: 'image/svg+xml', png: 'image/png', woff2: 'font/woff2' })[
    path.split('.').at(-1)!.toLowerCase()
  ] ?? 'text/csv';

/** The page of a report, with its fonts and charts inside: report.html, and what is printed. */
export async function writePage(
  results: Results,
  charts: readonly ReportChart[],
  words?: Words,
  brand: Brand | null = null,
): Promise<ReportPage> {
  const [{ renderPage }, { fontFaceCss }] = await Promise.all([
    import('./pages/report/html.js'),
    import('./pages/fonts/fonts.js'),
  ]);
  return renderPage(results, charts, fontFaceCss(), words, brand);
}

/** What the PDF says of itself; its date is the job's, so that the same job gives the same bytes. */
function documentOf(results: Results, words: Words) {
  const { subject, software, style } = results;
  const { prepared, surveyed, readingsTaken } = subject;
  return {
    title: documentTitle(results, words),
    ...(subject.title !== null && { subject: subject.title }),
    ...((subject.issuer ?? prepared.by) !== null && { author: (subject.issuer ?? prepared.by)! }),
    creator: `${software.name} ${software.version}`,
    createdOn: results.issue?.on ?? prepared.on ?? surveyed.on ?? readingsTaken.to ?? '2000-01-01',
    paper: style.paper,
  };
}

/** The raw inputs as they were when they were hashed, for the PDF. */
async function attachInputs(
  folder: string,
  inputs: readonly Omit<InputFile, 'read'>[],
  { given, brand }: Pick<LoadedJob, 'given' | 'brand'>,
  attachedAs: Map<string, string>,
): Promise<Attachment[]> {
  if (inputs.reduce((sum, f) => sum + f.bytes, 0) > MOST_ATTACHED_BYTES) return [];
  const taken = new Set(['results.json']);
  const attachments: Attachment[] = [];
  for (const input of inputs) {
    const ofBrand = brand?.files.find(({ path }) => path === input.path);
    const bytes =
      ofBrand !== undefined
        ? Buffer.from(ofBrand.base64, 'base64')
        : input.path === given?.input.path
          ? given.bytes
          : await readFile(join(folder, input.path));
    if (sha256(bytes) !== input.sha256)
      throw new Error(`${join(folder, input.path)} changed while it was being reported: run again`);
    const flat = input.path.replace(/^(\.\.\/)+/, '').replaceAll('/', '--');
    let name = flat;
    for (let k = 2; taken.has(name); k++) name = `${k}--${flat}`;
    taken.add(name);
    attachedAs.set(input.path, name);
    attachments.push({
      name,
      bytes,
      mime: mimeOf(input.path),
      description: `Input ${input.path}, as it was read`,
      relationship: 'Source',
    });
  }
  return attachments;
}
