/** What a planned survey will be able to tell, in the job's words and units: for the terminal and for one page of an offer. */
import { visible } from '../../base/diagnostics/messages.js';
import type { Job } from '../../survey/job/job.js';
import { identityKey, namingFor, type Identity } from '../../results/identity.js';
import type { Chances } from '../../results/planned/chances.js';
import type { Foreseen } from '../../results/planned/foreseen.js';
import type { PlannedSurvey } from '../../results/planned/planned-survey.js';
import {
  coverageFactor,
  reportUnits,
  roundUncertainty,
  unitFor,
  withUnit,
  type ReportUnit,
  type ReportUnits,
  percentText,
} from '../../results/words/format-quantity.js';
import { SOFTWARE } from '../../base/version.js';
import { identityText, whyText } from '../words/names.js';
import { phrase } from '../words/phrases.js';
import { english, type Words } from '../words/words.js';
import { limitWords } from './sections/characteristic-names.js';
import { sheetPage } from './sheet-page.js';
import { capitalised, sentence } from './sentence.js';
import { tenTo } from '../../base/statistics/power.js';

/** The parts of a plan in words. */
export interface PlanWords {
  readonly title: string;
  readonly notes: readonly string[];
  readonly rows: readonly PlanRow[];
  /** A title with its lines; without lines there is none. */
  readonly parts: readonly { readonly title: string; readonly lines: readonly string[] }[];
}

export interface PlanRow {
  readonly name: string;
  readonly line: string;
  readonly limit: string;
  readonly expanded: string;
  readonly accepted: string;
  readonly source: string;
  /** "50 %", "100 conform" and "100 / 0 / 0". */
  readonly chances: readonly { readonly at: string; readonly counts: string; readonly short: string }[];
}

const percent = (share: number): string => percentText(Math.round(100 * share));

/** How it is said: units, names and words of one language. */
interface Said extends Words {
  readonly units: ReportUnits;
  readonly nameOf: (one: Identity) => string;
}

/** @param isRead Whether the readings are there. */
export function planWords(job: Job, planned: PlannedSurvey, isRead: boolean, words = english): PlanWords {
  const { characteristics, helps, cheapest } = planned;
  const units = reportUnits(job.style, words.mark);
  const naming = namingFor(characteristics, { datum: job.datum.id, length: units.length });
  const said: Said = { ...words, units, nameOf: (one) => identityText(one, naming, words) };
  const { say } = said;
  const limited = characteristics.filter(({ limit }) => limit !== null);
  const listed = limited.length > 0 ? limited : characteristics;
  const known = listed.filter(({ u }) => u !== null);
  const count = known.find(({ chances }) => chances !== undefined)?.chances?.[0]?.of ?? 0;
  const { rule, coverage } = job.decision;
  const lines = (title: string, texts: readonly string[]) =>
    texts.length === 0 ? [] : [{ title, lines: texts }];
  return {
    title: say('plan.title', { job: visible(job.id) }),
    notes: [
      say(isRead ? 'plan.read' : 'plan.unread'),
      say('plan.terms', { k: words.trimmed(coverageFactor(coverage), 2), rule }),
      ...(count === 0 ? [] : [say('plan.chances', { count })]),
    ],
    rows: known.map((c) => rowOf(c, said)),
    parts: [
      ...lines(
        say('plan.undetermined.title'),
        listed
          .filter(({ u }) => u === null)
          .map((c) =>
            say('plan.undetermined', {
              name: said.nameOf(c),
              why: sentence(visible(whyText({ why: '', ...c }, words))),
            }),
          ),
      ),
      ...lines(
        say('plan.helps.title'),
        helps.map((help) => helpText(help, said, characteristics)),
      ),
      ...(limited.length === 0
        ? []
        : lines(say('plan.cheapest.title'), cheapestTexts(cheapest, count > 0, said, limited.length))),
    ],
  };
}

function rowOf(c: Foreseen, said: Said): PlanRow {
  const { say } = said;
  const unit = unitFor(said.units, c.unit);
  const name = said.nameOf(c);
  const expanded = withUnit(uncertainty(c.expanded!, unit, said), unit);
  const source = c.greatest === undefined ? '' : say(`source.${c.greatest.source}`);
  const share = c.greatest === undefined ? '' : percent(c.greatest.share);
  if (c.limit === null)
    return {
      ...{ name, expanded, source, limit: '', accepted: '', chances: [] },
      line: say('plan.line.no-limit', { name, expanded, source, share }),
    };
  const stated = { signed: c.accepts !== undefined, ...(c.zone !== undefined && { zone: c.zone }) };
  const limit = withUnit(limitWords(stated, figure(c.limit, unit, said), unit, said), unit);
  const accepted = acceptedText(c, unit, said);
  return {
    name,
    limit,
    expanded,
    accepted,
    source,
    chances: (c.chances ?? []).map((one) => ({
      at: percent(one.at),
      counts: countsText(one, said),
      short: [one.conforms, one.doesNotConform, one.undecided].join(' / '),
    })),
    line: say('plan.line', { name, limit, expanded, source, share, accepted }),
  };
}

/** Two digits, as an uncertainty is printed. */
function uncertainty(value: number, unit: ReportUnit, { number }: Words): string {
  const own = unit.fromBase(value);
  const { value: rounded, decimals } = roundUncertainty(own);
  return number(rounded, decimals);
}

