/** The plan of the survey, to scale, drawn anew with every number that is typed; set-ups and monuments can be dragged. */
import { svg } from './dom.js';
import type { JobDocument, Json } from './document.js';

const WIDTH = 720;
const HEIGHT = 300;
const PAD = 44;

interface Thing {
  readonly kind: 'set-up' | 'monument';
  readonly path: readonly (string | number)[];
  readonly id: string;
  readonly along: number;
  readonly across: number;
}

type Entry = Readonly<Record<string, Json>>;
const entriesOf = (document: JobDocument, key: string): Entry[] => {
  const list = document.at([key]);
  return Array.isArray(list)
    ? list.map((e) => (typeof e === 'object' && e !== null && !Array.isArray(e) ? e : {}))
    : [];
};
const numberIn = (entry: Entry, key: string): number | null =>
  typeof entry[key] === 'number' ? (entry[key] as number) : null;

/** Places of a rail's stations along its own direction. */
function stationsOf(entry: Entry): number[] {
  const said = entry['stations'];
  if (typeof said !== 'object' || said === null || Array.isArray(said)) return [];
  const at = said['at'];
  if (Array.isArray(at)) return at.filter((v): v is number => typeof v === 'number');
  const [first, spacing, count] = [
    numberIn(said, 'first') ?? 0,
    numberIn(said, 'spacing'),
    numberIn(said, 'count'),
  ];
  if (spacing === null || count === null) return [];
  return Array.from({ length: Math.min(count, 2000) }, (_, k) => first + k * spacing);
}

interface Line {
  readonly id: string;
  readonly isDatum: boolean;
  readonly points: readonly (readonly [along: number, across: number])[];
}

function linesOf(document: JobDocument): Line[] {
  return entriesOf(document, 'rails').flatMap((entry): Line[] => {
    const isCross = entry['direction'] === 'across';
    const place = numberIn(entry, isCross ? 'along' : 'across');
    const stations = stationsOf(entry);
    if (place === null || stations.length === 0) return [];
    const points = stations.map((s): [number, number] => (isCross ? [place, s] : [s, place]));
    return [{ id: String(entry['id'] ?? ''), isDatum: entry['datum'] === true, points }];
  });
}

function thingsOf(document: JobDocument): Thing[] {
  const of = (key: string, kind: Thing['kind']) =>
    entriesOf(document, key).flatMap((entry, k): Thing[] => {
      const [along, across] = [numberIn(entry, 'along'), numberIn(entry, 'across')];
      return along === null || across === null
        ? []
        : [{ kind, path: [key, k], id: String(entry['id'] ?? ''), along, across }];
    });
  return [...of('setups', 'set-up'), ...of('monuments', 'monument')];
}

/** A step that a person would say: a hundredth of the plan, rounded. */
const stepOf = (extent: number): number =>
  Number(`1e${Math.floor(Math.log10(Math.max(extent, 1e-6) / 100))}`);

export class Plan {
  readonly element = svg('svg', {
    viewBox: `0 0 ${WIDTH} ${HEIGHT}`,
    role: 'group',
    'aria-label': 'Plan of the survey, seen from above, to scale',
    class: 'plan',
  });

  /** @param moved Called when a thing was dragged: its fields are to show its new place. */
  constructor(
    private readonly document: JobDocument,
    private readonly moved: (path: readonly (string | number)[]) => void,
  ) {
    this.draw();
    document.onChange(() => this.draw());
  }

