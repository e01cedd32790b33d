/** The plan in words and as a drawing of characters, for a last look before anything is written. */
import { unitLabel } from '../../base/units/units.js';
import { monumentsOf, setupsOf } from './planned-job.js';
import { offsetRows, slopeRows, spanRows } from './planned-rows.js';
import { gapsOf, railIds, readingUnit, slopeUnit, type Plan } from './plan.js';

/** Characters between the first and the last station. */
const WIDTH = 49;

export function summaryOf(plan: Plan): string {
  const { units, stations, rails, passes, phases, tolerances, toleranceSet } = plan;
  const first = stations[0]!;
  const last = stations[stations.length - 1]!;
  const rows = offsetRows(plan).length;
  const named = [plan.title, plan.customer, plan.site, plan.machine].filter((text) => text !== null);
  return [
    '',
    `Job ${plan.id}${named.length === 0 ? '' : `: ${named.join(', ')}`}`,
    ...(plan.by === null && plan.on === null
      ? []
      : [`  surveyed${plan.by === null ? '' : ` by ${plan.by}`}${plan.on === null ? '' : ` on ${plan.on}`}`]),
    `  ${rails} rail${rails === 1 ? '' : 's'}${rails === 1 ? '' : `, ${gapsOf(plan).join(', ')} ${units} apart`}; ${stations.length} stations each, from ${first} to ${last} ${units}`,
    `  ${passes} pass${passes === 1 ? '' : 'es'}, ${rows} rows of readings a phase (${phases.join(', ')})${plan.spans === 0 ? '' : `, and ${spanRows(plan).length} distances across`}${plan.slopes === 'none' ? '' : `, and ${slopeRows(plan).length} steps with a level, each good to ${plan.slopeU} ${unitLabel(slopeUnit(plan))}`}`,
    `  a reading is good to ${plan.u} ${unitLabel(readingUnit(plan))} (k = 1) and ${plan.perMetre} a metre; the level to ${plan.level.value} ${unitLabel(plan.level.unit)}`,
    ...(toleranceSet !== null
      ? [
          `  ${plan.rule} acceptance by the limits of ${toleranceSet.file}${toleranceSet.grade === null ? '' : `, grade ${toleranceSet.grade}`}`,
        ]
      : tolerances.length === 0
        ? ['  no tolerances: all is reported without a verdict']
        : [
            `  ${plan.rule} acceptance of: ${tolerances.map(({ what, limit, unit }) => `${what} ${limit} ${unitLabel(unit)}`).join(', ')}`,
          ]),
    '',
    ...drawing(plan),
    '',
  ].join('\n');
}

/** A line for each rail, set-up and monument, the greatest across on top. */
function drawing(plan: Plan): string[] {
  const first = plan.stations[0]!;
  const length = plan.stations[plan.stations.length - 1]! - first;
  const column = (along: number): number => Math.round(((along - first) / length) * (WIDTH - 1));
  const placed = (mark: string, list: readonly { id: string; along: number; across: number }[]) =>
    list.map(({ id, along, across }) => ({
      across,
      line: `${' '.repeat(9 + Math.max(0, column(along)))}${mark} ${id}`,
    }));
  const rails = railIds(plan).map((id, k) => {
    const marks = Array<string>(WIDTH).fill('-');
    for (const along of plan.stations) marks[column(along)] = '+';
    return {
      across: plan.across[k]!,
      line: `  ${id.padEnd(3)} 1  ${marks.join('')}  ${plan.stations.length}${k === 0 ? '  datum' : ''}`,
    };
  });
  const monuments = plan.setups === 'two' ? monumentsOf(plan) : [];
  const all = [...rails, ...placed('^', setupsOf(plan)), ...placed('x', monuments)];
  all.sort((a, b) => b.across - a.across);
  return [
    ...all.map(({ line }) => line),
    '  along + to the right, across + upwards; ^ set-up, x monument; not to scale',
  ];
}
