/** On which side of its plane a target is when the display shows a positive reading: chosen by a picture. */
import { h, svg } from './dom.js';
import type { JobDocument } from './document.js';

type Axis = 'vertical' | 'horizontal' | 'along';

const SIDES: Readonly<Record<Axis, readonly [word: string, said: string][]>> = {
  vertical: [
    ['up', 'above the level plane'],
    ['down', 'below the level plane'],
  ],
  horizontal: [
    ['left', 'left of the plane along the rails'],
    ['right', 'right of the plane along the rails'],
  ],
  along: [
    ['ahead', 'ahead of the plane square to the rails'],
    ['back', 'behind the plane square to the rails'],
  ],
};

/** Seen against +along for vertical and horizontal, from above for along: the plane as a line, the target as a dot. */
function picture(axis: Axis, side: string): SVGElement {
  const isLevel = axis === 'vertical';
  const isFirst = side === 'up' || side === 'left' || side === 'ahead';
  const plane = isLevel
    ? svg('line', { x1: 4, y1: 24, x2: 68, y2: 24, class: 'plane' })
    : svg('line', { x1: 36, y1: 4, x2: 36, y2: 44, class: 'plane' });
  const near = axis === 'along' ? !isFirst : isFirst;
  const [x, y] = isLevel ? [36, isFirst ? 12 : 36] : [near ? 18 : 54, 24];
  return svg(
    'svg',
    { viewBox: '0 0 72 48', width: 72, height: 48, 'aria-hidden': 'true' },
    plane,
    svg('circle', { cx: x, cy: y, r: 5 }),
    svg('text', { x: x + 7, y: y + 4 }, '+'),
  );
}

export function signChoice(document: JobDocument, setup: number): HTMLElement {
  const box = h(
    'div',
    { class: 'signs' },
    h('p', {}, 'Where is the target when the display shows a positive reading?'),
  );
  for (const axis of Object.keys(SIDES) as Axis[]) {
    const name = `sign.${setup}.${axis}`;
    const group = h('fieldset', { class: 'sign' }, h('legend', {}, axis));
    for (const [word, said] of SIDES[axis]) {
      const input = h('input', {
        type: 'radio',
        name,
        id: `${name}.${word}`,
        value: word,
        checked: document.at(['setups', setup, 'plus', axis]) === word,
        change: () => {
          document.set(['setups', setup, 'plus', axis], word);
          const select = window.document.getElementById(
            `setups.${setup}.plus.${axis}`,
          ) as HTMLSelectElement | null;
          if (select) select.value = word;
        },
      });
      group.append(h('label', { for: `${name}.${word}` }, input, picture(axis, word), said));
    }
    box.append(group);
  }
  return box;
}
