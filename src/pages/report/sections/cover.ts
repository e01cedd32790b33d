/** The head of page 1: which report this is, about what, and the verdict in one sentence. */
import type { CharacteristicResult, Results, Verdict } from '../../../results/results-schema.js';
import {
  resultText,
  plusMinus,
  probabilityText,
  unitFor,
  withUnit,
  trimmedText,
} from '../../../results/words/format-quantity.js';
import { documentKind, isDraft, reportNumber } from '../document-title.js';
import { lastPhase, type Figures, phasesOf } from '../figures.js';
import { capitalised, listed, namedOf, sentence } from '../sentence.js';
import { fact, type Fact } from '../table.js';
import { NOT_RECORDED, phaseWords, UNDETERMINED, verdictMarks } from '../../../results/words/texts.js';
import { datumId, inSentence, limitWords } from './characteristic-names.js';
import { guardedRisk, guardWords } from './decision-risk.js';
import { unstatedLines, type UnstatedLines } from './effects.js';
import { settleLines, settleText, undeterminedLines } from './shared-reasons.js';

/** More deciding characteristics than these are left to the table below. */
const MOST_POINTS = 5;
/** More rails than these are only counted. */
const MOST_RAILS = 5;

/** Whether page 1 names so many deciding characteristics, each of them. */
export const fitsOnCover = (characteristics: number): boolean =>
  namedOf(characteristics, MOST_POINTS) === characteristics;

/** Numbers of the sections that page 1 refers to. */
export interface CoverSections {
  readonly signatures: string;
  readonly method: string;
}

export interface Cover {
  readonly kind: string;
  readonly title: string;
  readonly report: string;
  /** What makes it more than a draft. */
  readonly validity: string;
  readonly isDraft: boolean;
  /** Of a report that takes the place of another: which, why, what is otherwise; [] for none. */
  readonly amends: readonly string[];
  readonly facts: readonly Fact[];
  /** That this is no issued report, and by what it was judged; null: it is one. */
  readonly whatIf: string | null;
  readonly verdict: {
    readonly css: string;
    readonly mark: string;
    readonly headline: string;
    readonly text: string;
    readonly points: readonly string[];
    readonly cautions: readonly string[];
    /** What looked wrong and was confirmed: what, by whom, why. */
    readonly confirmed: readonly string[];
    /** What is not in the intervals; null for nothing. */
    readonly unstated: UnstatedLines | null;
  };
}

export function cover(
  results: Results,
  figures: Figures,
  cautions: readonly string[],
  sections: CoverSections,
): Cover {
  const { subject } = results;
  return {
    kind: documentKind(results),
    title: subject.title ?? `Alignment of the machine rails, ${results.job}`,
    report: reportNumber(results),
    validity: validityWords(results, sections),
    isDraft: isDraft(results),
    amends: [...withoutLines(results), ...amendsLines(results)],
    facts: [
      fact('Customer', subject.customer, NOT_RECORDED),
      fact('Site', subject.site, NOT_RECORDED),
      fact('Machine', subject.machine.name, NOT_RECORDED),
      fact('Serial no.', subject.machine.serial, NOT_RECORDED),
      fact('Rails', railsWords(results), NOT_RECORDED),
      fact('Issued by', subject.issuer, NOT_RECORDED),
      fact('Surveyed', signedOffWords(subject.surveyed), NOT_RECORDED),
      fact('Readings taken', periodWords(subject.readingsTaken), NOT_RECORDED),
      fact('Prepared', signedOffWords(subject.prepared), NOT_RECORDED),
      fact('Method edition', `${results.software.method} (section ${sections.method})`, NOT_RECORDED),
      ...recordFacts(results),
    ],
    whatIf: whatIfSentence(results),
    verdict: {
      ...verdictWords(results, figures),
      cautions,
      confirmed: confirmedLines(results),
      unstated: unstatedLines(results, figures),
    },
  };
}

