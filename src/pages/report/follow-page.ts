/** A page that follows a survey while it is read: how far it is, what is wrong so far, and what the readings say by now. */
import type { Diagnostic } from '../../base/diagnostics/diagnostic.js';
import { grouped, kindOf, sizeOf } from '../../base/diagnostics/groups.js';
import { visible } from '../../base/diagnostics/messages.js';
import type { Job } from '../../survey/job/job.js';
import type { BlankRow } from '../../survey/readings/readings.js';
import type { Adjusting } from '../../results/adjusting.js';
import { isSaidByRows, type Leave } from '../../results/leave.js';
import { wordsOf } from '../words/languages.js';
import { phrase } from '../words/phrases.js';
import { english, type Words } from '../words/words.js';
import { nameText, phaseText, verdictText, whyText } from '../words/names.js';
import { adjustingView } from './adjusting-words.js';
import { leaveHead, leaveLines, repeatText } from './leave-words.js';
import type { Results } from '../../results/results-schema.js';
import { SOFTWARE } from '../../base/version.js';
import { crewFinding } from './crew-finding.js';
import { figuresOf, figureText, lastPhase } from './figures.js';
import { resultText, unitFor, withUnit } from '../../results/words/format-quantity.js';
import { conditionWords, datumId, limitWords, railWords } from './sections/characteristic-names.js';
import { sheetPage } from './sheet-page.js';
import { policyHash, templateText } from './templates.js';
import { capitalised } from './sentence.js';
import { verdictMarks } from '../../results/words/texts.js';
import type { ReportChart } from './sections/pictures.js';

/** Problems and pictures of a page that is read from a few steps away. */
const MOST_PROBLEMS = 12;
const MOST_CHARTS = 4;
/** Points of one set-up and pass that are named. */
const MOST_POINTS = 12;

/** The lists of a job whose entries have names. */
const NAMED = ['rails', 'monuments', 'instruments', 'setups', 'adjusters', 'readingsFiles'] as const;

export interface Followed {
  readonly job: string;
  /** When the last file was saved, as the clock of the place says it; '' where nothing was. */
  readonly saved: string;
  /** null: what is there so far is refused. */
  readonly results: Results | null;
  readonly charts: readonly ReportChart[];
  readonly diagnostics: readonly Diagnostic[];
  readonly leave: Leave;
  /** null: job.json cannot be used yet. */
  readonly style: Pick<Job, 'style' | 'decision' | 'datum' | 'language' | (typeof NAMED)[number]> | null;
  /** The rail that is adjusted now; null: none is. */
  readonly adjusting: Adjusting | null;
  /** Absent: those of the job's language. */
  readonly words?: Words;
}

export function followPage({
  job,
  saved,
  results,
  charts,
  diagnostics,
  leave,
  style,
  adjusting,
  words = style === null ? english : wordsOf(style.language),
}: Followed): string {
  const software = `${SOFTWARE.name} ${SOFTWARE.version}`;
  const { say } = words;
  // Planned rows without a reading are told as what is still to be read.
  const found = diagnostics.filter((d) => leave.blank.length === 0 || !isSaidByRows(kindOf(d)));
  const problems = grouped([...found].sort((a, b) => rank(a) - rank(b)));
  const errors = diagnostics.filter(({ severity }) => severity !== 'warning').length;
  const script = templateText('follow.js');
  const head = leaveHead(leave, words);
  const more = problems.length - MOST_PROBLEMS;
  const page = sheetPage(
    'follow',
    {
      title: say('follow.title', { job: visible(job), leave: head }),
      software,
      policy: '',
      script,
      lost: say('follow.lost'),
      may: leave.mayGo ? 'go' : 'stay',
      leave: head,
      saved: say(saved === '' ? 'follow.saved.none' : 'follow.saved', { job: visible(job), saved }),
      adjusting: adjusting === null || style === null ? null : adjustingView(adjusting, style, words),
      headline: results === null ? say('follow.unsolved', { count: errors }) : headlineOf(results, words),
      heads: {
        next: say('follow.head.next'),
        problems: say('follow.head.problems'),
        toRead: say('follow.head.to-read'),
        lines: say('follow.head.lines'),
        rows: say('follow.head.rows'),
      },
      next: nextOf(leave, words),
      toRead: toReadOf(leave, words),
      lines: leaveLines({ ...leave, problems: [], blank: [], tolerances: [] }, style, words),
      rows: results === null ? [] : rowsOf(results, words),
      problems: problems
        .slice(0, MOST_PROBLEMS)
        .map((group) => ({ d: group.first, others: sizeOf(group) - 1 }))
        .map(({ d, others }) => ({
          severity: say(
            d.severity === 'warning'
              ? 'follow.note'
              : d.severity === 'confirm'
                ? 'follow.confirm'
                : 'follow.error',
          ),
          place: d.at === undefined ? '' : visible(placeText(d.at, style)),
          ...crewText(d, others, words),
        })),
      more: more > 0 ? say('follow.more', { count: more }) : '',
      charts: charts.slice(0, MOST_CHARTS).map(({ alt, svg, phone }) => ({
        alt,
        source: dataOf(svg),
        phone: phone === undefined ? '' : dataOf(phone),
      })),
      foot: say('follow.foot'),
    },
    { paper: results?.style.paper ?? 'A4', printPt: 9, title: job, software, note: '', words },
  );
  const css = /<style>([^]*?)<\/style>/.exec(page)![1]!;
  const policy = `default-src 'none'; connect-src 'self'; img-src data:; font-src data:; base-uri 'none'; form-action 'none'; style-src '${policyHash(css)}'; script-src '${policyHash(script)}'`;
  return page.replace(
    '<meta http-equiv="Content-Security-Policy" content="">',
    () => `<meta http-equiv="Content-Security-Policy" content="${policy}">`,
  );
}

