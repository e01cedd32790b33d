/** A small plan of the machine: rails, adjusters, and where something moves. For the correction sheet. */
import type { CorrectionPlan, Results } from '../../results/results-schema.js';

import type { Words } from '../words/words.js';

type Move = CorrectionPlan['moves'][number];

/** All in tenths of a millimetre of paper. */
const WIDTH = 1780;
const LEFT = 285;
const RIGHT = 60;
const ROW = 105;
const TOP = 70;
const RADIUS = 24;
/** Narrower than this, names do not fit into the circles. */
const ROOM = 62;

const escaped = (text: string): string =>
  text.replace(/[&<>"]/g, (c) => ({ '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' })[c]!);

const DOWNWARDS: readonly (string | undefined)[] = ['lower', 'back'];

/**
 * Rails as seen from above, the one farthest to the left on top; a filled circle moves, an open one stays.
 *
 * @param amountOf How an amount is printed.
 */
export function machineSketch(
  results: Results,
  plan: CorrectionPlan,
  { say }: Pick<Words, 'say'>,
  amountOf: (move: Move) => string,
): string {
  const rails = [...results.survey.rails].sort(
    (a, b) => (b.stations[0]?.across ?? 0) - (a.stations[0]?.across ?? 0),
  );
  const placeOf = (rail: (typeof rails)[number], k: number) =>
    rail.direction === 'along' ? rail.stations[k]!.along : rail.stations[k]!.across;
  const ends = rails.map((rail) => [placeOf(rail, 0), placeOf(rail, rail.stations.length - 1)] as const);
  const [from, to] = [Math.min(...ends.map(([a]) => a)), Math.max(...ends.map(([, b]) => b))];
  const at = (mm: number) => LEFT + ((WIDTH - LEFT - RIGHT) * (mm - from)) / Math.max(1, to - from);
  const height = TOP + ROW * rails.length;
  const parts = rails.map((rail, r) => {
    const y = TOP + ROW * r;
    const [first, last] = ends[r]!;
    const moves = plan.moves.filter((move) => move.rail === rail.id);
    const circles = placesOf(rail.id, plan);
    const isRoomy = circles.every(
      (place, k) => k === 0 || at(place.along) - at(circles[k - 1]!.along) >= ROOM,
    );
    return [
      `<text x="0" y="${y + 4}" class="rail">${escaped(rail.datum ? say('sketch.datum', { rail: rail.id }) : rail.id)}</text>`,
      rail.name ? `<text x="0" y="${y + 28}" class="name">${escaped(shortened(rail.name))}</text>` : '',
      `<line x1="${at(first).toFixed(1)}" x2="${at(last).toFixed(1)}" y1="${y}" y2="${y}" class="${rail.datum ? 'datum' : 'line'}"/>`,
      ...circles.map(({ name, along, isMoved }) => {
        const x = at(along).toFixed(1);
        const circle = `<circle cx="${x}" cy="${y}" r="${RADIUS}" class="${isMoved ? 'moves' : 'stays'}"/>`;
        return isRoomy
          ? `${circle}<text x="${x}" y="${y + 8}" class="${isMoved ? 'on' : 'off'}">${escaped(name)}</text>`
          : circle;
      }),
      ...amounts(moves, { at, y, amountOf, say }),
    ].join('');
  });
  const label = escaped(say('sketch.alt', { count: plan.moves.length }));
  return `<svg viewBox="0 0 ${WIDTH} ${height}" role="img" aria-label="${label}">${parts.join('')}</svg>`;
}

/** Names of what moves over its place; where two planes move at one place both are given. */
function amounts(
  moves: readonly Move[],
  {
    at,
    y,
    amountOf,
    say,
  }: { at: (mm: number) => number; y: number; amountOf: (move: Move) => string } & Pick<Words, 'say'>,
): string[] {
  const places = [...new Set(moves.map(({ along }) => along))].sort((a, b) => a - b);
  let free = -Infinity;
  const labels = places.map((along) => {
    const text = moves
      .filter((move) => move.along === along)
      .map((move) => `${arrowOf(move)}${amountOf(move).replace(/\u00a0?[^\d\s.,]+$/u, '')}`)
      .join(' ');
    const width = 15 * text.length;
    const x = Math.max(at(along) - width / 2, free + 12);
    free = x + width;
    return { x, text };
  });
  const label = ({ x, text }: { x: number; text: string }) =>
    `<text x="${x.toFixed(1)}" y="${y - RADIUS - 10}" class="amount">${escaped(text)}</text>`;
  // Where they do not fit, the list has them.
  return free > WIDTH
    ? [label({ x: at(places[0]!), text: say('sketch.many', { count: places.length }) })]
    : labels.map(label);
}

const arrowOf = ({ direction }: Move): string =>
  direction === 'left'
    ? '\u2190'
    : direction === 'right'
      ? '\u2192'
      : DOWNWARDS.includes(direction)
        ? '\u2193'
        : '\u2191';

const shortened = (name: string): string => (name.length > 22 ? `${name.slice(0, 21)}…` : name);

/** Every adjuster that the results name on a rail, and whether it moves. */
function placesOf(rail: string, plan: CorrectionPlan) {
  const moving = new Set(plan.moves.filter((move) => move.rail === rail).map(({ adjuster }) => adjuster));
  // Of stations, which take the place of adjusters where the job names none, only those that move.
  return (plan.places ?? plan.moves)
    .filter((place) => place.rail === rail)
    .map(({ adjuster, along }) => ({
      name: adjuster.replace(`${rail}:`, ''),
      along,
      isMoved: moving.has(adjuster),
    }))
    .sort((a, b) => a.along - b.along);
}
