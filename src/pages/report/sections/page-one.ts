/**
 * Page 1: the machine, the verdict, the characteristics with the worst first, what to do next, and the basis of the verdict.
 * It is never longer than a page: texts are cut here, and as many rows are printed as fit (shapes.ts); the others are in Table 1.
 */
import { rulesOf } from '../../../results/rules.js';
import { leastBy } from '../../../base/lists.js';
import type { PhaseResults, Results, UnstatedEffect, Verdict } from '../../../results/results-schema.js';
import { byUrgency, reachShare } from '../../../results/urgency.js';
import { withUnit, percentText } from '../../../results/words/format-quantity.js';
import { phaseText, verdictText } from '../../words/names.js';
import { phrase } from '../../words/phrases.js';
import type { Words } from '../../words/words.js';
import { documentKind, isDraft, reportNumber } from '../document-title.js';
import { lastPhase, phasesOf, twoDigits, type Figures } from '../figures.js';
import { sectionNumber } from '../section-list.js';
import { capitalised, sentence } from '../sentence.js';
import { fact, type Fact } from '../table.js';
import { barSvg, isBeyond, scaleOf, scaleSvg } from './bars.js';
import { inSentence, datumId } from './characteristic-names.js';
import { cut, cutList, FIELD, NAME, RAILS, STATE } from './cut.js';
import { decidedBy } from './moves.js';
import { differingConditions, stateOf } from './method.js';
import { ownRisk, ruleSentence } from './rule-sentence.js';
import { amendedLines } from './judged-change.js';
import { barOf, rowName, rowTexts, rowWhere, type JudgedRow } from './judged-rows.js';
import { readingText, sizeText } from './effects.js';

/** Greatest number of rows of Figure 1: what fits as a rule, so that one print is enough. */
const MOST_ROWS = { A4: 16, Letter: 13 };
/** Up to this number of rows, rows and letters of page 1 are larger. */
const FEW_ROWS = 5;
/** Characters of a row's place, in two lines. */
const WHERE = 72;
/** Greatest numbers of entries of lists; two languages need twice the room. */
const roomFor = ({ both }: Words) =>
  both === undefined
    ? { changes: 4, effects: 3, known: 3, steps: 4 }
    : { changes: 1, effects: 2, known: 1, steps: 3 };

const [CHECKS, SURVEY] = [sectionNumber('checks'), sectionNumber('survey')];

export interface Point {
  readonly lead: string;
  readonly text: string;
}

export function pageOne(results: Results, figures: Figures, rows: readonly JudgedRow[]) {
  const { subject } = results;
  const { machine } = subject;
  const { say } = figures;
  const kind = documentKind(results, figures);
  const report = reportNumber(results);
  const subtitle = say('title.report', { kind, report });
  return {
    kind,
    report,
    serial: machine.serial ?? '',
    isDraft: isDraft(results),
    isFew: rows.length > 0 && rows.length <= FEW_ROWS,
    title: cut(titleOf(results, figures), NAME),
    subtitle: subject.title === null ? subtitle : `${subtitle} · ${cut(subject.title, 100)}`,
    validity: validityOf(results, figures),
    issuer: cut(subject.issuer ?? '', NAME),
    amends: [...withoutLines(results, figures), ...amendsLines(results, figures)],
    whatIf: whatIfSentence(results, figures),
    identity: identity(results, figures),
    verdict: verdictOf(results, figures, rows),
    bars: rows.length === 0 ? null : bars(results, figures, rows, MOST_ROWS[results.style.paper]),
    next: { title: say('next.title'), steps: nextSteps(results, figures, rows) },
    rests: {
      title: say('rests.title'),
      effects: effectTable(lastPhase(results).phase, figures, rows),
      points: restPoints(results, figures, rows),
    },
  };
}

function titleOf({ subject: { machine, title }, job }: Results, { say }: Words): string {
  const { name, serial } = machine;
  if (name === null) return title ?? say('title.unknown', { job });
  return serial === null ? name : say('title.machine', { name, serial });
}