function validityWords({ whatIf, issue }: Results, { signatures }: CoverSections): string {
  if (whatIf !== undefined) return 'What if';
  return issue === undefined
    ? `Draft: not issued, and not signed as approved (section ${signatures})`
    : `Issued ${issue.on} by ${issue.by}`;
}

/** What the report was issued without. @see ISO/IEC 17025:2017, 7.8.2.1 and 6.5. */
function withoutLines({ issue, survey }: Results): string[] {
  const without = issue?.without ?? [];
  const instruments = survey.instruments
    .filter(({ certificate, calibrationDue }) => !certificate || !calibrationDue)
    .map(({ id }) => id);
  return [
    ...(without.includes('approver') ? ['Issued although nobody is recorded who approved it.'] : []),
    ...(without.includes('traceability')
      ? [
          `Issued although certificate or calibration due date is not recorded of ${listed(instruments)}: its readings are not shown to be traceable.`,
        ]
      : []),
  ];
}

function amendsLines({ issue }: Results): string[] {
  const amends = issue?.amends;
  if (amends === undefined) return [];
  const MOST = 4;
  const { number, because, changes } = amends;
  return [
    `This report takes the place of report ${number}, because: ${because}`,
    ...(changes.length === 0
      ? ['No printed figure and no verdict differs from it.']
      : changes.slice(0, MOST)),
    ...(changes.length > MOST ? [`and ${changes.length - MOST} more changes, listed in results.json.`] : []),
  ];
}

/** Facts that most jobs do not record: only where they stand. */
function recordFacts({ subject, job, issue }: Results): Fact[] {
  const { contacts, revision, procedure, externalProviders = [] } = subject;
  const known: [string, string | null | undefined][] = [
    ['Job', issue === undefined ? null : job],
    ['Issuer’s address', contacts?.issuer],
    ['Customer’s address', contacts?.customer],
    ['Revision', revision],
    ['Procedure', procedure],
    ['External providers', externalProviders.map(({ name, did }) => `${name} (${did})`).join('; ') || null],
  ];
  return known.flatMap(([label, text]) => (text ? [fact(label, text, NOT_RECORDED)] : []));
}

function whatIfSentence({ whatIf, toleranceSet }: Results): string | null {
  if (whatIf === undefined) return null;
  const set = toleranceSet.name === null ? 'a tolerance set' : `the tolerance set “${toleranceSet.name}”`;
  const own =
    whatIf.inPlaceOf === null ? 'the job, which states no tolerance' : `the job’s own (${whatIf.inPlaceOf})`;
  return `What if: this report is judged by ${set} in place of ${own}. It is no acceptance report, and replaces none.`;
}

function signedOffWords({ by, on }: { by: string | null; on: string | null }): string | null {
  if (by === null && on === null) return null;
  return `${by ?? `name ${NOT_RECORDED}`}, ${on ?? `date ${NOT_RECORDED}`}`;
}

function periodWords({ from, to }: { from: string | null; to: string | null }): string | null {
  if (from === null || to === null || from === to) return from ?? to;
  return `${from} to ${to}`;
}

function railsWords(results: Results): string {
  const { rails } = results.survey;
  const most = namedOf(rails.length, MOST_RAILS);
  const named = rails
    .slice(0, most)
    .map((rail) => `${rail.id}${rail.name ? `: ${rail.name}` : ''}${rail.datum ? ' (datum)' : ''}`);
  return named.join('; ') + (rails.length > most ? `; and ${rails.length - most} more` : '');
}

const confirmedLines = ({ confirmations = [] }: Results): string[] =>
  confirmations.map(({ message, by, because }) => `${message} Confirmed by ${by}: ${because}`);

type VerdictWords = Omit<Cover['verdict'], 'cautions' | 'confirmed' | 'unstated'>;

function verdictWords(results: Results, figures: Figures): VerdictWords {
  const { name, phase } = lastPhase(results);
  const judged = phase.characteristics.filter((made) => made.limit !== null);
  const verdict = results.verdict;
  return {
    css: verdict,
    mark: verdictMarks[verdict],
    headline: headline(verdict, results.survey.rails.length, phaseWords(name)),
    text: [
      reason(judged, verdict, results, figures),
      asFoundSentence(results),
      judged.length > 0 ? ruleSentence(results, figures) : '',
    ]
      .filter(Boolean)
      .join(' '),
    points: pointsOf(decidingCharacteristics(judged, verdict), verdict, results, figures),
  };
}