function crewText(d: Diagnostic, others: number, words: Words) {
  const { text, office } = crewFinding(d, words);
  const more = others > 0 ? ` ${words.say('follow.more', { count: others })}` : '';
  return { text: visible(text) + more, office: visible(office) };
}

/** A cell by its column; an entry of job.json by its name, not by its key, for a crew reads it. */
function placeText({ file, row, column }: NonNullable<Diagnostic['at']>, job: Followed['style']): string {
  const [, list, index] = /^(\w+)\[(\d+)\]/.exec(column ?? '') ?? [];
  const named = NAMED.find((key) => key === (list === 'readings' ? 'readingsFiles' : list));
  const entry = named === undefined ? undefined : job?.[named][Number(index)];
  if (entry === undefined) return [file, row, column].filter(Boolean).join(': ');
  return `${'file' in entry ? entry.file : entry.id} (${[file, row].filter(Boolean).join(': ')})`;
}

const dataOf = (svg: string): string => `data:image/svg+xml;base64,${Buffer.from(svg).toString('base64')}`;

/** The next planned row, or the reading that helps most; '': none. */
function nextOf(leave: Leave, words: Words): string {
  const { say } = words;
  const [row] = leave.blank;
  if (leave.repeat?.isCertain === true || row === undefined)
    return leave.repeat === null ? '' : repeatText(leave.repeat, words);
  const { point, setup, pass, what, source } = row;
  if (point === undefined || setup === undefined || pass === undefined) return visible(phrase(what, words));
  return say('follow.next.row', {
    point: visible(point),
    setup: visible(setup),
    pass: visible(pass),
    file: visible(source.file),
    row: source.row,
  });
}

/** Planned rows without a reading, set-up by set-up and pass by pass, in their order. */
function toReadOf({ blank }: Leave, words: Words): { label: string; text: string }[] {
  const { say } = words;
  const groups = new Map<string, BlankRow[]>();
  for (const row of blank) {
    const label =
      row.setup === undefined
        ? say('follow.to-read.file', { file: visible(row.source.file) })
        : say('follow.to-read.setup', { setup: visible(row.setup), pass: visible(row.pass ?? '1') });
    groups.set(label, [...(groups.get(label) ?? []), row]);
  }
  return [...groups].map(([label, rows]) => {
    const points = rows.flatMap(({ point }) => (point === undefined ? [] : [visible(point)]));
    const named = points.slice(0, MOST_POINTS);
    const more =
      points.length > named.length ? [say('follow.more', { count: points.length - named.length })] : [];
    return {
      label,
      text:
        points.length < rows.length
          ? say('follow.to-read.other', {
              count: rows.length,
              rows: words.numbers(rows.map(({ source }) => source.row)),
            })
          : say('follow.to-read', { count: rows.length, points: [...named, ...more].join(', ') }),
    };
  });
}

const rank = ({ severity }: Diagnostic): number => ({ error: 0, confirm: 1, warning: 2 })[severity];

function headlineOf(results: Results, words: Words): string {
  const { name, phase } = lastPhase(results);
  return words.say('follow.so-far', {
    phase: capitalised(phaseText(name, words)),
    mark: verdictMarks[phase.verdict],
    verdict: verdictText(phase.verdict, words),
  });
}

/** What is open comes first. */
const URGENCY = { 'does-not-conform': 0, undecided: 1, conforms: 2, reported: 3 } as const;

function rowsOf(results: Results, words: Words) {
  const figures = figuresOf(results, words);
  const datum = datumId(results);
  return lastPhase(results)
    .phase.characteristics.filter(({ limit }) => limit !== null)
    .sort((a, b) => URGENCY[a.verdict] - URGENCY[b.verdict])
    .map((made) => {
      const unit = unitFor(figures.units, made.unit);
      const text = resultText({ ...made, value: made.value ?? 0 }, figures.k, unit);
      return {
        what: nameText(made.what, words),
        of: [railWords(made, datum, figures), conditionWords(made, figures)].filter(Boolean).join(', '),
        value:
          made.value === null ? words.say('not-determined') : figureText(made.signed, text, unit, figures),
        limit: words.say('follow.limit', {
          limit: withUnit(limitWords(made, text.limit!, unit, figures), unit),
        }),
        verdict: `${verdictMarks[made.verdict]} ${verdictText(made.verdict, words)}`,
        why: made.value === null ? visible(whyText(made, words)) : '',
      };
    });
}