function validityOf({ whatIf, issue }: Results, { say, day }: Words): string {
  if (whatIf !== undefined) return say('validity.what-if');
  return issue === undefined
    ? say('validity.draft')
    : say('validity.issued', { on: day(issue.on), by: issue.by });
}

/** Items without which the report was issued. @see ISO/IEC 17025:2017, 7.8.2.1 and 6.5. */
function withoutLines({ issue, survey }: Results, words: Words): string[] {
  const { say } = words;
  const without = issue?.without ?? [];
  const instruments = survey.instruments
    .filter(({ certificate, calibrationDue }) => !certificate || !calibrationDue)
    .map(({ id }) => id);
  return [
    ...(without.includes('approver') ? [say('issued.without-approver')] : []),
    ...(without.includes('traceability')
      ? [say('issued.without-traceability', { instruments: cutList(instruments, 60, words) })]
      : []),
  ];
}

function amendsLines(results: Results, words: Words): string[] {
  const { say } = words;
  const amends = results.issue?.amends;
  if (amends === undefined) return [];
  const { number, because } = amends;
  const changes = amendedLines(results, words);
  const most = roomFor(words).changes;
  return [
    say('amends', { number, because: cut(because, 200) }),
    ...(changes.length === 0
      ? [say('amends.nothing')]
      : changes.slice(0, most).map((change) => cut(change, 220))),
    ...(changes.length > most ? [say('amends.more', { count: changes.length - most })] : []),
  ];
}

function whatIfSentence({ whatIf, toleranceSet }: Results, { say }: Words): string | null {
  if (whatIf === undefined) return null;
  return say('what-if', {
    set: toleranceSet.name ?? 'none',
    own: whatIf.inPlaceOf ?? 'none',
  });
}

/** Two lines of fields; the complete text is in the section on the method. */
function identity(results: Results, figures: Figures): Fact[] {
  const { subject, survey } = results;
  const { say, day } = figures;
  const notRecorded = say('not-recorded');
  const { from, to } = subject.readingsTaken;
  const one = from === null || to === null || from === to ? (from ?? to ?? subject.surveyed.on) : null;
  const days =
    one !== null
      ? day(one)
      : from === null || to === null
        ? null
        : say('range.days', { from: day(from), to: day(to) });
  const { by } = subject.surveyed;
  const rails = survey.rails.map(({ id, name, datum }) => {
    const rail = name ? `${id} ${name}` : id;
    return datum ? say('rail.datum', { rail }) : rail;
  });
  const short = (label: string, text: string | null) =>
    fact(label, text === null ? null : cut(text, FIELD), notRecorded);
  return [
    short(say('fact.customer'), subject.customer),
    short(say('fact.place'), subject.site),
    short(say('fact.issuer'), subject.issuer),
    short(say('fact.read'), days === null ? by : by === null ? days : say('read.by', { days, by })),
    fact(say('fact.rails'), cutList(rails, RAILS, figures), notRecorded),
    fact(say('fact.limits'), cut(limitsOf(results, figures), 80), notRecorded),
    fact(say('fact.state'), cut(stateOf(results, figures) ?? notRecorded, STATE), notRecorded),
  ];
}

/** The specification with its edition. @see ISO/IEC 17025:2017, 7.8.6.2 */
export function limitsOf(results: Results, { say, parts }: Words): string {
  const { name, source, file, grade, basedOn = [] } = results.toleranceSet;
  if (!phasesOf(results).some(({ phase }) => phase.characteristics.some(({ limit }) => limit !== null)))
    return say('limits.none');
  const known = [
    name,
    grade && say('limits.grade', { grade }),
    source,
    results.subject.revision && say('limits.revision', { revision: results.subject.revision }),
    name === null && source === null ? file : null,
    basedOn.length > 0 && say('limits.based-on', { sets: basedOn.join(', ') }),
  ].filter((part) => typeof part === 'string' && part !== '') as string[];
  return known.length === 0 ? say('limits.given') : parts(known);
}

