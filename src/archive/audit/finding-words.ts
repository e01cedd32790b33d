/** Findings of an audit in words, for the terminal and for its report. */
import { visible } from '../../base/diagnostics/messages.js';
import { SOFTWARE } from '../../base/version.js';
import { mostThatDiffer } from './acceptance-sample.js';
import { differs, isProven, WHO, type NotCompared, type Proof, type StatementName } from './statements.js';
import type { LogFinding, Located } from './audit-log.js';

/** A report that could not be read has the reason instead of a finding. */
export type Audited = Located | { readonly report: string; readonly error: string };

/** The record of the audit. */
export interface AuditRecord {
  /** ISO 8601. */
  readonly day: string;
  /** Day of the states; null: the end of the log. */
  readonly on: string | null;
  /** Name of the auditor; null: not stated. */
  readonly by: string | null;
  /** Names of trusted keys and certificates; null: none were given. */
  readonly keys: readonly string[] | null;
  readonly head: string | null;
  readonly seed: number | null;
}

export type Grade = 'proven' | 'differs' | 'not compared' | 'not read';

export const gradeOf = (f: Audited): Grade =>
  'error' in f
    ? 'not read'
    : differs(f)
      ? 'differs'
      : isProven(f) && !f.isStateOpen
        ? 'proven'
        : 'not compared';

/** Each statement, and its proof. */
const statements: readonly (readonly [name: StatementName, title: string, proven: string])[] = [
  ['figures', 'The figures follow from the readings', 'made again from the readings, number by number'],
  [
    'pages',
    'The pages are those that these figures make',
    'every file is, byte for byte, what was made and printed again here',
  ],
  ['vouched', 'Who vouches for it', ''],
];

const proofs: Record<Proof, string> = {
  proven: 'proven',
  differs: 'DIFFERS',
  'not-compared': 'not compared',
};

const isOfWho = ({ what }: NotCompared): boolean => what === WHO;

/** The three statements, one line each, with their reasons. */
const statementLines = (f: Located): string[] =>
  statements.map(([name, title, proven]) => {
    const who = [...f.vouchers, ...f.notCompared.filter(isOfWho).map(({ why }) => why)];
    const why = name === 'vouched' ? who.join('; ') : f[name] === 'proven' ? proven : '';
    return `${title}: ${proofs[f[name]]}${why === '' ? '' : ` (${why})`}`;
  });

/** The statements, the differences and what was not compared, one line each. @param listed Greatest number of listed differences. */
export function findingLines(f: Located, listed: number): string[] {
  const differences = [...new Set(f.differences.map(({ what }) => `differs: ${what}`))];
  const more = differences.length - listed;
  return [
    ...statementLines(f),
    ...differences.slice(0, listed),
    ...(more > 0 ? [`… and ${more} more; --json lists all`] : []),
    ...f.notCompared.flatMap((one) => (isOfWho(one) ? [] : [`not compared: ${one.what}: ${one.why}`])),
  ].map(visible);
}

export const reportName = ({ issue, job, whatIf }: Located): string =>
  [
    issue === null ? 'draft' : `report ${issue.number}`,
    `of ${job ?? 'an unknown job'}`,
    ...(whatIf === null ? [] : [`(what if: judged by ${whatIf}, not by its own tolerances)`]),
  ].join(' ');

const counted = (count: number): string => (count === 1 ? '1 report' : `${count} reports`);

/** The findings about one report. */
export function findingText(f: Audited): string {
  if ('error' in f) return `${visible(f.report)}: ${visible(f.error)}`;
  return [
    visible(`${f.report}: ${reportName(f)}, made by ${f.madeBy}; state: ${f.stateWords}`),
    ...findingLines(f, 40).map((line) => `  ${line}`),
  ].join('\n');
}

export function logText({ path, log, troubles, notCompared, proven }: LogFinding): string {
  const lines = [
    ...(log.head === '' && log.troubles.length === 0
      ? []
      : [
          `log of issued reports: ${log.entries.length} lines, the last has the SHA-256 ${log.head}. ${proven}`,
        ]),
    ...troubles.map(({ report, what }) => `differs: ${report === null ? '' : `${report}: `}${what}`),
    ...notCompared.map(({ what, why }) => `not compared: ${what}: ${why}`),
  ];
  return [`${path}: an output folder`, ...lines.map((l) => `  ${l}`)].map(visible).join('\n');
}

