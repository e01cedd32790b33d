/** Table 1, every characteristic with a limit; phase by phase where there are more than two; and the rest, for information. */
import type { CharacteristicResult, Results } from '../../../results/results-schema.js';
import {
  plusMinus,
  positionText,
  resultText,
  unitFor,
  withUnit,
} from '../../../results/words/format-quantity.js';
import { axisText, nameText, phaseText, verdictText } from '../../words/names.js';
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
  const { say } = figures;
  const phases = phasesOf(results);
  const { name } = lastPhase(results);
  const before = phases.length > 1 ? capitalised(phaseText(phases[0]!.name, figures)) : null;
  const isGuarded = results.settings.rule === 'guarded';
  const heads = [
    figureHead(''),
    head(say('head.where')),
    figureHead(say('head.limit')),
    ...(before === null ? [] : [figureHead(before, '', { detail: figures.say('head.verdict-detail') })]),
    figureHead(capitalised(phaseText(name, figures))),
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
        rowHeader(rowName(made, figures), {
          css: 'what',
          detail: [
            rowWhere(made, results, figures),
            made.value === null || made.at.length === 0 ? '' : say('row.at', { at: texts.at.join(', ') }),
          ]
            .filter(Boolean)
            .join(' · '),
        }),
        figure(texts.limitSaid),
        ...(before === null
          ? []
          : [
              then === null
                ? figure(figures.say('not-read'))
                : figure(then.values[0]!, { detail: verdictText(earlier!.verdict, figures) }),
            ]),
        two(texts.values, 'strong'),
        two(texts.spreads),
        ...(isGuarded ? [figure(guardText(made, figures))] : []),
        figure(
          risk === undefined
            ? '–'
            : risk.of === 'wrong-acceptance'
              ? riskText(risk.atMost, figures)
              : say('risk.rejection', { risk: riskText(risk.atMost, figures) }),
        ),
        cell(verdictText(made.verdict, figures), { mark: made.verdict, css: 'judgement' }),
      ],
      made.verdict,
    );
  };
  return table(say('table1.caption', { phase: phaseText(name, figures) }), [heads], groupsOf(rows, rowOf), {
    css: 'summary',
    mayBreak: true,
    notes: [
      say('table1.note', { expanded: figures.expanded }),
      ...(rows.some(({ made }) => made.signed) ? [say('table1.figure1')] : []),
      ...nominalNote(results, figures),
      ...growingLimits(rows, figures),
      ...signNotes(
        rows.map(({ made }) => made),
        figures,
      ),
      ...(rows.some(({ made }) => made.value === null) ? [say('table1.undetermined')] : []),
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
      rowHeader(rowName(made, figures), { css: 'what', detail: rowWhere(made, results, figures) }),
      cell(unitFor(figures.units, made.unit).label, { css: 'unit' }),
      ...byKey.map((of) => {
        const found = of.get(characteristicKey(made));
        return found === undefined
          ? figure(figures.say('not-read'))
          : figure(rowTexts(found, figures).values[0]!, { detail: verdictText(found.verdict, figures) });
      }),
    ]),
  );
  const heads = [
    figureHead(''),
    head(figures.say('head.characteristic-plain'), { css: 'what' }),
    head(figures.say('head.unit')),
    ...phases.map(({ name }) =>
      figureHead(capitalised(phaseText(name, figures)), '', { detail: figures.say('head.verdict-detail') }),
    ),
  ];
  return table(figures.say('rounds.caption'), [heads], [{ title: '', rows: list }], {
    css: 'summary',
    mayBreak: true,
  });
}

/** Rails that are wanted in another shape than straight. */
function nominalNote({ survey }: Results, figures: Figures): string[] {
  const shaped = survey.rails.filter(({ nominal }) => nominal !== undefined);
  if (shaped.length === 0) return [];
  const rails = shaped.map(({ id, nominal }) =>
    figures.say('nominal.rail', {
      rail: id,
      planes: nominal!.map(({ plane }) => axisText(plane, figures)).join(', '),
    }),
  );
  return [figures.say('nominal', { rails: rails.join(', ') })];
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
  const parts = [...byLength].map(([length, list]) =>
    figures.say('growing.part', { rows: list.join(', '), count: list.length, length }),
  );
  return [figures.say('growing', { parts: parts.join('; ') })];
}

function signNotes(list: readonly CharacteristicResult[], { say }: Figures): string[] {
  const signed = new Set(list.filter((made) => made.signed).map((made) => made.what));
  const notes = [
    signed.has('level-along') && say('signs.level'),
    (signed.has('height-difference') || signed.has('cross-level')) && say('signs.height'),
    signed.has('span') && say('signs.span'),
    [...signed].some((what) => what.startsWith('joint-')) && say('signs.joint'),
    [...signed].some((what) => what.startsWith('rate-of-change')) && say('signs.rate'),
    signed.has('squareness') && say('signs.squareness'),
  ].filter((note) => note !== false);
  return notes.length === 0 ? [] : [say('signs', { notes: notes.join('; ') })];
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
    // Half a page wide: of one rail "A, minimum zone".
    const isOne =
      made.rails === undefined &&
      railWords(made, datum, figures) === figures.say('rails.one', { rail: made.rail });
    const rails = isOne ? made.rail : railWords(made, datum, figures);
    const about = [rails, conditionWords(made, figures)].filter(Boolean).join(', ');
    return row([
      rowHeader(nameText(made.what, figures), { detail: about }),
      figure(
        text === null
          ? figures.say('not-determined')
          : withUnit(made.signed ? plusMinus(text) : text.value, unit),
      ),
      figure(
        text?.interval && !made.signed
          ? figures.say('range', { from: text.interval[0], to: text.interval[1] })
          : '–',
      ),
    ]);
  });
  return table(
    figures.say('others.caption', { phase: phaseText(name, figures) }),
    [
      [
        head(figures.say('head.characteristic-plain')),
        figureHead(figures.say('head.value')),
        figureHead(figures.say('head.interval', { coverage: figures.coverage })),
      ],
    ],
    [{ title: '', rows }],
    { css: 'others', mayBreak: true, columns: true, notes: signNotes(others, figures) },
  );
}