function verdictOf(results: Results, figures: Figures, rows: readonly JudgedRow[]) {
  const { verdict, survey } = results;
  const { say } = figures;
  const { name } = lastPhase(results);
  const phase = phaseText(name, figures);
  const count = (wanted: Verdict) => rows.filter(({ made }) => made.verdict === wanted).length;
  const [outside, open, inside] = [count('does-not-conform'), count('undecided'), count('conforms')];
  const missing = rows.filter(({ made }) => made.value === null).length;
  const all = rows.length;
  const rules = rulesOf(results);
  const isSimple = !rules.has('guarded');
  const found =
    verdict === 'reported'
      ? say('found.no-limit')
      : verdict === 'conforms'
        ? say(
            rules.size > 1
              ? 'found.inside.each'
              : isSimple
                ? 'found.inside.simple'
                : ownRisk(results)
                  ? 'found.inside.risk'
                  : 'found.inside.guarded',
            { all, coverage: figures.coverage },
          )
        : say(isSimple ? 'found.counts.simple' : 'found.counts.guarded', {
            outside,
            all,
            open: open - missing,
            inside,
          });
  return {
    css: verdict,
    headline: say(`verdict.${verdict}`, { rails: survey.rails.length, phase, open, all }),
    sentences: [
      [
        found.replace(/ +/g, ' ').trim(),
        missing === 0 ? '' : say('found.missing', { count: missing }),
        beforeSentence(results, figures, rows),
      ]
        .filter(Boolean)
        .join(' '),
      ...farthest(results, figures, rows),
    ],
    rule: all === 0 ? '' : say('rule.lead', { rule: ruleSentence(results, figures) }),
  };
}

/** The verdict of the first phase. */
function beforeSentence(results: Results, words: Words, rows: readonly JudgedRow[]): string {
  const { say } = words;
  const phases = phasesOf(results);
  if (phases.length < 2) return '';
  const phase = capitalised(phaseText(phases[0]!.name, words));
  const before = rows.flatMap(({ before: made }) => (made === null ? [] : [made]));
  if (before.length === 0) return '';
  const count = (wanted: Verdict) => before.filter(({ verdict }) => verdict === wanted).length;
  const [outside, open] = [count('does-not-conform'), count('undecided')];
  return outside + open === 0
    ? say('before.conformed', { phase })
    : say('before.counts', { phase, outside, open });
}

function farthest(results: Results, figures: Figures, rows: readonly JudgedRow[]): string[] {
  const first = [...rows].sort((a, b) => byUrgency(a.made, b.made)).find(({ made }) => made.value !== null);
  if (first === undefined) return [];
  const { made, n } = first;
  const { said, limitSaid } = rowTexts(made, figures);
  const key =
    made.verdict === 'does-not-conform' ? 'outside' : made.verdict === 'undecided' ? 'open' : 'inside';
  return [
    figures.say(`farthest.${key}`, {
      name: figures.lower(inSentence({ ...made, zone: undefined }, datumId(results), figures)),
      figure: said,
      limit: limitSaid,
      row: n,
    }),
  ];
}

