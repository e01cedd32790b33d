/**
 * The register of an output folder, made again from the reports that lie there. What it says of jobs without a report, and
 * of reports that were issued or made again since, does not follow from them and is not compared.
 */
import { join, posix } from 'node:path';
import { jsonOf } from '../../base/input/json-of.js';
import { SOFTWARE } from '../../base/version.js';
import { manifestSchema } from '../../pages/deliverables/manifest.js';
import { readReportPdf } from '../../pages/report/pdf-file/read-report-pdf.js';
import type { Printer } from '../../pages/report/pdf.js';
import { resultsSchema, type Results } from '../../results/results-schema.js';
import { EARLIER } from '../keep-earlier.js';
import { listOutput } from '../output-listing.js';
import { readRegularFile } from '../regular-file.js';
import { registerCsv } from '../register/register-csv.js';
import { registerJson } from '../register/register-json.js';
import { registerRow } from '../register/register-row.js';
import { buildRegister, registerSchema, type Register, type RegisterRow } from '../register/register.js';
import { printRegister, registerPage, withStandings } from '../register/write-register.js';
import { WHAT_IF_FILE } from '../what-if-folder.js';
import type { NotCompared } from './statements.js';

export interface RegisterFinding {
  /** The output folder. */
  readonly out: string;
  /** In words. */
  readonly differences: string[];
  readonly notCompared: NotCompared[];
  /** What --no-print left out. */
  readonly waived: NotCompared[];
}

/** @param open Opens the browser; null: --no-print. */
export async function auditRegister(
  out: string,
  open: (() => Promise<Printer>) | null,
): Promise<RegisterFinding> {
  const { reports, pages } = await listOutput(out);
  const found: RegisterFinding = { out, differences: [], notCompared: [], waived: [] };
  const lying = new Map(pages.map((name) => [name, readQuietly(join(out, name))]));
  let current: Register | null = null;
  for (const [name, bytes] of lying) {
    if (!/^register.*\.json$/.test(name)) continue;
    const register = bytes === null ? undefined : registerSchema.safeParse(jsonOf(bytes)).data;
    if (register === undefined) leave(found, name, 'this version cannot read it');
    else if (JSON.stringify(register.software) !== JSON.stringify(SOFTWARE))
      leave(found, name, `it was made by version ${register.software.version}`);
    else {
      const isCurrent = compareRegister(out, { name, text: String(bytes), register }, reports, found);
      if (isCurrent && name === 'register.json') current = register;
    }
  }
  const wanted = pages.filter((name) => /^register\.(?:csv|html|pdf)$/.test(name));
  if (current !== null) await comparePages(out, current, lying, open, found);
  else if (wanted.length > 0)
    leave(found, wanted.join(', '), 'no register.json follows from the reports in this folder');
  const changes = pages.filter((name) => name.startsWith('changes'));
  if (changes.length > 0)
    leave(found, changes.join(', '), 'they compare with the reports of another folder (batch --against)');
  if (lying.has(WHAT_IF_FILE) && current?.whatIf === undefined)
    leave(found, WHAT_IF_FILE, 'no register.json says that these are what-if reports');
  return found;
}

const leave = ({ notCompared }: RegisterFinding, what: string, why: string) =>
  void notCompared.push({ what, why });

/** null: it cannot be read. */
function readQuietly(path: string): Buffer | null {
  try {
    return readRegularFile(path);
  } catch {
    return null;
  }
}