/** The decision rule with the greatest risk that it leaves (ISO/IEC 17025, 7.8.6). */
function ruleSentence({ settings }: Results, figures: Figures): string {
  return settings.rule === 'simple'
    ? 'Decision rule: simple acceptance; at a limit, the chance of a wrong acceptance is up to 50\u00a0%.'
    : `Decision rule: guarded acceptance at ${figures.coverage}${settings.guardBand === undefined ? '' : `, guard band w\u00a0=\u00a0${trimmedText(settings.guardBand, 2)}·U`}; at a limit, the chance of a wrong acceptance is at most about ${guardedRisk(settings.coverage, settings.guardBand)}.`;
}

/** Figures first; then, once for those that share it, why there is none or what would settle it. */
function pointsOf(
  deciding: readonly CharacteristicResult[],
  verdict: Verdict,
  results: Results,
  figures: Figures,
): string[] {
  const datum = datumId(results);
  const known = deciding.filter((made): made is Determined => made.value !== null);
  const shown = known.slice(0, namedOf(known.length, MOST_POINTS));
  const points = shown.map((made) => pointWords(made, verdict, results, figures, known.length === 1));
  if (known.length > shown.length) {
    const settled = verdict === 'undecided' ? '; below it, what would settle them' : '';
    points.push(`and ${known.length - shown.length} more in the table below${settled}.`);
  } else if (known.length > 1) points.push(...settleLines(known, datum, figures));
  const reasons = undeterminedLines(deciding, datum, figures);
  const more = reasons.length > MOST_POINTS ? [`and more: see “${UNDETERMINED}” among the checks.`] : [];
  return [...points, ...reasons.slice(0, MOST_POINTS), ...more];
}

function headline(verdict: Verdict, rails: number, phase: string): string {
  const one = rails === 1;
  switch (verdict) {
    case 'conforms':
      return `The ${one ? 'rail conforms' : 'rails conform'}, ${phase}.`;
    case 'does-not-conform':
      return `The ${one ? 'rail does' : 'rails do'} not conform, ${phase}.`;
    case 'undecided':
      return `Undecided, ${phase}: not proven either way.`;
    case 'reported':
      return `Reported without a verdict, ${phase}.`;
  }
}

/** "2 of 9 characteristics with a tolerance lie" */
function counted(part: number, whole: number, verb: [one: string, many: string]): string {
  const noun = `characteristic${whole === 1 ? '' : 's'} with a tolerance`;
  if (part === whole) return whole === 1 ? `The one ${noun} ${verb[0]}` : `All ${whole} ${noun} ${verb[1]}`;
  return `${part} of ${whole} ${noun} ${part === 1 ? verb[0] : verb[1]}`;
}

const LIE: [string, string] = ['lies', 'lie'];

function reason(
  judged: readonly CharacteristicResult[],
  verdict: Verdict,
  results: Results,
  figures: Figures,
): string {
  const count = (wanted: Verdict) => judged.filter((made) => made.verdict === wanted).length;
  const guarded = results.settings.rule === 'guarded';
  const whole = judged.length;
  switch (verdict) {
    case 'reported':
      return 'No tolerance applies to what was measured; the figures are reported as they are.';
    case 'conforms':
      return `${counted(whole, whole, LIE)} within ${whole === 1 ? 'its limit' : 'their limits'}${guarded ? `, ${guardWords(results.settings, figures)} included` : ''}.`;
    case 'does-not-conform': {
      const undecided = count('undecided');
      const outside = count('does-not-conform');
      const more = undecided === 0 ? '' : ` ${undecided} more ${undecided === 1 ? 'is' : 'are'} undecided.`;
      return `${counted(outside, whole, LIE)} outside ${outside === 1 ? 'its limit' : 'their limits'}${guarded ? `, ${guardWords(results.settings, figures)} included` : ''}.${more}`;
    }
    case 'undecided': {
      const open = judged.filter((made) => made.verdict === 'undecided');
      const missing = open.filter((made) => made.value === null).length;
      const one = open.length === 1;
      const has = counted(open.length, whole, ['has', 'have']);
      if (missing === open.length)
        return `${has} no value: the readings do not determine ${one ? 'it' : 'them'}.`;
      const reaches =
        `${one ? 'a' : ''} ${figures.coverage} interval${one ? '' : 's'} that reach${one ? 'es' : ''} over the limit`.trim();
      return missing === 0 ? `${has} ${reaches}.` : `${has} no value, or ${reaches}.`;
    }
  }
}

