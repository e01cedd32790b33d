/** The texts of a picture and the room that each takes, px from its upper left corner. */
import { textWidth } from '../../../src/pages/fonts/widths.js';

export interface DrawnText {
  readonly text: string;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

const unescaped = (text: string) =>
  text
    .replace(/&lt;/g, '<')
    .replace(/&gt;/g, '>')
    .replace(/&quot;/g, '"')
    .replace(/&amp;/g, '&');

export function drawnTexts(svg: string): { width: number; height: number; texts: DrawnText[] } {
  const [, width, height] = /viewBox="0 0 ([\d.]+) ([\d.]+)"/.exec(svg)!.map(Number) as [
    number,
    number,
    number,
  ];
  const stack: [number, number][] = [[0, 0]];
  const texts: DrawnText[] = [];
  let open: { at: [number, number]; tag: string } | null = null;
  for (const [, closing, name, attributes, alone, text] of svg.matchAll(
    /<(\/?)([a-z]+)([^>]*?)(\/?)>([^<]*)/g,
  )) {
    if (closing === '/') {
      stack.pop();
      continue;
    }
    const move = /transform="translate\(([-\d.e]+),([-\d.e]+)\)/.exec(attributes!);
    const [x, y] = stack.at(-1)!;
    const at: [number, number] = [x + Number(move?.[1] ?? 0), y + Number(move?.[2] ?? 0)];
    if (name === 'text') open = { at, tag: attributes! };
    if (text!.trim() !== '' && open !== null && (name === 'text' || name === 'tspan')) {
      const attribute = (key: string) => new RegExp(`${key}="([^"]*)"`).exec(open!.tag)?.[1];
      const size = Number(attribute('font-size')!.replace('px', ''));
      const w = textWidth(unescaped(text!), size, attribute('font-weight') === 'bold');
      const anchor = attribute('text-anchor');
      const left = open.at[0] - (anchor === 'middle' ? w / 2 : anchor === 'end' ? w : 0);
      texts.push({
        text: unescaped(text!),
        left,
        right: left + w,
        top: open.at[1] - 0.75 * size,
        bottom: open.at[1] + 0.25 * size,
      });
    }
    if (alone !== '/') stack.push(at);
  }
  return { width, height, texts };
}
