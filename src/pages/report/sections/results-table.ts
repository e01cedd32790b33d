/** Table 1: every characteristic with a limit, by phase if there are more than two; and the others, for information. */
import { ruleOf, rulesOf } from '../../../results/rules.js';
import { groupBy } from '../../../base/lists.js';
import type { CharacteristicResult, Results } from '../../../results/results-schema.js';
import { positionText, resultText, unitFor, withUnit } from '../../../results/words/format-quantity.js';
import { axisText, nameText, phaseText, verdictText } from '../../words/names.js';
import { lastPhase, phasesOf, type Figures } from '../figures.js';
import { sectionNumber } from '../section-list.js';
import { capitalised } from '../sentence.js';
import {
  cell,
  figure,
  figureHead,
  head,
  plain,
  rowHeader,
  table,
  tableIfAny,
  type Cell,
  type Column,
  type Group,
  type Table,
} from '../table.js';
import { placeText } from '../place-text.js';
import { characteristicKey, conditionWords, datumId, railWords } from './characteristic-names.js';
import { guardText, riskText, rowName, rowTexts, rowWhere, type JudgedRow } from './judged-rows.js';

const groupsOf = (rows: readonly JudgedRow[]): Group<JudgedRow>[] =>
  [...groupBy(rows, ({ group }) => group)].map(([title, items]) => ({ title, items }));

/** The class of a column is on its cells too: a phone places them by it. */
const named = (css: string, [heading, cellOf]: Column<JudgedRow>): Column<JudgedRow> => {
  const add = <T extends { readonly css: string }>(one: T): T => ({
    ...one,
    css: `${css} ${one.css}`.trim(),
  });
  return [add(heading), (row) => add(cellOf(row))];
};

const numberColumn = named('row-number', [figureHead(''), ({ n }) => figure(String(n))]);

/** A value, with the verdict below it. */
const judgedCell = (made: CharacteristicResult | null | undefined, figures: Figures): Cell =>
  made === null || made === undefined
    ? figure(figures.say('not-read'))
    : figure(rowTexts(made, figures).values[0]!, { detail: verdictText(made.verdict, figures) });

/** A figure for each of at most two ends, the second below the first. */
const endsCell = ([first, second = '']: readonly string[], css = ''): Cell =>
  figure(first!, { css, detail: second });

/** null: no limit applies. */
export function resultsTable(results: Results, figures: Figures, rows: readonly JudgedRow[]): Table | null {
  const { say } = figures;
  const phases = phasesOf(results);
  const phase = phaseText(lastPhase(results).name, figures);
  return tableIfAny<JudgedRow>(
    say('table1.caption', { phase }),
    [
      numberColumn,
      named('what', [
        head(say('head.where')),
        ({ made }) => {
          const at = made.value === null || made.at.length === 0 ? [] : rowTexts(made, figures).at;
          const parts = [
            rowWhere(made, results, figures),
            at.length === 0 ? '' : say('row.at', { at: at.join(', ') }),
          ];
          return rowHeader(rowName(made, figures), { detail: parts.filter(Boolean).join(' · ') });
        },
      ]),
      named('limit', [
        figureHead(say('head.limit')),
        ({ made }) => figure(rowTexts(made, figures).limitSaid),
      ]),
      phases.length > 1 &&
        named('before', [
          figureHead(capitalised(phaseText(phases[0]!.name, figures)), '', {
            detail: say('head.verdict-detail'),
          }),
          ({ before }) => judgedCell(before, figures),
        ]),
      named('value', [
        figureHead(capitalised(phase)),
        ({ made }) => endsCell(rowTexts(made, figures).values, 'strong'),
      ]),
      named('spread', [
        figureHead(say('head.interval', { coverage: figures.coverage })),
        ({ made }) => endsCell(rowTexts(made, figures).spreads),
      ]),
      rulesOf(results).has('guarded') &&
        named('guard', [
          figureHead(say('head.guard')),
          ({ made }) => figure(ruleOf(made, results.settings) === 'simple' ? '–' : guardText(made, figures)),
        ]),
      named('risk', [
        figureHead(say('head.risk')),
        ({ made: { risk } }) => {
          if (risk === undefined) return figure('–');
          const text = riskText(risk.atMost, figures);
          return figure(risk.of === 'wrong-acceptance' ? text : say('risk.rejection', { risk: text }));
        },
      ]),
      named('judgement', [
        head(say('head.verdict')),
        ({ made: { verdict } }) => cell(verdictText(verdict, figures), { mark: verdict }),
      ]),
    ],
    groupsOf(rows),
    {
      css: 'summary judged',
      rowCss: ({ made }) => made.verdict,
      mayBreak: true,
      notes: [
        say('table1.note', {
          expanded: figures.expanded,
          guarded: rulesOf(results).has('guarded') ? 'yes' : 'no',
        }),
        ...(rows.some(({ made }) => made.signed) ? [say('table1.figure1')] : []),
        ...nominalNote(results, figures),
        ...growingLimits(rows, figures),
        ...signNotes(
          rows.map(({ made }) => made),
          figures,
        ),
        ...(rows.some(({ made }) => made.value === null)
          ? [say('table1.undetermined', { section: sectionNumber('checks') })]
          : []),
      ],
    },
  );
}