/** What the first phase was, said so that it fits what the last one is. */
export function asFoundSentence(results: Results): string {
  const phases = phasesOf(results);
  const [before, last] = [phases[0], phases.at(-1)];
  if (before === undefined || last === undefined || phases.length < 2) return '';
  const found = before.phase;
  const judged = found.characteristics.filter((made) => made.limit !== null);
  const outside = judged.filter((made) => made.verdict === 'does-not-conform').length;
  const it = results.survey.rails.length === 1 ? 'it' : 'they';
  const when = capitalised(phaseWords(before.name));
  const now = last.phase.verdict;
  const count = `${outside === judged.length ? `all ${outside}` : `${outside} of ${judged.length}`} lay outside`;
  switch (found.verdict) {
    case 'conforms':
      return {
        conforms: `${when}, ${it} conformed too.`,
        'does-not-conform': `${when}, ${it} had conformed.`,
        undecided: `${when}, ${it} had conformed; now that is not proven.`,
        reported: `${when}, ${it} conformed.`,
      }[now];
    case 'does-not-conform':
      return now === 'does-not-conform'
        ? `${when}, ${it} did not conform either: ${count}.`
        : `${when}, ${it} did not conform: ${count}.`;
    case 'undecided':
      return now === 'undecided' ? `${when}, it was undecided too.` : `${when}, it was undecided.`;
    case 'reported':
      return '';
  }
}

/** The worst first, by the probability of conformity as it is printed; of a job that conforms, the one nearest to its limit. */
function decidingCharacteristics(
  judged: readonly CharacteristicResult[],
  verdict: Verdict,
): CharacteristicResult[] {
  if (verdict === 'reported') return [];
  const deciding = judged
    .filter((made) => made.verdict === verdict)
    .sort((a, b) => chanceShown(a) - chanceShown(b) || useOfLimit(b) - useOfLimit(a));
  return verdict === 'conforms' ? deciding.slice(0, 1) : deciding;
}

const chanceShown = ({ probability }: CharacteristicResult): number =>
  probability === null ? 0 : Math.round(1000 * probability);

const useOfLimit = (made: CharacteristicResult): number =>
  made.value === null || made.limit === null ? 0 : Math.abs(made.value) / made.limit;

type Determined = CharacteristicResult & { readonly value: number };

function pointWords(
  made: Determined,
  verdict: Verdict,
  results: Results,
  figures: Figures,
  isOnly: boolean,
): string {
  const name = inSentence(made, datumId(results), figures);
  const toSettle = isOnly ? settleText(made) : undefined;
  const settle = toSettle === undefined ? '' : ` ${sentence(toSettle)}`;
  const unit = unitFor(figures.units, made.unit);
  const text = resultText(made, figures.k, unit);
  const limit = withUnit(limitWords(made, text.limit!, unit), unit);
  const chance =
    made.probability === null ? '' : `, probability of conformity ${probabilityText(made.probability)}`;
  const interval =
    verdict === 'undecided' && text.interval
      ? `, interval ${text.interval[0]} to ${withUnit(text.interval[1], unit)}`
      : '';
  const lead = verdict === 'conforms' ? 'Nearest to its limit: ' : '';
  return `${lead}${name}: ${withUnit(plusMinus(text), unit)}${interval}, limit ${limit}${chance}.${settle}`;
}