  private draw(): void {
    const focused = window.document.activeElement?.getAttribute('data-thing');
    const lines = linesOf(this.document);
    const things = thingsOf(this.document);
    const along = [...lines.flatMap((l) => l.points.map((p) => p[0])), ...things.map((t) => t.along)];
    const across = [...lines.flatMap((l) => l.points.map((p) => p[1])), ...things.map((t) => t.across)];
    this.element.replaceChildren();
    if (along.length === 0) {
      this.element.append(
        svg(
          'text',
          { x: WIDTH / 2, y: HEIGHT / 2, 'text-anchor': 'middle' },
          'Rails appear here as their stations are typed.',
        ),
      );
      return;
    }
    const least = (list: number[]) => list.reduce((a, b) => Math.min(a, b), Infinity);
    const most = (list: number[]) => list.reduce((a, b) => Math.max(a, b), -Infinity);
    const [x0, x1, y0, y1] = [least(along), most(along), least(across), most(across)];
    const scale = Math.min(
      (WIDTH - 2 * PAD) / Math.max(x1 - x0, 1e-9),
      (HEIGHT - 2 * PAD) / Math.max(y1 - y0, 1e-9),
    );
    const px = (v: number) => PAD + (v - x0) * scale + (WIDTH - 2 * PAD - (x1 - x0) * scale) / 2;
    const py = (v: number) => HEIGHT - PAD - (v - y0) * scale - (HEIGHT - 2 * PAD - (y1 - y0) * scale) / 2;
    for (const { id, isDatum, points } of lines) {
      const [first, last] = [points[0]!, points[points.length - 1]!];
      this.element.append(
        svg('line', {
          x1: px(first[0]),
          y1: py(first[1]),
          x2: px(last[0]),
          y2: py(last[1]),
          class: isDatum ? 'rail datum' : 'rail',
        }),
        ...points
          .filter((_, k) => k % Math.ceil(points.length / 80) === 0)
          .map((p) => svg('circle', { cx: px(p[0]), cy: py(p[1]), r: 2.2, class: 'station' })),
        svg(
          'text',
          { x: px(first[0]) - 8, y: py(first[1]) + 4, 'text-anchor': 'end' },
          isDatum ? `${id} (datum)` : id,
        ),
      );
    }
    const unit = String(this.document.at(['units', 'length']) ?? '');
    this.element.append(
      svg(
        'text',
        { x: 6, y: HEIGHT - 6 },
        `along + →  across + ↑   ${Number((x1 - x0).toPrecision(6))} × ${Number((y1 - y0).toPrecision(6))} ${unit}`,
      ),
    );
    for (const thing of things)
      this.element.append(this.thing(thing, px, py, scale, stepOf(Math.max(x1 - x0, y1 - y0))));
    if (focused)
      (this.element.querySelector(`[data-thing="${CSS.escape(focused)}"]`) as SVGElement | null)?.focus();
  }

  private thing(
    thing: Thing,
    px: (v: number) => number,
    py: (v: number) => number,
    scale: number,
    step: number,
  ): SVGElement {
    const { kind, id, along, across, path } = thing;
    const [x, y] = [px(along), py(across)];
    const mark =
      kind === 'set-up'
        ? svg('path', { d: `M${x - 8} ${y + 7}h16l-8 -15z` })
        : svg('rect', { x: x - 6, y: y - 6, width: 12, height: 12 });
    const group = svg(
      'g',
      {
        class: `thing ${kind}`,
        tabindex: 0,
        role: 'button',
        'data-thing': path.join('.'),
        'aria-label': `${kind} ${id}, along ${along}, across ${across}. The arrow keys move it.`,
      },
      mark,
      svg('text', { x: x + 11, y: y + 4 }, id),
    );
    const put = (a: number, b: number) => {
      const rounded = (v: number) => Number((Math.round(v / step) * step).toPrecision(9));
      this.document.set([...path, 'along'], rounded(a));
      this.document.set([...path, 'across'], rounded(b));
      this.moved(path);
    };
    group.addEventListener('keydown', (event) => {
      const by = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[event.key];
      if (by === undefined) return;
      event.preventDefault();
      const times = event.shiftKey ? 10 : 1;
      put(along + by[0]! * step * times, across + by[1]! * step * times);
    });
    group.addEventListener('pointerdown', (event) => {
      event.preventDefault();
      const box = this.element.getBoundingClientRect();
      const perPixel = WIDTH / box.width / scale;
      const [fromX, fromY] = [event.clientX, event.clientY];
      const move = (e: PointerEvent) =>
        put(along + (e.clientX - fromX) * perPixel, across - (e.clientY - fromY) * perPixel);
      const end = () => {
        window.removeEventListener('pointermove', move);
        window.removeEventListener('pointerup', end);
      };
      window.addEventListener('pointermove', move);
      window.addEventListener('pointerup', end);
    });
    return group;
  }
}
