/** A page that follows a survey while it is read: how far it is, what is wrong so far, and what the readings say by now. */
import type { Diagnostic } from '../../base/diagnostics/diagnostic.js';
import { describe, visible } from '../../base/diagnostics/messages.js';
import type { PhaseName } from '../../survey/job/job-schema.js';
import type { Results } from '../../results/results-schema.js';
import { SOFTWARE } from '../../base/version.js';
import { figuresOf, lastPhase, phasesOf } from './figures.js';
import { resultText, plusMinus, unitFor, withUnit } from '../../results/words/format-quantity.js';
import { conditionWords, datumId, limitWords, railWords } from './sections/characteristic-names.js';
import { sheetPage } from './sheet-page.js';
import { capitalised, counted } from './sentence.js';
import {
  characteristicNames,
  NOT_DETERMINED,
  phaseWords,
  verdictMarks,
  verdictWords,
} from '../../results/words/texts.js';
import type { ReportChart } from './sections/pictures.js';

/** Seconds after which the page looks again. */
export const RENEWED_S = 2;

/** Problems and pictures of a page that is read from a few steps away. */
const MOST_PROBLEMS = 30;
const MOST_CHARTS = 8;

export interface Followed {
  readonly job: string;
  /** When the last file was saved, as the clock of the place says it; '' where nothing was. */
  readonly saved: string;
  /** null: what is there so far is refused. */
  readonly results: Results | null;
  readonly charts: readonly ReportChart[];
  readonly diagnostics: readonly Diagnostic[];
  /** What was read of what the job declares, by phase, in words. */
  readonly read: ReadonlyMap<PhaseName, readonly string[]>;
}

export function followPage({ job, saved, results, charts, diagnostics, read }: Followed): string {
  const software = `${SOFTWARE.name} ${SOFTWARE.version}`;
  const problems = [...diagnostics].sort((a, b) => rank(a) - rank(b)).slice(0, MOST_PROBLEMS);
  const errors = diagnostics.filter(({ severity }) => severity !== 'warning').length;
  return sheetPage(
    'follow',
    {
      job: visible(job),
      software,
      saved,
      renewed: RENEWED_S,
      headline:
        results === null ? `Not to be worked out yet: ${counted(errors, 'problem')}` : headlineOf(results),
      read: [...read].map(([phase, words]) => ({
        phase: capitalised(phaseWords(phase)),
        words: visible(words.join('; ')),
      })),
      progress: results === null ? [] : progressOf(results),
      rows: results === null ? [] : rowsOf(results),
      problems: problems.map((d) => ({
        severity: d.severity === 'warning' ? 'note' : d.severity === 'confirm' ? 'to be confirmed' : 'error',
        place:
          d.at === undefined ? '' : visible([d.at.file, d.at.row, d.at.column].filter(Boolean).join(': ')),
        text: visible(describe(d)),
      })),
      more: Math.max(0, diagnostics.length - MOST_PROBLEMS),
      charts: charts.slice(0, MOST_CHARTS).map(({ title, alt, svg }) => ({
        title,
        alt,
        source: `data:image/svg+xml;base64,${Buffer.from(svg).toString('base64')}`,
      })),
    },
    { paper: results?.style.paper ?? 'A4', printPt: 9, title: `Survey ${job}, so far`, software, note: '' },
  );
}

const rank = ({ severity }: Diagnostic): number => ({ error: 0, confirm: 1, warning: 2 })[severity];

function headlineOf(results: Results): string {
  const { name, phase } = lastPhase(results);
  return `${capitalised(phaseWords(name))}, so far: ${verdictMarks[phase.verdict]} ${verdictWords[phase.verdict].toLowerCase()}`;
}

/** Stations of each rail that have a height, or a place sideways, by phase. */
function progressOf(results: Results) {
  return phasesOf(results).flatMap(({ name, phase }) =>
    results.survey.rails.map((rail) => {
      const own = phase.stations.filter((station) => station.rail === rail.id);
      const read = (plane: 'vertical' | 'horizontal') =>
        own.filter(({ deviation }) => deviation[plane] !== undefined).length;
      return {
        phase: capitalised(phaseWords(name)),
        rail: visible(rail.id),
        vertical: `${read('vertical')} of ${rail.stations.length}`,
        horizontal: `${read('horizontal')} of ${rail.stations.length}`,
      };
    }),
  );
}

function rowsOf(results: Results) {
  const figures = figuresOf(results);
  const datum = datumId(results);
  return lastPhase(results)
    .phase.characteristics.filter(({ limit }) => limit !== null)
    .map((made) => {
      const unit = unitFor(figures.units, made.unit);
      const text = resultText({ ...made, value: made.value ?? 0 }, figures.k, unit);
      return {
        what: characteristicNames[made.what],
        of: [railWords(made, datum, figures), conditionWords(made, figures)].filter(Boolean).join(', '),
        value: made.value === null ? NOT_DETERMINED : withUnit(plusMinus(text), unit),
        limit: withUnit(limitWords(made, text.limit!, unit, figures), unit),
        verdict: `${verdictMarks[made.verdict]} ${verdictWords[made.verdict]}`,
        why: made.value === null ? (made.why ?? '') : '',
      };
    });
}