function bars(results: Results, figures: Figures, rows: readonly JudgedRow[], most: number) {
  const { say } = figures;
  const phases = phasesOf(results);
  const { name } = lastPhase(results);
  const isFound = phases.length === 1 && name === 'as-found';
  const sorted = [...rows].sort((a, b) => byUrgency(a.made, b.made) || a.n - b.n);
  const wheres = sorted.map(({ made }) => cut(rowWhere(made, results, figures), WHERE));
  const shown = sorted.length <= most ? sorted : sorted.slice(0, most - 1);
  const drawn = shown.map((row) => barOf(row, figures.k, isFound));
  const scale = scaleOf(drawn.flatMap((bar) => (bar === null ? [] : [bar])));
  const percent = (share: number) => percentText(figures.number(100 * Math.max(0, share), 0));
  return {
    scale: scaleSvg(scale),
    rows: shown.map(({ n, made }, k) => {
      const texts = rowTexts(made, figures);
      const bar = drawn[k]!;
      const lane = bar?.lanes[0];
      return {
        n: String(n),
        place: k + 1,
        name: rowName(made, figures),
        where: wheres[k]!,
        /** Inline SVG, made by bars.ts. */
        bar: bar === null ? '' : barSvg(bar, scale),
        /** The alternative text. */
        barText:
          lane === undefined ? '–' : say('bars.alt', { from: percent(lane.from), to: percent(lane.to) }),
        values: texts.values,
        // What has no value is said across both columns.
        spreads: lane === undefined ? [] : texts.spreads,
        at: texts.at.map((at) => cut(at, texts.at.length > 1 ? 14 : 24)),
        limits: texts.limits,
        unit: texts.unit,
        verdict: made.verdict,
        word: verdictText(made.verdict, figures),
      };
    }),
    /** For each number of rows that the page may have room for (shapes.ts), what is said of the others. */
    rests: shown
      .map((_, k) => ({ rows: k + 1, text: restSentence(sorted.slice(k + 1), figures, percent) }))
      .filter(({ text }) => text !== ''),
    caption: say('bars.caption'),
    legend: {
      judged: say('bars.judged', { phase: phaseText(name, figures), coverage: figures.coverage }),
      judgedCss: isFound ? 'found' : 'left',
      before: drawn.some((bar) => bar?.before)
        ? say('bars.before', {
            phase: phaseText(phases[0]!.name, figures),
            far: drawn.some((bar) => bar !== null && isBeyond(bar, scale)) ? 'yes' : 'no',
          })
        : '',
      signs: drawn.some((bar) => (bar?.lanes.length ?? 0) > 1) ? say('bars.signs') : '',
      limit: say('bars.limit'),
    },
    head: {
      characteristic: say('head.characteristic'),
      value: say('head.value'),
      interval: say('head.interval', { coverage: figures.coverage }),
      at: say('head.at'),
      limit: say('head.limit'),
      verdict: say('head.verdict'),
    },
  };
}

/** '' for none. */
function restSentence(rest: readonly JudgedRow[], words: Words, percent: (share: number) => string): string {
  if (rest.length === 0) return '';
  const counts = (['does-not-conform', 'undecided', 'conforms'] as const).flatMap((verdict) => {
    const n = rest.filter(({ made }) => made.verdict === verdict).length;
    return n === 0 ? [] : [words.say('bars.rest.count', { count: n, verdict })];
  });
  const share = reachShare(rest[0]!.made);
  const text = words.say('bars.rest', { count: rest.length, counts: words.list(counts) });
  return Number.isFinite(share) ? `${text} ${words.say('bars.rest.first', { share: percent(share) })}` : text;
}

/** "row 4", "rows 1, 3 and 8" */
const rowsText = (rows: readonly JudgedRow[], { say, list }: Words): string =>
  say('rows', {
    count: rows.length,
    rows: `${list(rows.slice(0, 8).map(({ n }) => String(n)))}${rows.length > 8 ? ' …' : ''}`,
  });