/** "3 reports: 2 proven, 1 differs." */
export function countText(findings: readonly Audited[]): string {
  const grades: readonly Grade[] = ['proven', 'differs', 'not compared', 'not read'];
  const counts = grades
    .map((grade) => [grade, findings.filter((f) => gradeOf(f) === grade).length] as const)
    .filter(([grade, count]) => count > 0 || grade === 'proven');
  return `${counted(findings.length)}: ${counts.map(([grade, count]) => `${count} ${grade}`).join(', ')}.`;
}

/** What a sample states about the whole archive, and what it cannot state. */
export function sampleText(all: number, sample: number, seed: number, findings: readonly Audited[]): string {
  const proven = findings.filter((f) => gradeOf(f) === 'proven').length;
  const drawn = `A sample of ${sample} of ${all} reports, drawn with seed ${seed} (size by ISO 2859-1, general level II): ${countText(findings)}`;
  if (proven < sample)
    return `${drawn} Not all of them are proven: the archive is not accepted by this sample; audit all of it.`;
  if (sample === all) return `${drawn} It holds every report.`;
  return `${drawn} With 95 % confidence, at most ${mostThatDiffer(all, sample)} of the ${all} reports differ. Whether one of the others differs, the sample does not say.`;
}

/** Who audited, when, with what. */
export function recordText({ day, on, by, keys, head, seed }: AuditRecord): string {
  return [
    `Audited on ${day}${by === null ? '' : ` by ${by}`} with ${SOFTWARE.name} ${SOFTWARE.version}, method ${SOFTWARE.method}`,
    `states ${on === null ? 'as the log ends' : `on ${on}`}`,
    `trusted keys: ${keys === null ? 'none given' : keys.join(', ')}`,
    `noted head of the log: ${head ?? 'none given'}`,
    ...(seed === null ? [] : [`seed ${seed}`]),
  ]
    .join('; ')
    .concat('.');
}

/** The last sentence: what this audit did not prove, and the option that would prove it. */
export function unprovenText(
  findings: readonly Audited[],
  logs: readonly LogFinding[],
  { head, keys, seed, day, on }: AuditRecord,
  isPrinting: boolean,
): string {
  const read = findings.flatMap((f) => ('error' in f ? [] : [f]));
  const open = (name: StatementName) => read.filter((f) => f[name] === 'not-compared').length;
  const isUnsigned = read.some((f) => f.vouched === 'not-compared' && f.vouchers.length === 0);
  const states = read.filter(({ isStateOpen }) => isStateOpen).length;
  const left = logs.flatMap(({ notCompared }) => notCompared).filter(({ isWaived }) => isWaived !== true);
  const cut = head === null ? logs.filter(({ log }) => log.entries.length > 0) : [];
  const entries = logs.flatMap(({ log }) => log.entries);
  const late = on === null ? entries.filter((entry) => entry.on > day) : [];
  const byKey = keys !== null || isUnsigned ? 'only a signature can say it' : '--trust DIR';
  const parts: [count: number, what: string, how: string][] = [
    [open('figures'), 'the figures of', 'where inputs lack: --job DIR'],
    [
      open('pages'),
      'the pages of',
      isPrinting ? 'with the version and the browser that made them' : 'without --no-print',
    ],
    [
      open('vouched'),
      'who vouches for',
      keys === null && isUnsigned ? `${byKey}; --trust DIR verifies one` : byKey,
    ],
    [
      states,
      `whether ${counted(states)} ${states === 1 ? 'was' : 'were'} amended or withdrawn since`,
      '--log PATH',
    ],
    [left.length, 'what else lies in the output folder', 'listed above'],
    [cut.length, 'that no line was taken off the end of the log', '--head HASH'],
    [late.length, `what the log says of days after ${day}`, `--on ${day}`],
    [seed === null ? 0 : 1, 'the reports that were not drawn', 'without --sample'],
  ];
  const words = parts.flatMap(([count, what, how]) =>
    count === 0 ? [] : [`${/(?:of|for)$/.test(what) ? `${what} ${counted(count)}` : what} (${how})`],
  );
  return words.length === 0
    ? 'Nothing was left unproven that can be asked.'
    : `Not proven: ${words.join('; ')}.`;
}