/** @returns Whether every row of a report follows from the report that lies there. */
function compareRegister(
  out: string,
  { name, text, register }: { readonly name: string; readonly text: string; readonly register: Register },
  reports: readonly string[],
  found: RegisterFinding,
): boolean {
  const { jobs, software, shard, whatIf } = register;
  const differ = (words: string) => void found.differences.push(`${name}: ${words}`);
  const before = found.notCompared.length;
  const places = new Set<string>();
  const own = jobs.map((row): RegisterRow | null => {
    if (row.status !== 'reported') return row;
    const place = posix.dirname(row.links.results);
    places.add(place);
    const report = reports.includes(place) ? reportAt(out, place, row.folder) : null;
    if (report !== null && JSON.stringify(whatIf) !== JSON.stringify(setOf(report.results)))
      differ(`it says otherwise of the tolerance set of ${row.job} than its report does`);
    return report?.row ?? null;
  });
  // Parsed for the order of the keys.
  const filled = registerSchema.shape.jobs.parse(own.map((row, i) => row ?? jobs[i]!));
  const now = withStandings(out, { ...register, jobs: filled }).jobs;
  jobs.forEach((row, i) => {
    const made = now[i]!;
    if (row.status !== 'reported' || made.status !== 'reported') return;
    const others = Object.keys({ ...row, ...made }).filter(
      (key) => JSON.stringify(row[key as keyof typeof row]) !== JSON.stringify(made[key as keyof typeof row]),
    );
    if (own[i] === null) leave(found, `${name}: ${row.job}`, 'its report cannot be read in this folder');
    else if (others.includes('key') || others.includes('issue'))
      leave(found, `${name}: ${row.job}`, 'its report was issued, withdrawn or made again since');
    else if (others.length > 0)
      differ(`it says otherwise of ${row.job} than its report: ${others.join(', ')}`);
  });
  if (name === 'register.json')
    for (const place of reports.filter((one) => !places.has(one) && !one.startsWith(`${EARLIER}/`)))
      if (place.startsWith('drafts/') || !reports.includes(`drafts/${place}`))
        leave(found, `${name}: ${place}`, 'it does not list this report');
  const isCurrent = found.notCompared.length === before;
  const without = jobs.filter(({ status }) => status !== 'reported').length;
  if (without > 0)
    leave(found, `${name}: jobs without a report (${without})`, 'why they have none, no report says');
  if (registerJson(buildRegister(jobs, software, shard, whatIf)) !== text)
    differ('its counts, or the order of its lines, are not those of its jobs');
  return isCurrent;
}

/** null: it cannot be read. */
function reportAt(out: string, place: string, folder: string) {
  const [results, manifest] = ['results.json', 'manifest.json'].map((name) => {
    const bytes = readQuietly(join(out, place, name));
    return bytes === null ? null : jsonOf(bytes);
  });
  const [read, said] = [resultsSchema.safeParse(results).data, manifestSchema.safeParse(manifest).data];
  if (read === undefined || said === undefined) return null;
  const hasPdf = said.outputs.some(({ path }) => path === 'report.pdf');
  return { results: read, row: registerRow(read, folder, said.key ?? '', hasPdf, place) };
}

/** The set that judged in place of the job's own. */
function setOf({ whatIf, inputs, toleranceSet: { name, source } }: Results): Register['whatIf'] {
  if (whatIf === undefined) return undefined;
  return { name, source, sha256: inputs.find(({ path }) => path === whatIf.tolerances)?.sha256 ?? '' };
}

async function comparePages(
  out: string,
  register: Register,
  lying: ReadonlyMap<string, Buffer | null>,
  open: (() => Promise<Printer>) | null,
  found: RegisterFinding,
): Promise<void> {
  const pdf = lying.get('register.pdf') ?? null;
  const { whatIf } = register;
  const made = new Map<string, Uint8Array>([
    ['register.csv', Buffer.from(registerCsv(register))],
    ['register.html', await registerPage(out, register, pdf)],
    ...(whatIf === undefined
      ? []
      : [
          [
            WHAT_IF_FILE,
            Buffer.from(`${JSON.stringify({ format: 'waysheet-what-if/1', ...whatIf }, null, 2)}\n`),
          ] as const,
        ]),
  ]);
  for (const [name, bytes] of made)
    if (lying.get(name)?.equals(bytes) !== true)
      found.differences.push(`${name} is not what register.json makes, byte for byte`);
  if (!lying.has('register.pdf')) return;
  if (open === null)
    return void found.waived.push({ what: 'register.pdf', why: 'it was not printed again (--no-print)' });
  try {
    const printed = await printRegister(out, register, await open());
    if (pdf?.equals(printed) === true) return;
    const producer = pdf === null ? null : producerOf(pdf);
    if (producer === null || producer === producerOf(printed))
      found.differences.push('register.pdf is not what register.json prints: its bytes are others');
    else leave(found, 'register.pdf', `it was printed by another browser (${producer})`);
  } catch (error) {
    leave(found, 'register.pdf', `no browser printed it again: ${(error as Error).message}`);
  }
}

/** null: it is not written as waysheet writes a PDF. */
function producerOf(pdf: Uint8Array): string | null {
  try {
    return readReportPdf(pdf).producer;
  } catch {
    return null;
  }
}