function nextSteps(results: Results, words: Words, rows: readonly JudgedRow[]): Point[] {
  const { say } = words;
  const { phase } = lastPhase(results);
  const step = (
    key: 'nothing' | 'approve' | 'read' | 'missing' | 'too-close' | 'move' | 'none' | 'state-limits',
    more = {},
  ): Point => ({
    lead: say(`next.${key}.lead`),
    text: say(`next.${key}`, { section: sectionNumber(key === 'missing' ? 'checks' : 'moves'), ...more }),
  });
  const approve = isDraft(results) ? [step('approve')] : [];
  const air = nextReading(phase, words, rows);
  if (results.verdict === 'reported') return [step('state-limits'), ...approve, ...air];
  if (results.verdict === 'conforms') return [step('nothing'), ...approve, ...air];
  const open = rows.filter(({ made }) => made.verdict === 'undecided');
  const missing = open.filter(({ made }) => made.value === null);
  const known = open.filter((row) => !missing.includes(row));
  const readable = known.filter(({ made }) => decidedBy(made) !== null);
  const tooClose = known.filter((row) => !readable.includes(row));
  const { moves = [], predicted = [], want } = results.corrections;
  const then = rows.filter(
    ({ made, index }) => made.verdict !== 'conforms' && predicted[index]?.verdict === 'conforms',
  );
  const reading = [
    ...(readable.length > 0 ? [step('read', { rows: rowsText(readable, words) })] : []),
    ...(tooClose.length > 0
      ? [step('too-close', { rows: rowsText(tooClose, words), moves: moves.length > 0 ? 'yes' : 'no' })]
      : []),
  ];
  const moving =
    moves.length === 0
      ? []
      : [
          step('move', { fewest: want === undefined || want === 'fewest-moves' ? 'yes' : 'no' }),
          {
            lead: say('next.survey.lead'),
            text:
              then.length === 0
                ? say('next.survey.plain', { section: sectionNumber('moves') })
                : say('next.survey', { rows: capitalised(rowsText(then, words)), count: then.length }),
          },
        ];
  const fails = results.verdict === 'does-not-conform';
  return [
    ...(missing.length > 0 ? [step('missing', { rows: rowsText(missing, words) })] : []),
    // What does not conform comes before what is open.
    ...(fails ? [...moving, ...reading] : [...reading, ...moving]),
    ...(moves.length === 0 && fails ? [step('none')] : []),
    ...(moves.length === 0 ? air : []),
  ].slice(0, roomFor(words).steps);
}

/** What to do about the first of the effects that are not in the interval. */
function nextReading(phase: PhaseResults, { say }: Words, rows: readonly JudgedRow[]): Point[] {
  const [first] = unstatedIn(phase, rows);
  return first === undefined
    ? []
    : [
        {
          lead: say('next.air.lead', { what: say(`what.${first.effect.source}`) }),
          text: say('next.air', { turns: first.turn === null ? 'no' : 'yes' }),
        },
      ];
}

/** The effects that are not in the interval, with the smallest size that changes a verdict; those that come nearest to it first. */
function unstatedIn({ unstated = [] }: PhaseResults, rows: readonly JudgedRow[]) {
  const share = ({ effect, turn }: { effect: UnstatedEffect; turn: { size: number } | null }) =>
    turn === null ? 0 : effect.size / turn.size;
  return unstated
    .map((effect) => ({ effect, turn: turnOf(effect, rows) }))
    .sort((a, b) => share(b) - share(a));
}

/** The smallest size that changes a verdict, with its row; null: none. */
function turnOf({ source }: UnstatedEffect, rows: readonly JudgedRow[]): { size: number; n: number } | null {
  const turns = rows.flatMap(({ made, n }) => {
    const upTo = made.holdsUpTo?.find((held) => held.source === source)?.upTo;
    return upTo === undefined ? [] : [{ size: upTo, n }];
  });
  return leastBy(turns, ({ size }) => size);
}

function effectTable(phase: PhaseResults, figures: Figures, rows: readonly JudgedRow[]) {
  const unstated = unstatedIn(phase, rows);
  if (unstated.length === 0) return null;
  const { say, parts } = figures;
  const rest = unstated.slice(roomFor(figures).effects);
  const words = (effect: UnstatedEffect) => say(`effect.${effect.source}`);
  return {
    head: [
      say('rests.not-in'),
      say('rests.size'),
      say('rests.reading'),
      ...(rows.length > 0 ? [say('rests.turns')] : []),
    ],
    rows: unstated.slice(0, roomFor(figures).effects).map(({ effect, turn }) => {
      return [
        words(effect),
        sizeText(effect.size, effect.unit, figures),
        readingText(effect.readingUm, figures, figures.number),
        ...(rows.length === 0
          ? []
          : [
              turn === null
                ? say('rests.turns.none')
                : say('rests.turns.row', { size: sizeText(turn.size, effect.unit, figures), row: turn.n }),
            ]),
      ];
    }),
    rest:
      rest.length === 0
        ? ''
        : say('rests.more', {
            effects: parts(
              rest.map(({ effect }) =>
                say('rests.more.one', {
                  effect: words(effect),
                  reading: readingText(effect.readingUm, figures),
                }),
              ),
            ),
          }),
  };
}

