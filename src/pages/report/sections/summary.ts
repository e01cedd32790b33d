/** The two tables of characteristics: those with a tolerance, and the rest. */
import type { PhaseName } from '../../../survey/job/job-schema.js';
import type { CharacteristicResult, Results } from '../../../results/results-schema.js';
import {
  judgedText,
  resultText,
  plusMinus,
  positionText,
  probabilityText,
  unitFor,
  withUnit,
  type JudgedText,
  type ReportUnit,
} from '../../../results/words/format-quantity.js';
import { lastPhase, phasesOf, type Figures } from '../figures.js';
import { sentence, capitalised } from '../sentence.js';
import { fitsOnCover } from './cover.js';
import {
  cell,
  figure,
  figureHead,
  head,
  row,
  rowHeader,
  table,
  type Cell,
  type Group,
  type Row,
  type Table,
} from '../table.js';
import {
  characteristicNames,
  NOT_DETERMINED,
  UNDETERMINED,
  verdictMarks,
  verdictWords,
  phaseWords,
} from '../../../results/words/texts.js';
import {
  atWords,
  characteristicKey,
  conditionWords,
  datumId,
  limitWords,
  railWords,
} from './characteristic-names.js';
import { reasonsOf, settleLines, undeterminedLines } from './shared-reasons.js';

/** One characteristic in each phase, in the order of the phases; undefined where a phase has none. */
interface Line {
  readonly last: CharacteristicResult;
  readonly earlier: CharacteristicResult | undefined;
}

/** Lines of the last phase, then those that only an earlier phase has. */
function linesOf(results: Results): Line[] {
  const phases = phasesOf(results);
  const last = phases.at(-1)?.phase.characteristics ?? [];
  const earlier = phases.length > 1 ? phases[0]!.phase.characteristics : [];
  const byKey = new Map(earlier.map((made) => [characteristicKey(made), made]));
  const seen = new Set(last.map(characteristicKey));
  return [
    ...last.map((made) => ({ last: made, earlier: byKey.get(characteristicKey(made)) })),
    ...earlier
      .filter((made) => !seen.has(characteristicKey(made)))
      .map((made) => ({ last: absent(made), earlier: made })),
  ];
}

/** A characteristic that the last phase was not read for. */
const absent = (made: CharacteristicResult): CharacteristicResult => ({
  ...made,
  value: null,
  why: 'it was not read again',
  interval: null,
  u: null,
  probability: null,
  verdict: made.limit === null ? 'reported' : 'undecided',
  at: [],
  budget: {},
});

const textOf = (made: CharacteristicResult, unit: ReportUnit, figures: Figures): JudgedText | null =>
  made.value === null ? null : resultText({ ...made, value: made.value }, figures.k, unit);

/** Characteristics with a tolerance; null where there is none. */
export function toleranceTable(results: Results, figures: Figures): Table | null {
  const lines = linesOf(results).filter(
    ({ last, earlier }) => last.limit !== null || (earlier?.limit ?? null) !== null,
  );
  if (lines.length === 0) return null;
  const phases = phasesOf(results);
  const both = phases.length > 1;
  const headings = [
    head('Characteristic', { css: 'what' }),
    head('Unit'),
    figureHead('Limit'),
    ...(both ? [figureHead(phaseTitle(phases[0]!.name), '', { detail: 'verdict' })] : []),
    figureHead(phaseTitle(phases.at(-1)!.name), '', { detail: 'at stations' }),
    figureHead(`${figures.coverage} interval`),
    figureHead('Conformity', '', { detail: 'probability' }),
    head('Verdict', { css: 'judgement' }),
  ];
  const datum = datumId(results);
  const open = lines.filter(({ last }) => last.verdict === 'undecided' && last.value !== null);
  const told = results.verdict === 'undecided' && fitsOnCover(open.length);
  const rows = lines.map((line) => toleranceRow(line, datum, both, figures));
  return table('Every characteristic with a tolerance', [headings], [{ title: '', rows }], {
    css: 'summary hidden-caption',
    mayBreak: true,
    notes: [
      `± is the expanded uncertainty ${figures.expanded}. The ${figures.coverage} interval is the statement to rely on; it need not lie evenly about the value, because noise makes a range come out too large. At stations: those that make the value, the greatest first.`,
      toleranceSource(results),
      ...nominalNote(results),
      ...growingLimits(lines, figures),
      ...signNotes(lines),
      ...undeterminedNotes(lines, results, datum, figures),
    ],
    list: told
      ? []
      : settleLines(
          open.map(({ last }) => last),
          datum,
          figures,
        ),
  });
}

