/** Table 1, every characteristic with a limit; phase by phase where there are more than two; and the rest, for information. */
import type { CharacteristicResult, Results } from '../../../results/results-schema.js';
import {
  plusMinus,
  positionText,
  resultText,
  unitFor,
  withUnit,
} from '../../../results/words/format-quantity.js';
import {
  characteristicNames,
  NOT_DETERMINED,
  phaseWords,
  UNDETERMINED,
  verdictWords,
} from '../../../results/words/texts.js';
import { say } from '../../words/say.js';
import { lastPhase, phasesOf, type Figures } from '../figures.js';
import { capitalised } from '../sentence.js';
import { cell, figure, figureHead, head, row, rowHeader, table, type Group, type Table } from '../table.js';
import { characteristicKey, conditionWords, datumId, railWords } from './characteristic-names.js';
import { guardText, riskText, rowName, rowTexts, rowWhere, type JudgedRow } from './judged-rows.js';

const groupsOf = (rows: readonly JudgedRow[], rowOf: (one: JudgedRow) => Group['rows'][number]): Group[] =>
  [...new Set(rows.map(({ group }) => group))].map((title) => ({
    title,
    rows: rows.filter(({ group }) => group === title).map(rowOf),
  }));

/** null: no limit applies. */
export function resultsTable(results: Results, figures: Figures, rows: readonly JudgedRow[]): Table | null {
  if (rows.length === 0) return null;
  const phases = phasesOf(results);
  const { name } = lastPhase(results);
  const before = phases.length > 1 ? capitalised(phaseWords(phases[0]!.name)) : null;
  const isGuarded = results.settings.rule === 'guarded';
  const heads = [
    figureHead(''),
    head(say('head.where')),
    figureHead(say('head.limit')),
    ...(before === null ? [] : [figureHead(before, '', { detail: 'verdict' })]),
    figureHead(capitalised(phaseWords(name))),
    figureHead(say('head.interval', { coverage: figures.coverage })),
    ...(isGuarded ? [figureHead(say('head.guard'))] : []),
    figureHead(say('head.risk')),
    head(say('head.verdict'), { css: 'judgement' }),
  ];
  const rowOf = ({ n, made, before: earlier }: JudgedRow) => {
    const texts = rowTexts(made, figures);
    const then = earlier === null ? null : rowTexts(earlier, figures);
    const { risk } = made;
    const two = (list: readonly string[], css = '') => figure(list[0]!, { css, detail: list[1] ?? '' });
    return row(
      [
        figure(String(n)),
        rowHeader(rowName(made), {
          css: 'what',
          detail: [rowWhere(made, results, figures), made.value === null ? '' : `at ${texts.at.join(', ')}`]
            .filter(Boolean)
            .join(' · '),
        }),
        figure(texts.limitSaid),
        ...(before === null
          ? []
          : [
              then === null
                ? figure('not read')
                : figure(then.values[0]!, { detail: verdictWords[earlier!.verdict] }),
            ]),
        two(texts.values, 'strong'),
        two(texts.spreads),
        ...(isGuarded ? [figure(guardText(made, figures))] : []),
        figure(
          risk === undefined
            ? '–'
            : risk.of === 'wrong-acceptance'
              ? riskText(risk.atMost)
              : say('risk.rejection', { risk: riskText(risk.atMost) }),
        ),
        cell(verdictWords[made.verdict], { mark: made.verdict, css: 'judgement' }),
      ],
      made.verdict,
    );
  };
  return table(say('table1.caption', { phase: phaseWords(name) }), [heads], groupsOf(rows, rowOf), {
    css: 'summary',
    mayBreak: true,
    notes: [
      say('table1.note', { expanded: figures.expanded }),
      ...(rows.some(({ made }) => made.signed) ? [say('table1.figure1')] : []),
      ...nominalNote(results),
      ...growingLimits(rows, figures),
      ...signNotes(rows.map(({ made }) => made)),
      ...(rows.some(({ made }) => made.value === null)
        ? [`Not determined: see “${UNDETERMINED}” in annex C, with the reading that would tell.`]
        : []),
    ],
  });
}

