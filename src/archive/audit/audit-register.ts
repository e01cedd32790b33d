/**
 * Makes the register of an output folder again from its reports, and compares it. Rows of jobs without a report, and of reports
 * that were issued or made again later, do not follow from the reports and are not compared.
 */
import { join, posix } from 'node:path';
import { jsonOf } from '../../base/input/json-of.js';
import { SOFTWARE } from '../../base/version.js';
import { manifestSchema } from '../../pages/deliverables/manifest.js';
import type { Printer } from '../../pages/report/pdf.js';
import { resultsSchema, type Results } from '../../results/results-schema.js';
import { EARLIER } from '../keep-earlier.js';
import { listOutput } from '../output-listing.js';
import { readQuietly } from '../regular-file.js';
import { registerCsv } from '../register/register-csv.js';
import { registerJson } from '../register/register-json.js';
import { aboutReport, registerRow } from '../register/register-row.js';
import { buildRegister, registerSchema, type Register, type RegisterRow } from '../register/register.js';
import { DRAFTS } from '../report-places.js';
import { printRegister, registerPage, withStandings } from '../register/write-register.js';
import { WHAT_IF_FILE } from '../what-if-folder.js';
import { comparePrint, otherKeys } from './pages.js';
import type { NotCompared } from './statements.js';

export interface RegisterFinding {
  /** The output folder. */
  readonly out: string;
  /** In words. */
  readonly differences: string[];
  readonly notCompared: NotCompared[];
}

/** @param open Opens the browser; null: --no-print. */
export async function auditRegister(
  out: string,
  open: (() => Promise<Printer>) | null,
): Promise<RegisterFinding> {
  const { reports, pages } = await listOutput(out);
  const found: RegisterFinding = { out, differences: [], notCompared: [] };
  const lying = new Map(pages.map((name) => [name, readQuietly(join(out, name))]));
  let current: Register | null = null;
  for (const [name, bytes] of lying) {
    if (!/^register.*\.json$/.test(name)) continue;
    const register = registerSchema.safeParse(bytes === null ? null : jsonOf(bytes)).data;
    if (register === undefined) leave(found, name, 'this version cannot read it');
    else if (JSON.stringify(register.software) !== JSON.stringify(SOFTWARE))
      leave(found, name, `it was made by version ${register.software.version}`);
    else if (compareRegister({ out, name, bytes, reports }, register, found) && register.shard === null)
      current = register;
  }
  const named = (pattern: RegExp) => pages.filter((name) => pattern.test(name)).join(', ');
  if (current !== null) await comparePages(current, lying, open, found);
  else
    leave(
      found,
      named(/^register\.(?:csv|html|pdf)$/),
      'no register.json follows from the reports in this folder',
    );
  const mark = lying.get(WHAT_IF_FILE);
  if (mark !== undefined && !reports.every((place) => isMarkOf(mark, reportAt(out, place, '')?.results)))
    found.differences.push(`${WHAT_IF_FILE} names another tolerance set than a report in this folder`);
  leave(found, named(/^changes/), 'they compare with the reports of another folder (batch --against)');
  return found;
}

/** @param what '': there is none. */
const leave = ({ notCompared }: RegisterFinding, what: string, why: string, isWaived = false) =>
  void (what !== '' && notCompared.push({ what, why, ...(isWaived && { isWaived }) }));

interface Lying {
  readonly out: string;
  readonly name: string;
  readonly bytes: Buffer | null;
  /** Folders of the reports. */
  readonly reports: readonly string[];
}