/** All phases side by side; null: there are at most two. */
export function roundsTable(results: Results, figures: Figures, rows: readonly JudgedRow[]): Table | null {
  const { say } = figures;
  const phases = phasesOf(results);
  if (phases.length < 3) return null;
  const ofPhases = phases.map(({ name, phase }): Column<JudgedRow> => {
    const byKey = new Map(phase.characteristics.map((made) => [characteristicKey(made), made]));
    return [
      figureHead(capitalised(phaseText(name, figures)), '', { detail: say('head.verdict-detail') }),
      ({ made }) => judgedCell(byKey.get(characteristicKey(made)), figures),
    ];
  });
  return tableIfAny<JudgedRow>(
    say('rounds.caption'),
    [
      numberColumn,
      [
        head(say('head.characteristic-plain'), { css: 'what' }),
        ({ made }) =>
          rowHeader(rowName(made, figures), { css: 'what', detail: rowWhere(made, results, figures) }),
      ],
      [head(say('head.unit')), ({ made }) => cell(unitFor(figures.units, made.unit).label, { css: 'unit' })],
      ...ofPhases,
    ],
    plain(rows),
    { css: 'summary', mayBreak: true },
  );
}

/** Rails with a nominal shape that is not straight. */
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

/** Limits that depend on length: the lengths for which they were calculated. */
function growingLimits(rows: readonly JudgedRow[], figures: Figures): string[] {
  const { length } = figures.units;
  const byLength = groupBy(rows, ({ made: { limitLength } }) =>
    limitLength === null ? null : withUnit(positionText(limitLength, length), length),
  );
  if (byLength.size === 0) return [];
  const parts = [...byLength].map(([length, list]) =>
    figures.say('growing.part', { rows: list.map(({ n }) => n).join(', '), count: list.length, length }),
  );
  return [figures.say('growing', { parts: parts.join('; ') })];
}

function signNotes(list: readonly CharacteristicResult[], { say }: Figures): string[] {
  const signed = new Set(list.filter((made) => made.signed).map((made) => made.what));
  const notes = [
    signed.has('level-along') && say('signs.level'),
    signed.has('level-across') && say('signs.level-across'),
    signed.has('elevation') && say('signs.elevation'),
    (signed.has('height-difference') || signed.has('cross-level')) && say('signs.height'),
    signed.has('span') && say('signs.span'),
    [...signed].some((what) => what.startsWith('joint-')) && say('signs.joint'),
    [...signed].some((what) => what.startsWith('rate-of-change')) && say('signs.rate'),
    signed.has('squareness') && say('signs.squareness'),
  ].filter((note) => note !== false);
  return notes.length === 0 ? [] : [say('signs', { notes: notes.join('; ') })];
}

/** Characteristics of the last phase without a limit, including straightness about other lines. null: there are none. */
export function otherTable(results: Results, figures: Figures): Table | null {
  const { name, phase } = lastPhase(results);
  const others = phase.characteristics.filter(({ limit }) => limit === null);
  if (others.length === 0) return null;
  return plainTable(results, figures, others, {
    caption: figures.say('others.caption', { phase: phaseText(name, figures) }),
    css: 'others',
    inColumns: true,
  });
}

/** If there are no limits: for each characteristic the rail or pair with the largest figure. null: there are limits. */
export function largestTable(results: Results, figures: Figures): Table | null {
  const { name, phase } = lastPhase(results);
  if (phase.characteristics.some(({ limit }) => limit !== null)) return null;
  const largest = new Map<string, CharacteristicResult>();
  for (const made of phase.characteristics) {
    if (made.value === null || (made.reference ?? 'least-squares') !== 'least-squares') continue;
    const key = JSON.stringify([made.what, made.over]);
    const known = largest.get(key)?.value ?? null;
    if (known === null || Math.abs(made.value) > Math.abs(known)) largest.set(key, made);
  }
  if (largest.size === 0) return null;
  return plainTable(results, figures, [...largest.values()].slice(0, MOST_LARGEST), {
    caption: figures.say('largest.caption', {
      phase: phaseText(name, figures),
      section: sectionNumber('results'),
    }),
    css: 'largest',
    isPlaced: true,
  });
}

/** Number of its rows that fit on page 1. */
const MOST_LARGEST = 14;

/** Value, interval and deciding stations of each. */
function plainTable(
  results: Results,
  figures: Figures,
  list: readonly CharacteristicResult[],
  {
    caption,
    isPlaced = false,
    ...style
  }: { caption: string; css: string; inColumns?: boolean; isPlaced?: boolean },
): Table {
  const { say } = figures;
  const datum = datumId(results);
  const textOf = (made: CharacteristicResult) => {
    const unit = unitFor(figures.units, made.unit);
    return { unit, text: made.value === null ? null : resultText(made, figures.k, unit) };
  };
  return table(
    caption,
    [
      [
        head(say('head.characteristic-plain')),
        (made) => {
          const rails = railWords(made, datum, figures);
          // Half a page wide: "A, minimum zone" for one rail.
          const isOne = made.rails === undefined && rails === say('rails.one', { rail: made.rail });
          const about = [isOne && !isPlaced ? made.rail : rails, conditionWords(made, figures)];
          return rowHeader(nameText(made.what, figures), { detail: about.filter(Boolean).join(', ') });
        },
      ],
      [
        figureHead(say('head.value')),
        (made) => {
          const { text, unit } = textOf(made);
          if (text === null) return figure(say('not-determined'));
          return figure(withUnit(text.value, unit));
        },
      ],
      [
        figureHead(say('head.interval', { coverage: figures.coverage })),
        (made) => {
          const { text } = textOf(made);
          if (text === null) return figure('–');
          if (made.signed) return figure(`± ${text.expanded}`);
          const [from, to] = text.interval!;
          return figure(say('range', { from, to }));
        },
      ],
      isPlaced && [
        head(say('head.at')),
        (made) => cell(made.value === null ? '–' : placeText(made, figures) || say('row.whole-rail')),
      ],
    ],
    plain(list),
    { ...style, mayBreak: true, notes: signNotes(list, figures) },
  );
}