function restPoints(results: Results, figures: Figures, rows: readonly JudgedRow[]): Point[] {
  const { say } = figures;
  const { phase } = lastPhase(results);
  const known = cautions(results, figures);
  return [
    ...((phase.unstated ?? []).length === 0 && (phase.effects ?? []).length > 0
      ? [{ lead: '', text: say('rests.all-stated') }]
      : []),
    { lead: say('stations.lead'), text: stationsSentence(results, figures) },
    unseenPoint(phase, figures, rows),
    confirmedPoint(results, figures),
    ...(known.length === 0
      ? []
      : [{ lead: say('known.lead'), text: known.slice(0, roomFor(figures).known).join(' ') }]),
  ];
}

function stationsSentence(results: Results, words: Words): string {
  const { say } = words;
  const { phase, name } = lastPhase(results);
  const read = phase.read?.rails ?? readOf(results);
  const sum = (of: (rail: RailRead) => number) => read.reduce((all, rail) => all + of(rail), 0);
  const keys = (of: (rail: RailRead) => readonly number[]) =>
    read.flatMap((rail) => of(rail).map((station) => `${rail.rail}:${station}`));
  const missing = keys(({ unread }) => unread);
  const count = { stations: sum(({ declared }) => declared), rails: read.length };
  const { readings, priors, redundancy } = phase.adjustment;
  const phases = phasesOf(results);
  const leftOut = results.excluded.filter((e) => e.phase === name).length;
  const lead =
    missing.length === 0
      ? say('stations.all', count)
      : say('stations.some', {
          ...count,
          read: sum((rail) => rail.read),
          missing: cutList(missing, 60, words),
        });
  const spare = Math.max(0, redundancy);
  // Read only in the other plane.
  const halves = (['vertical', 'horizontal'] as const).flatMap((plane) => {
    const list = keys(({ unread, planes = [] }) =>
      planes.flatMap((p) => (p.plane === plane ? p.unread.filter((n) => !unread.includes(n)) : [])),
    );
    return list.length === 0 ? [] : [say('stations.half', { plane, missing: cutList(list, 60, words) })];
  });
  return [
    say('stations.readings', { lead, readings: readings - priors, spare }),
    ...halves,
    say('stations.left-out', {
      count: leftOut,
      elsewhere: results.excluded.length - leftOut,
      phase: phaseText(name, words),
      before: capitalised(
        words.list(phases.filter((one) => one.name !== name).map((one) => phaseText(one.name, words))),
      ),
      section: CHECKS,
    }),
  ].join(' ');
}

type RailRead = Pick<
  NonNullable<PhaseResults['read']>['rails'][number],
  'rail' | 'declared' | 'read' | 'unread'
> & { readonly planes?: NonNullable<PhaseResults['read']>['rails'][number]['planes'] };

/** For documents before 0.6.0, which do not state it: from the stations that have a value. */
function readOf(results: Results): RailRead[] {
  const wasRead = new Set(
    lastPhase(results)
      .phase.stations.filter((s) => s.height ?? s.offset ?? s.ahead)
      .map((s) => `${s.rail}:${s.station}`),
  );
  return results.survey.rails.map(({ id, stations }) => {
    const unread = stations.map(({ station }) => station).filter((n) => !wasRead.has(`${id}:${n}`));
    return { rail: id, declared: stations.length, read: stations.length - unread.length, unread };
  });
}

