/** results.json → the charts of its report, in reading order. Pure and cheap; `render-svg.ts` draws them. */
import type { Results } from '../../results/results-schema.js';
import { budgetCharts } from './budget-chart.js';
import { chartContext } from './chart-context.js';
import type { ChartSpec } from './chart-spec.js';
import { correctionsCharts } from './corrections-chart.js';
import { crossLevelCharts } from './cross-level-chart.js';
import { parallelismCharts } from './parallelism-chart.js';
import { planChart } from './plan-chart.js';
import { residualChart } from './residual-chart.js';
import { straightnessCharts } from './straightness-chart.js';

export function chartsOf(results: Results): ChartSpec[] {
  const context = chartContext(results);
  const { rails } = results.survey;
  const planes = ['vertical', 'horizontal', 'along'] as const;
  return uniqueKeys([
    ...planChart(context),
    ...rails.flatMap((rail) => planes.flatMap((plane) => straightnessCharts(context, rail, plane))),
    ...rails.flatMap((rail) =>
      (['vertical', 'horizontal'] as const).flatMap((direction) =>
        parallelismCharts(context, rail, direction),
      ),
    ),
    ...rails.flatMap((rail) => crossLevelCharts(context, rail)),
    ...budgetCharts(context),
    ...correctionsCharts(context),
    ...context.phases.flatMap((phase) => residualChart(context, phase)),
  ]);
}

/** A rail could be called "A-close-up": the second of two equal keys gets a number. */
function uniqueKeys(charts: readonly ChartSpec[]): ChartSpec[] {
  const taken = new Set<string>();
  return charts.map((chart) => {
    let key = chart.key;
    for (let n = 2; taken.has(key.toLowerCase()); n++) key = `${chart.key}-${n}`;
    taken.add(key.toLowerCase());
    return key === chart.key ? chart : { ...chart, key };
  });
}
