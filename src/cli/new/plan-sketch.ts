/** A small plan for the field sheet: which rail is which, where station 1 is, which way is plus. Not to scale. */
import { extent } from '../../base/statistics/extent.js';
import Handlebars from 'handlebars';
import type { Words } from '../../pages/words/words.js';
import { type Plan, railIds } from './plan.js';
import { monumentsOf, setupsOf } from './planned-job.js';

/** Size of the drawing, in its own units; the page scales it. */
const WIDTH = 700;
const HEIGHT = 196;
/** Room for ids left and right of the rails, and above and below them for the arrows and set-ups. */
const PAD = { left: 130, right: 40, top: 26, bottom: 46 };

const escaped = (text: string): string => Handlebars.escapeExpression(text);

interface Point {
  readonly x: number;
  readonly y: number;
}

/** SVG text, made of numbers, of our own ids and words. */
export function planSketch(plan: Plan, { say }: Words): string {
  const setups = setupsOf(plan);
  const monuments = plan.setups === 'two' ? monumentsOf(plan) : [];
  const rails = railIds(plan).map((id, k) => ({ id, across: plan.across[k]! }));
  const at = frame(
    plan,
    [...setups, ...monuments, ...rails].map(({ across }) => across),
  );
  const last = plan.stations.length;
  const marks = [
    ...rails.flatMap(({ id, across }, k) => {
      const ends = [plan.stations[0]!, plan.stations[last - 1]!].map((along) => at(along, across));
      return [
        line(ends[0]!, ends[1]!, 2.5),
        ...plan.stations.filter(isDrawn).map((along) => tick(at(along, across))),
        ...(hasRoom(k)
          ? [
              text({ x: ends[0]!.x - 12, y: ends[0]!.y + 5 }, `${id} 1`, 'end'),
              text({ x: ends[1]!.x + 8, y: ends[1]!.y + 5 }, String(last), 'start'),
            ]
          : []),
      ];
    }),
    ...setups.map(({ id, along, across }) => triangle(at(along, across), id)),
    ...monuments.map(({ id, along, across }) => target(at(along, across), id)),
    arrow({ x: 14, y: HEIGHT - 14 }, { x: 74, y: HEIGHT - 14 }),
    text({ x: 80, y: HEIGHT - 9 }, escaped(say('field.sketch.along')), 'start'),
    arrow({ x: 14, y: HEIGHT - 14 }, { x: 14, y: HEIGHT - 64 }),
    text({ x: 24, y: HEIGHT - 56 }, escaped(say('field.sketch.across')), 'start'),
    text({ x: WIDTH, y: HEIGHT - 9 }, escaped(say('field.sketch.note')), 'end'),
  ];
  return `<svg viewBox="0 0 ${WIDTH} ${HEIGHT}" role="img" aria-label="${escaped(say('field.sketch.alt'))}">${marks.join('')}</svg>`;

  /** Of many stations only some: the ends carry the numbers. */
  function isDrawn(_: number, k: number): boolean {
    return k % Math.ceil(last / 60) === 0 || k === last - 1;
  }

  /** Of many rails only some are named; their ids follow the alphabet. */
  function hasRoom(k: number): boolean {
    return (rails.length - 1 - k) % Math.ceil(rails.length / 6) === 0 || k === 0;
  }
}

/** Along to the right, across + to the left of it, which is up. */
function frame({ stations }: Plan, across: readonly number[]): (along: number, across: number) => Point {
  const [first, end] = [stations[0]!, stations[stations.length - 1]!];
  const [low, high] = extent(across);
  const share = (value: number, from: number, to: number) => (to > from ? (value - from) / (to - from) : 0.5);
  return (along, here) => ({
    x: round(PAD.left + share(along, first, end) * (WIDTH - PAD.left - PAD.right)),
    y: round(HEIGHT - PAD.bottom - share(here, low, high) * (HEIGHT - PAD.top - PAD.bottom)),
  });
}

const round = (value: number): number => Math.round(value * 10) / 10;

const line = (from: Point, to: Point, width: number): string =>
  `<line x1="${from.x}" y1="${from.y}" x2="${to.x}" y2="${to.y}" stroke="currentColor" stroke-width="${width}"/>`;

const tick = ({ x, y }: Point): string => line({ x, y: y - 5 }, { x, y: y + 5 }, 1);

const text = ({ x, y }: Point, words: string, anchor: 'start' | 'end'): string =>
  `<text x="${x}" y="${y}" text-anchor="${anchor}">${words}</text>`;

const triangle = ({ x, y }: Point, id: string): string =>
  `<path d="M${x - 8} ${y + 6}h16l-8 -14z" fill="currentColor"/>${text({ x: x + 13, y: y + 5 }, id, 'start')}`;

const target = ({ x, y }: Point, id: string): string =>
  `<circle cx="${x}" cy="${y}" r="6" fill="none" stroke="currentColor" stroke-width="1.5"/>` +
  `${line({ x: x - 9, y }, { x: x + 9, y }, 1)}${line({ x, y: y - 9 }, { x, y: y + 9 }, 1)}` +
  text({ x: x + 13, y: y + 5 }, id, 'start');

function arrow(from: Point, to: Point): string {
  const head =
    to.y === from.y
      ? `M${to.x} ${to.y}l-8 -4v8z` //
      : `M${to.x} ${to.y}l-4 8h8z`;
  return `${line(from, to, 1.2)}<path d="${head}" fill="currentColor"/>`;
}