/** Of more than two phases every one, side by side; null: there are not so many. */
export function roundsTable(results: Results, figures: Figures, rows: readonly JudgedRow[]): Table | null {
  const phases = phasesOf(results);
  if (phases.length < 3 || rows.length === 0) return null;
  const byKey = phases.map(
    ({ phase }) => new Map(phase.characteristics.map((made) => [characteristicKey(made), made])),
  );
  const list = rows.map(({ n, made }) =>
    row([
      figure(String(n)),
      rowHeader(rowName(made), { css: 'what', detail: rowWhere(made, results, figures) }),
      cell(unitFor(figures.units, made.unit).label, { css: 'unit' }),
      ...byKey.map((of) => {
        const found = of.get(characteristicKey(made));
        return found === undefined
          ? figure('not read')
          : figure(rowTexts(found, figures).values[0]!, { detail: verdictWords[found.verdict] });
      }),
    ]),
  );
  const heads = [
    figureHead(''),
    head('Characteristic', { css: 'what' }),
    head('Unit'),
    ...phases.map(({ name }) => figureHead(capitalised(phaseWords(name)), '', { detail: 'verdict' })),
  ];
  return table('Phase by phase', [heads], [{ title: '', rows: list }], { css: 'summary', mayBreak: true });
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

/** Limits that grow with length: the lengths for which they were taken. */
function growingLimits(rows: readonly JudgedRow[], figures: Figures): string[] {
  const { length } = figures.units;
  const byLength = new Map<string, number[]>();
  for (const { n, made } of rows) {
    if (made.limitLength === null) continue;
    const taken = withUnit(positionText(made.limitLength, length), length);
    byLength.set(taken, [...(byLength.get(taken) ?? []), n]);
  }
  if (byLength.size === 0) return [];
  const parts = [...byLength].map(([taken, list]) => `row ${list.join(', ')} for ${taken}`);
  return [`Limits that grow with length were taken: ${parts.join('; ')}.`];
}

function signNotes(list: readonly CharacteristicResult[]): string[] {
  const signed = new Set(list.filter((made) => made.signed).map((made) => made.what));
  const notes = [
    signed.has('level-along') && 'level: + rises with increasing along',
    (signed.has('height-difference') || signed.has('cross-level')) &&
      'height difference and cross-level: + the rail is higher than the datum rail',
    signed.has('span') && 'span: + wider than nominal',
    [...signed].some((what) => what.startsWith('joint-')) &&
      'joints: + the part after the joint is higher or to the left, rises more or turns more to the left',
    [...signed].some((what) => what.startsWith('rate-of-change')) &&
      'rate of change: + rising, or turning to the left, with increasing along',
    signed.has('squareness') && 'squareness: + the angle from along to across is larger than 90°',
  ].filter((note) => note !== false);
  return notes.length === 0 ? [] : [`Signs: ${notes.join('; ')}.`];
}

/** Characteristics without a limit, of the last phase; straightness about other lines among them. null: there is none. */
export function otherTable(results: Results, figures: Figures): Table | null {
  const { name, phase } = lastPhase(results);
  const others = phase.characteristics.filter(({ limit }) => limit === null);
  if (others.length === 0) return null;
  const datum = datumId(results);
  const rows = others.map((made) => {
    const unit = unitFor(figures.units, made.unit);
    const text = made.value === null ? null : resultText(made, figures.k, unit);
    // Half a page wide: "A, minimum zone".
    const rails = railWords(made, datum).replace(/\brails? /g, '');
    return row([
      rowHeader(characteristicNames[made.what], {
        detail: [rails, conditionWords(made, figures)].filter(Boolean).join(', '),
      }),
      figure(text === null ? NOT_DETERMINED : withUnit(made.signed ? plusMinus(text) : text.value, unit)),
      figure(text?.interval && !made.signed ? `${text.interval[0]} to ${text.interval[1]}` : '–'),
    ]);
  });
  return table(
    `Results without a limit, ${phaseWords(name)}: for information`,
    [
      [
        head('Characteristic'),
        figureHead('Value'),
        figureHead(say('head.interval', { coverage: figures.coverage })),
      ],
    ],
    [{ title: '', rows }],
    { css: 'others', mayBreak: true, columns: true, notes: signNotes(others) },
  );
}