/** Of more than two phases every one, side by side, for what has a tolerance; null: there are not so many. */
export function roundsTable(results: Results, figures: Figures): Table | null {
  const phases = phasesOf(results);
  if (phases.length < 3) return null;
  const lines = linesOf(results).filter(({ last }) => last.limit !== null);
  if (lines.length === 0) return null;
  const byKey = phases.map(
    ({ phase }) => new Map(phase.characteristics.map((made) => [characteristicKey(made), made])),
  );
  const datum = datumId(results);
  const rows = lines.map(({ last }) => {
    const unit = unitFor(figures.units, last.unit);
    const detail = [railWords(last, datum), conditionWords(last, figures)].filter(Boolean).join(' · ');
    return row([
      rowHeader(characteristicNames[last.what], { css: 'what', detail }),
      cell(unit.label, { css: 'unit' }),
      ...byKey.map((made) => {
        const found = made.get(characteristicKey(last));
        if (found === undefined) return figure('not read');
        const text = textOf(found, unit, figures);
        return figure(text === null ? NOT_DETERMINED : plusMinus(text), {
          detail: verdictWords[found.verdict],
        });
      }),
    ]);
  });
  const heads = [
    head('Characteristic', { css: 'what' }),
    head('Unit'),
    ...phases.map(({ name }) => figureHead(phaseTitle(name), '', { detail: 'verdict' })),
  ];
  return table('Phase by phase', [heads], [{ title: '', rows }], { css: 'summary', mayBreak: true });
}

/** Rails that are wanted in another shape than straight. */
function nominalNote({ survey }: Results): string[] {
  const shaped = survey.rails.filter(({ nominal }) => nominal !== undefined);
  if (shaped.length === 0) return [];
  const parts = shaped.map(
    ({ id, nominal }) => `rail ${id} (${nominal!.map(({ plane }) => plane).join(', ')})`,
  );
  return [
    `Wanted in a shape that the job gives: ${parts.join(', ')}. Heights, offsets and deviations are from it.`,
  ];
}

const phaseTitle = (name: PhaseName): string => capitalised(phaseWords(name));

function toleranceRow({ last, earlier }: Line, datum: string, both: boolean, figures: Figures): Row {
  const unit = unitFor(figures.units, last.unit);
  const now = textOf(last, unit, figures);
  const before = earlier ? textOf(earlier, unit, figures) : null;
  const condition = conditionWords(last, figures);
  const cells: Cell[] = [
    rowHeader(characteristicNames[last.what], {
      css: 'what',
      detail: [railWords(last, datum), condition].filter(Boolean).join(' · '),
    }),
    cell(unit.label, { css: 'unit' }),
    limitCell(last, now ?? before, unit),
  ];
  if (both)
    cells.push(
      earlier
        ? figure(before ? plusMinus(before) : NOT_DETERMINED, {
            detail: verdictWords[earlier.verdict],
          })
        : figure('not read'),
    );
  cells.push(
    figure(now ? plusMinus(now) : NOT_DETERMINED, { css: 'strong', detail: atWords(last) }),
    figure(now?.interval ? `${now.interval[0]} to ${now.interval[1]}` : '–'),
    figure(last.probability === null ? '–' : probabilityText(last.probability)),
    cell(verdictWords[last.verdict], { mark: verdictMarks[last.verdict], css: 'judgement' }),
  );
  return row(cells, last.verdict);
}

function limitCell(made: CharacteristicResult, text: JudgedText | null, unit: ReportUnit): Cell {
  if (made.limit === null) return figure('–');
  const limit =
    text?.limit ??
    judgedText({ value: 0, expanded: 0, interval: null, limit: made.limit, signed: false }, unit).limit!;
  return figure(limitWords(made, limit, unit));
}

/** Limits that grow with length: the lengths for which they were taken. */
function growingLimits(lines: readonly Line[], figures: Figures): string[] {
  const { length } = figures.units;
  const byLength = new Map<string, Set<string>>();
  for (const { last } of lines) {
    if (last.limitLength === null || last.limit === null) continue;
    const taken = withUnit(positionText(last.limitLength, length), length);
    byLength.set(taken, (byLength.get(taken) ?? new Set()).add(characteristicNames[last.what].toLowerCase()));
  }
  if (byLength.size === 0) return [];
  const parts = [...byLength].map(([taken, names]) => `for ${taken}: ${[...names].join('; ')}`);
  return [`Limits that grow with length were taken ${parts.join('. ')}.`];
}