/** @returns true: every row of a report follows from the report in the folder. */
function compareRegister(
  { out, name, bytes, reports }: Lying,
  register: Register,
  found: RegisterFinding,
): boolean {
  const { jobs, software, shard } = register;
  const differ = (words: string) => void found.differences.push(`${name}: ${words}`);
  const before = found.notCompared.length;
  const places = new Set<string>();
  const seen = new Set<string>();
  const own = jobs.map((row): RegisterRow | null => {
    const folder = `${row.folder}\0${row.job}`;
    if (seen.has(folder)) differ(`it lists ${row.job} of ${row.folder} twice`);
    seen.add(folder);
    if (row.status !== 'reported') return row;
    const place = posix.dirname(row.links.results);
    places.add(place);
    const report = reports.includes(place) ? reportAt(out, place, row.folder) : null;
    if (report !== null && JSON.stringify(register.whatIf) !== JSON.stringify(setOf(report.results)))
      differ(`it says otherwise of the tolerance set of ${row.job} than its report does`);
    return report?.row ?? null;
  });
  // Parsed to get the order of the keys.
  const filled = registerSchema.shape.jobs.parse(own.map((row, i) => row ?? jobs[i]!));
  withStandings(out, { ...register, jobs: filled }).jobs.forEach((made, i) => {
    const others = otherKeys(jobs[i]!, made);
    const place = `${name}: ${jobs[i]!.job}`;
    if (own[i] === null) leave(found, place, 'its report cannot be read in this folder');
    else if (others.includes('key') || others.includes('issue'))
      leave(found, place, 'its report was issued, withdrawn or made again since');
    else if (others.length > 0)
      differ(`it says otherwise of ${jobs[i]!.job} than its report: ${others.join(', ')}`);
  });
  const isKept = (place: string) => place.startsWith(`${EARLIER}/`) || reports.includes(`${DRAFTS}/${place}`);
  if (shard === null)
    for (const place of reports.filter((one) => !places.has(one) && !isKept(one)))
      leave(found, `${name}: ${place}`, 'it does not list this report');
  const isCurrent = found.notCompared.length === before;
  const without = jobs.filter(({ status }) => status !== 'reported').length;
  if (without > 0)
    leave(found, `${name}: jobs without a report (${without})`, 'why they have none, no report says');
  if (registerJson(buildRegister(jobs, software, shard, register)) !== String(bytes))
    differ('its counts, or the order of its lines, are not those of its jobs');
  return isCurrent;
}

/** null: it cannot be read. */
function reportAt(out: string, place: string, folder: string) {
  const read = (name: string) => jsonOf(readQuietly(join(out, place, name)) ?? '');
  const results = resultsSchema.safeParse(read('results.json')).data;
  const manifest = manifestSchema.safeParse(read('manifest.json')).data;
  if (results === undefined || manifest === undefined) return null;
  return { results, row: registerRow(results, aboutReport(folder, manifest, place)) };
}

/** The tolerance set that was used instead of the job's own. */
function setOf({ whatIf, inputs, toleranceSet: { name, source } }: Results): Register['whatIf'] {
  if (whatIf === undefined) return undefined;
  return { name, source, sha256: inputs.find(({ path }) => path === whatIf.tolerances)?.sha256 ?? '' };
}

const isMarkOf = (mark: Buffer | null, results: Results | undefined): boolean =>
  results !== undefined &&
  `${JSON.stringify({ format: 'waysheet-what-if/1', ...setOf(results) }, null, 2)}\n` === String(mark);

async function comparePages(
  register: Register,
  lying: ReadonlyMap<string, Buffer | null>,
  open: (() => Promise<Printer>) | null,
  found: RegisterFinding,
): Promise<void> {
  const { out } = found;
  const pdf = lying.get('register.pdf') ?? null;
  const made = new Map<string, Uint8Array>([
    ['register.csv', Buffer.from(registerCsv(register))],
    ['register.html', await registerPage(out, register, pdf)],
  ]);
  for (const [name, bytes] of made)
    if (lying.get(name)?.equals(bytes) !== true)
      found.differences.push(`${name} is not what register.json makes, byte for byte`);
  if (!lying.has('register.pdf')) return;
  const now =
    open &&
    (await open()
      .then((printer) => printRegister(out, register, printer))
      .catch((error: Error) => error));
  const { state, words } = comparePrint(pdf ?? new Uint8Array(), now) ?? {};
  if (state === 'differs') found.differences.push(`register.pdf is not what register.json prints: ${words}`);
  else if (words !== undefined) leave(found, 'register.pdf', words, state === 'waived');
}
