/** results.json → the pictures of its report, in the order in which they are placed. Pure and cheap; render.ts draws them. */
import type { Results } from '../../results/results-schema.js';
import { byUrgency } from '../../results/urgency.js';
import { english, type Words } from '../words/words.js';
import type { Chart } from './chart.js';
import { contextOf, isJudged, type Context, type Judged } from './context.js';
import { budgetChart } from './budget.js';
import { correctionsCharts, doneChart } from './corrections.js';
import { machineChart } from './machine.js';
import { overviewCharts } from './overview.js';
import { residualChart } from './residuals.js';
import { extentOf, findSame, profileChart } from './profile.js';
import { isSlope, slopeChart } from './slope.js';

/** Greatest number of pictures of decisions in the body of a report, without the plan of the machine. */
const MOST_IN_BODY = 5;
/** Number of characteristics nearest to their limits that are drawn even if all conform. */
const NEAREST = 3;
/** Pictures have the same scale if their ranges differ by at most this factor. */
const SAME_SCALE = 3;

export function chartsOf(results: Results, words: Words = english): Chart[] {
  const context = contextOf(results, words);
  if (context === null) return [];
  const decided = decisions(context);
  const charts = uniqueKeys([
    ...machineChart(context, decided),
    ...decided,
    ...correctionsCharts(context),
    ...doneChart(context),
    ...overviewCharts(context),
    ...budgetChart(context),
    ...residualChart(context),
  ]);
  return words.mark === '.' ? charts : charts.map((chart) => ({ ...chart, mark: words.mark }));
}

interface Ranked {
  readonly c: Judged;
  readonly index: number;
}

/** Characteristics that fail, that are undecided, or that are nearest to their limits. */
function decisions(context: Context): Chart[] {
  const { last, phases } = context;
  const ranked: Ranked[] = last.phase.characteristics
    .map((c, index) => ({ c, index }))
    .filter((r): r is Ranked => isJudged(r.c))
    .sort((a, b) => byUrgency(a.c, b.c) || a.index - b.index);
  const open = ranked.filter(({ c }) => c.verdict !== 'conforms').length;
  const shown = ranked.slice(0, Math.min(MOST_IN_BODY, Math.max(open, NEAREST)));
  const drawn = shown.filter(({ c }) => (c.profile?.length ?? 0) > 1);
  return shown.flatMap(({ c, index }) => {
    const key = [c.what, ...(c.rails ?? [c.rail]).map((id) => context.tokens.get(id)!)].join('-');
    const of = [{ phase: last.name, characteristic: index }];
    const place = { section: 'straightness', role: 'body', of } as const;
    if (isSlope(c)) return slopeChart(context, { phase: last, c, key, place });
    if ((c.profile?.length ?? 0) <= 1) return [];
    const height = (of: Judged) => {
      const [low, high] = extentOf(context, of);
      return high - low;
    };
    const alike = drawn.filter((d) => d.c.what === c.what).map((d) => height(d.c));
    const own = height(c);
    const span = Math.max(own, ...alike.filter((h) => h <= SAME_SCALE * own));
    const before = phases.length > 1 ? findSame(phases[0]!, c) : undefined;
    return profileChart(context, {
      phase: last,
      c,
      before: before && { words: phases[0]!.words, c: before },
      key,
      span,
      place,
    });
  });
}

/** The second of two equal keys gets a number, because a rail may have the name "A-2". */
function uniqueKeys(charts: readonly Chart[]): Chart[] {
  const taken = new Set<string>();
  return charts.map((chart) => {
    let key = chart.key;
    for (let n = 2; taken.has(key.toLowerCase()); n++) key = `${chart.key}-${n}`;
    taken.add(key.toLowerCase());
    return key === chart.key ? chart : { ...chart, key };
  });
}
