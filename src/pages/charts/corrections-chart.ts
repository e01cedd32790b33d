/** The plan of moves on one rail: how it lies, how it is expected to lie, its tolerance, and the moves at their places. */
import { isKnown } from '../../results/known.js';
import type { ChartContext, PhaseContext, SurveyRail } from './chart-context.js';
import {
  characteristicOf,
  isLimited,
  lastPhase,
  lengthPerDeviation,
  limitText,
  railPosition,
  railWords,
  titleOf,
} from './chart-context.js';
import type { ChartSpec } from './chart-spec.js';
import { roughText } from './number-words.js';
import { drawProfile, type ProfileInput } from './profile/profile.js';
import type { ProfileSeries } from './profile/series.js';
import { barLabel, drawingWords } from './profile/words.js';
import { evenZone, type Zone } from './profile/zones.js';

const signs = {
  vertical: { sign: '+ up', axis: 'deviation up' },
  horizontal: { sign: '+ left, facing increasing along', axis: 'deviation left' },
} as const;

export function correctionsCharts(context: ChartContext): ChartSpec[] {
  const { results } = context;
  const { after = [], moves = [], of } = results.corrections;
  const last = lastPhase(context);
  if (of !== 'adjusters' || last === undefined) return [];
  return results.survey.rails.flatMap((rail) =>
    (['vertical', 'horizontal'] as const).flatMap((plane): ChartSpec[] => {
      const own = after.filter((a) => a.rail === rail.id && a.axis === plane);
      const made = moves.filter((m) => m.rail === rail.id && m.axis === plane);
      if (own.length < 2 || made.length === 0) return [];
      const { deviation, length } = context;
      const read = last.stations.get(rail.id);
      const samples = (pick: 'now' | 'after'): ProfileSeries['samples'] =>
        rail.stations.map((place) => {
          const told = own.find((a) => a.station === place.station);
          const quantity = read?.get(place.station)?.deviation[plane];
          return {
            station: place.station,
            x: length.fromBase(railPosition(rail, place)),
            y: told === undefined ? null : deviation.fromBase(told[pick]),
            half: isKnown(quantity) ? Math.abs(deviation.fromBase(quantity.u)) * context.k : 0,
          };
        });
      // The looks of as found and as left are those of before and after everywhere.
      const as = (role: PhaseContext['role'], words: string): PhaseContext => ({ ...last, role, words });
      const series: ProfileSeries[] = [
        { phase: as('as-found', 'now'), samples: samples('now'), extremes: [] },
        { phase: as('as-left', 'expected after the moves'), samples: samples('after'), extremes: [] },
      ];
      const title = titleOf(rail, (named) => `Moves of ${named}, ${plane}`);
      const { sign, axis } = signs[plane];
      const input: ProfileInput = {
        title,
        outcome: [],
        xTitle: `${rail.direction}, ${length.label}`,
        yTitle: `${axis}, ${deviation.label}`,
        zeroLabel: 'zero: own least-squares line',
        barLabel: barLabel(context),
        series,
        zones: zoneOf(context, rail, plane, last, series[1]!),
        arrows: made.map(({ along, move, adjuster }) => ({
          x: length.fromBase(along),
          by: deviation.fromBase(move),
          label: adjuster,
        })),
        note: `Sign: ${sign}. Deviations drawn about {times} times larger than lengths. Arrows: each adjuster’s move, to the same scale.`,
        xPerY: lengthPerDeviation(context),
      };
      const profile = drawProfile(input, roughText);
      const token = context.tokens.get(rail.id)!;
      return [
        {
          key: `moves-${plane}-${token}`,
          title,
          caption: [
            'What the moves of the plan make of the deviations from the rail’s own least-squares line, as the rail bends between its supports.',
            ...drawingWords(profile, series),
          ].join(' '),
          alt: `Line chart: ${plane} deviations of ${railWords(rail.id)} now and as expected after ${made.length} moves; ${sign}.`,
          section: 'moves',
          rail: rail.id,
          spec: profile.spec,
        },
      ];
    }),
  );
}

/** The limit on straightness about the least-squares line, evenly about the expected extremes. */
function zoneOf(
  context: ChartContext,
  rail: SurveyRail,
  plane: 'vertical' | 'horizontal',
  phase: PhaseContext,
  expected: ProfileSeries,
): Zone[] {
  const judged = characteristicOf(phase, `straightness-${plane}`, rail.id, 'least-squares');
  if (!isLimited(judged) || judged.reference !== 'least-squares') return [];
  const label = `tolerance zone, ${limitText(context, judged, context.deviation)} wide`;
  return [evenZone(context.deviation, expected, judged.limit, label)];
}
