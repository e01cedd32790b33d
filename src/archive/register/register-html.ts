/** register.html: one page that works from a disk and without a network. Without its script it has plain tables. */
import Handlebars from 'handlebars';
import { visible } from '../../base/diagnostics/messages.js';
import { fontFamily, svgFontStyle } from '../../pages/fonts/fonts.js';
import { textWidth } from '../../pages/fonts/widths.js';
import { verdictText } from '../../pages/words/names.js';
import { wordsOf } from '../../pages/words/languages.js';
import type { Words } from '../../pages/words/words.js';
import { verdicts } from '../../results/results-schema.js';
import { compileOfflinePage, type OfflinePage } from '../offline-page.js';
import { machinesOf, type Machine } from './machines.js';
import { pageSource } from './page-source.js';
import type { Register, ReportedRow } from './register.js';
import { machineView, otherView, reportedView, summaryOf } from './register-view.js';
import { trendPicture, type ReadResults, type TrendPicture } from './trend-pictures.js';

/** 'page' is for a screen, with links and a script; 'print' is what register.pdf is printed from. */
export type Medium = 'page' | 'print';

/** Number of machines whose trends are drawn; a picture has about 15 kB in a page, and twice that in print. */
const MAX_DRAWN: Readonly<Record<Medium, number>> = { page: 200, print: 40 };

let page: OfflinePage | undefined;

export interface RegisterPage {
  readonly medium: Medium;
  /** true: register.pdf is next to the page. */
  readonly pdf: boolean;
  /** For the trends of machines that were surveyed more than once. */
  readonly read: ReadResults;
  /** Absent: those of the register's language. */
  readonly words?: Words;
}

export async function registerHtml(
  register: Register,
  { medium, pdf, read: readResults, words = wordsOf(register.language ?? 'en') }: RegisterPage,
): Promise<string> {
  const { render, style, script, scriptHash } = (page ??= compileOfflinePage(pageSource()));
  const { jobs, counts, software, whatIf } = register;
  const { say } = words;
  const reported = jobs.filter((row): row is ReportedRow => row.status === 'reported');
  const others = jobs.filter((row) => row.status !== 'reported');
  const machines = machinesOf(reported);
  const { drawn, note } = await drawTrends(machines, { medium, readResults, words });
  const idOf = new Map(
    drawn.flatMap(({ machine, id }) => machine.surveys.map(({ row }): [ReportedRow, string] => [row, id])),
  );
  return render(words, {
    style,
    script,
    scriptHash,
    isPage: medium === 'page',
    pdf,
    software: say('software', software),
    summary: summaryOf(counts, words),
    whatIf:
      whatIf === undefined
        ? null
        : say('register.what-if', {
            set: whatIf.name === null ? 'none' : visible(whatIf.name),
            source: whatIf.source === null ? 'none' : visible(whatIf.source),
          }),
    isIncomplete: counts.notDone + counts.failed > 0,
    verdicts: [
      ...[...new Set(others.map((row) => otherView(row, words).what))].map((what) => ({
        value: what,
        words: what,
      })),
      ...verdicts
        .filter((v) => counts.verdicts[v] > 0)
        .map((v) => ({ value: v, words: verdictText(v, words) })),
    ],
    customers: customersOf(reported),
    reported: reported.map((row) => reportedView(row, idOf.get(row) ?? null, words)),
    others: others.map((row) => otherView(row, words)),
    machines: drawn.map(({ machine, id, picture }) =>
      machineView(machine, id, { html: pictureHtml(picture, medium), notes: picture.notes }, words),
    ),
    trendNote: note,
  });
}

/** Empty if there is nothing to choose from. */
function customersOf(rows: readonly ReportedRow[]): string[] {
  const names = new Set(rows.flatMap(({ customer }) => (customer === null ? [] : [visible(customer)])));
  return names.size < 2 ? [] : [...names].sort();
}

interface DrawnMachine {
  readonly machine: Machine;
  readonly id: string;
  readonly picture: TrendPicture;
}

/** If there are too many machines, those are drawn whose last survey left the smallest margin. */
async function drawTrends(
  machines: readonly Machine[],
  { medium, readResults, words }: { medium: Medium; readResults: ReadResults; words: Words },
) {
  const most = MAX_DRAWN[medium];
  const days = ({ surveys }: Machine) => new Set(surveys.flatMap(({ day }) => day ?? []));
  const drawable = machines.filter((machine) => days(machine).size > 1);
  const byMargin = [...drawable].sort((a, b) => lastMargin(a) - lastMargin(b) || 0);
  const chosen = new Set(byMargin.slice(0, most));
  // In a page the pictures use the page's font; a picture of its own needs one of its own.
  const fonts = { fontFamily, textWidth, svgFontStyle: medium === 'page' ? () => '' : svgFontStyle };
  const drawn: DrawnMachine[] = [];
  for (const [i, machine] of drawable.entries()) {
    if (!chosen.has(machine)) continue;
    const picture = await trendPicture(machine, `trend-${i + 1}`, readResults, { fonts, words });
    if (picture !== null) drawn.push({ machine, id: `machine-${i + 1}`, picture });
  }
  const note =
    drawable.length > most ? words.say('register.trends.some', { most, all: drawable.length }) : '';
  return { drawn, note };
}

/** Margin of the latest survey with a day; Infinity without a limit. */
const lastMargin = ({ surveys }: Machine): number =>
  surveys.findLast(({ day }) => day !== null)?.row.worst?.margin ?? Infinity;

/** In a PDF, Chromium places the text of an <img>, but not that of an inline picture. */
function pictureHtml({ svg, alt }: TrendPicture, medium: Medium): string {
  if (medium === 'page') return svg;
  const source = `data:image/svg+xml;base64,${Buffer.from(svg).toString('base64')}`;
  return `<img src="${source}" alt="${Handlebars.escapeExpression(alt)}">`;
}