function toleranceSource(results: Results): string {
  const { name, source, file, grade, basedOn = [] } = results.toleranceSet;
  const lead =
    results.whatIf === undefined ? 'Limits as given in the job' : 'Limits of a set that is not the job’s own';
  const known = [
    name,
    grade && `grade ${grade}`,
    source && `source: ${source}`,
    file && `file ${file}`,
    basedOn.length > 0 && `based on ${basedOn.join(', ')}`,
  ]
    .filter(Boolean)
    .join('; ');
  return known === ''
    ? 'Limits as given in the job; their source is not recorded.'
    : `${lead}: ${sentence(known)}`;
}

function signNotes(lines: readonly Line[]): string[] {
  const signed = new Set(lines.filter(({ last }) => last.signed).map(({ last }) => last.what));
  const notes: string[] = [];
  if (signed.has('level-along')) notes.push('level: + rises with increasing along');
  if (signed.has('height-difference') || signed.has('cross-level'))
    notes.push('height difference and cross-level: + the rail is higher than the datum rail');
  if (signed.has('span')) notes.push('span: + wider than nominal');
  if ([...signed].some((what) => what.startsWith('joint-')))
    notes.push(
      'joints: + the part behind the joint is higher or to the left, rises more or turns more to the left',
    );
  if ([...signed].some((what) => what.startsWith('rate-of-change')))
    notes.push('rate of change: + rising, or turning to the left, with increasing along');
  if (signed.has('squareness')) notes.push('squareness: + the angle from along to across is larger than 90°');
  return notes.length === 0 ? [] : [`Signs: ${notes.join('; ')}.`];
}

/** Where it is said why a figure could not be determined; of what was not read again, here. */
function undeterminedNotes(
  lines: readonly Line[],
  results: Results,
  datum: string,
  figures: Figures,
): string[] {
  const open = lines.flatMap(({ last }) => (last.value === null ? [last] : []));
  const explained = reasonsOf(lastPhase(results).phase.characteristics);
  const rest = open.filter((last) => !explained.has(last.why));
  return [
    ...(open.length > rest.length
      ? [`Not determined: see “${UNDETERMINED}” among the checks, with the reading that would tell.`]
      : []),
    ...undeterminedLines(rest, datum, figures),
  ];
}

/** Characteristics without a tolerance, straightness by other reference lines among them; null where there is none. */
export function otherTable(results: Results, figures: Figures): Table | null {
  const lines = linesOf(results).filter(
    ({ last, earlier }) => last.limit === null && (earlier?.limit ?? null) === null,
  );
  if (lines.length === 0) return null;
  const phases = phasesOf(results);
  const both = phases.length > 1;
  const datum = datumId(results);
  const headings = [
    head('Characteristic', { css: 'what' }),
    head('Reference line or length'),
    head('Unit'),
    ...(both ? [figureHead(phaseTitle(phases[0]!.name))] : []),
    figureHead(phaseTitle(phases.at(-1)!.name)),
    figureHead(`${figures.coverage} interval`),
  ];
  const groups: Group[] = [];
  for (const rails of new Set(lines.map(({ last }) => railWords(last, datum))))
    groups.push({
      title: rails.charAt(0).toUpperCase() + rails.slice(1),
      rows: lines
        .filter(({ last }) => railWords(last, datum) === rails)
        .map((line) => otherRow(line, both, figures)),
    });
  return table('Characteristics without a tolerance, for information', [headings], groups, {
    css: 'others hidden-caption',
    mayBreak: true,
    notes: [...signNotes(lines), ...undeterminedNotes(lines, results, datum, figures)],
  });
}

function otherRow({ last, earlier }: Line, both: boolean, figures: Figures): Row {
  const unit = unitFor(figures.units, last.unit);
  const now = textOf(last, unit, figures);
  const before = earlier ? textOf(earlier, unit, figures) : null;
  const value = (text: JudgedText | null) => (text ? plusMinus(text) : NOT_DETERMINED);
  return row([
    rowHeader(characteristicNames[last.what], { css: 'what' }),
    cell(conditionWords(last, figures) || '–'),
    cell(unit.label, { css: 'unit' }),
    ...(both ? [figure(earlier ? value(before) : 'not read')] : []),
    figure(value(now), { css: 'strong' }),
    figure(now?.interval ? `${now.interval[0]} to ${now.interval[1]}` : '–'),
  ]);
}