/** Ties without a check, ordered by the smallest error that changes a verdict. */
function unseenPoint({ adjustment }: PhaseResults, figures: Figures, rows: readonly JudgedRow[]): Point {
  const { say } = figures;
  const { reliability = [], redundancy } = adjustment;
  if (redundancy === 0) return { lead: say('unseen.nothing.lead'), text: say('unseen.nothing') };
  if (reliability.length === 0) return { lead: say('unseen.single.lead'), text: say('unseen.single') };
  const unchecked = reliability.filter(({ shows }) => shows === null);
  if (unchecked.length === 0) return { lead: say('unseen.none.lead'), text: say('unseen.none') };
  const unseen = unchecked.filter(({ moves }) => moves.length > 0);
  if (unseen.length === 0) {
    const what = cutList(
      unchecked.map((one) => phrase(one.what, figures)),
      110,
      figures,
    );
    return {
      lead: say('unseen.lead'),
      text: say('unseen.harmless', { what, limits: rows.length > 0 ? 'yes' : 'no' }),
    };
  }
  const unit = figures.units.deviation;
  // Ties with the same size and row are named together.
  const groups = new Map<string, { what: string[]; size: number; row: number | null }>();
  for (const { what, turns } of unseen) {
    const row =
      turns === undefined ? null : (rows.find(({ index }) => index === turns.characteristic)?.n ?? null);
    const size = turns === undefined ? Infinity : turns.size;
    const key = `${row} ${Number.isFinite(size) ? size.toPrecision(2) : ''}`;
    const known = groups.get(key);
    if (known === undefined) groups.set(key, { what: [phrase(what, figures)], size, row });
    else known.what.push(phrase(what, figures));
  }
  const texts = [...groups.values()]
    .sort((a, b) => a.size - b.size)
    .slice(0, 2)
    .map(({ what, size, row }) => {
      const ties = cutList(what, 110, figures);
      return row === null
        ? say('unseen.moves', { what: ties })
        : say('unseen.turns', {
            what: ties,
            size: withUnit(twoDigits(unit.fromBase(size), figures), unit),
            row,
          });
    });
  return { lead: say('unseen.lead'), text: say('unseen.all', { list: texts.join('; ') }) };
}

function confirmedPoint({ confirmations = [] }: Results, { say, list }: Words): Point {
  const by = list([...new Set(confirmations.map((c) => c.by))]);
  return {
    lead: say('confirmed.lead'),
    text:
      confirmations.length === 0
        ? say('confirmed.none')
        : say('confirmed.some', { count: confirmations.length, by: cut(by, 60), section: CHECKS }),
  };
}

/** Cautions with the verdict, each with its annex. */
function cautions(results: Results, figures: Figures): string[] {
  const { say } = figures;
  const { name, phase } = lastPhase(results);
  const { adjustment } = phase;
  const overdue = results.survey.instruments.filter((instrument) => instrument.overdue);
  const suspects = adjustment.suspects.length;
  const exceeded = phase.closures.filter((closure) => closure.exceeded).length;
  return [
    ...(overdue.length > 0
      ? [say('caution.overdue', { instruments: figures.list(overdue.map(({ id }) => id)), section: SURVEY })]
      : []),
    ...(adjustment.scale > 1
      ? [
          say('caution.scatter', {
            phase: phaseText(name, figures),
            times: figures.number(adjustment.scale, 2),
            section: CHECKS,
          }),
        ]
      : []),
    ...(suspects > 0 ? [say('caution.suspects', { count: suspects, section: CHECKS })] : []),
    ...(results.warnings.some(({ code }) => code === 'REPEATABILITY_ABOVE_CLAIM')
      ? [say('caution.repeatability', { section: CHECKS })]
      : []),
    ...(exceeded > 0 ? [say('caution.closures', { count: exceeded, section: SURVEY })] : []),
    ...differingConditions(results, figures).map((text) => cut(sentence(text), 220)),
  ];
}