const figure = (value: number, unit: ReportUnit, { trimmed }: Words): string =>
  trimmed(Number(unit.fromBase(value).toPrecision(3)), 9);

/** To three digits, rounded into the accepted range. */
function inside(own: number, to: 'up' | 'down'): number {
  const step = tenTo(Math.floor(Math.log10(Math.abs(own) || 1)) - 2);
  const steps = to === 'up' ? Math.ceil(own / step - 1e-9) : Math.floor(own / step + 1e-9);
  return Number((steps * step).toPrecision(3));
}

function acceptedText(c: Foreseen, unit: ReportUnit, { say, trimmed }: Words): string {
  const text = (value: number, to: 'up' | 'down') => trimmed(inside(unit.fromBase(value), to), 9);
  const upTo = (value: number) => withUnit(text(value, 'down'), unit);
  if (c.accepts === undefined)
    return c.acceptsUpTo! > 0
      ? say('plan.accepted.to', { to: upTo(c.acceptsUpTo!) })
      : say('plan.accepted.none');
  if (c.accepts === null) return say('plan.accepted.none');
  const { from, to } = c.accepts;
  if (from === null) return say('plan.accepted.to', { to: upTo(to!) });
  if (to === null) return say('plan.accepted.from', { from: withUnit(text(from, 'up'), unit) });
  return say('plan.accepted.from-to', { from: text(from, 'up'), to: upTo(to) });
}

/** "59 conform, 41 undecided" */
function countsText({ conforms, doesNotConform, undecided }: Chances, { say }: Words): string {
  const counts = { conforms, 'does-not-conform': doesNotConform, undecided };
  return (['conforms', 'does-not-conform', 'undecided'] as const)
    .filter((key) => counts[key] > 0)
    .map((key) => say(`plan.count.${key}`, { count: counts[key] }))
    .join(', ');
}

function helpText(
  { do: what, shrinks, u }: PlannedSurvey['helps'][number],
  said: Said,
  characteristics: readonly Foreseen[],
): string {
  const best = u.reduce((a, b) => (b.to / b.from < a.to / a.from ? b : a));
  const found = characteristics.find((c) => identityKey(c) === identityKey(best))!;
  const unit = unitFor(said.units, found.unit);
  const k = found.expanded! / found.u!;
  return said.say('plan.help', {
    what: phrase(what, said),
    shrinks: percent(shrinks),
    name: said.nameOf(best),
    from: uncertainty(k * best.from, unit, said),
    to: withUnit(uncertainty(k * best.to, unit, said), unit),
  });
}

function cheapestTexts(
  cheapest: PlannedSurvey['cheapest'],
  isTried: boolean,
  { say, nameOf }: Said,
  all: number,
): string[] {
  if (!isTried) return [];
  if (cheapest === null) return [say('plan.cheapest.none'), say('plan.cheapest.means')];
  const { arrangement, passes, rows, setups, decides, cannot } = cheapest;
  const names = (list: readonly Identity[]) => list.map(nameOf).join('; ');
  return [
    say('plan.cheapest', {
      arrangement: capitalised(say(`plan.arrangement.${arrangement}`)),
      ...{ passes, rows, setups, all },
      decided: decides.length,
    }),
    ...(cannot.length === 0 ? [] : [say('plan.cheapest.cannot', { names: names(cannot) })]),
    say('plan.cheapest.means'),
  ];
}

/** For the terminal. */
export const planText = ({ title, notes, rows, parts }: PlanWords): string =>
  [
    title,
    ...notes.map((note) => `  ${note}`),
    '',
    ...rows.flatMap(({ line, chances }) => [
      `  ${line}`,
      ...(chances.length === 0
        ? []
        : [`      ${chances.map((one) => english.say('plan.at', { ...one })).join('; ')}`]),
    ]),
    ...parts.flatMap((part) => ['', part.title, ...part.lines.map((line) => `  ${line}`)]),
  ].join('\n');

/** Sizes at which a plan is printed until it is one page: the table is in 8, 7 or 6 pt. */
export const PLAN_SIZES = [1, 7 / 8, 6 / 8] as const;

/** One page for an offer. @param size of PLAN_SIZES. */
export function planPage(
  { title, notes, rows, parts }: PlanWords,
  { style }: Pick<Job, 'style'>,
  words: Words,
  size: number = PLAN_SIZES[0],
): string {
  const { say } = words;
  const software = `${SOFTWARE.name} ${SOFTWARE.version}`;
  const shares = rows.find(({ chances }) => chances.length > 0)?.chances.map(({ at }) => at) ?? [];
  return sheetPage(
    'plan',
    {
      title,
      software,
      size,
      notes,
      heads: {
        name: say('plan.head.characteristic'),
        limit: say('plan.head.limit'),
        expanded: say('plan.head.expanded'),
        accepted: say('plan.head.accepted'),
        source: say('plan.head.source'),
      },
      shares: shares.map((at) => say('plan.head.chances', { at })),
      counts: shares.length === 0 ? '' : say('plan.counts'),
      rows: rows.map(({ name, limit, expanded, accepted, source, chances }) => ({
        ...{ name, limit, expanded, accepted, source },
        chances: shares.map((at) => chances.find((one) => one.at === at)?.short ?? ''),
      })),
      parts,
    },
    { paper: style.paper, printPt: 8, title, software, note: '', words },
  );
}
