/** No text beyond the picture, none on another, none too small to print; lengths by the bundled font. */
import { describe, expect, test } from 'vitest';
import { chartsOf } from '../../../src/pages/charts/charts-of.js';
import type { VegaLiteSpec } from '../../../src/pages/charts/chart-spec.js';
import { textWidth } from '../../../src/pages/fonts/widths.js';
import { caseNames, cases } from './cases.js';
import { fixture } from './fixtures.js';

interface Text {
  readonly px: number;
  readonly py: number;
  readonly text: string;
  readonly align: string;
  readonly weight: string;
  readonly size: number;
}

function boxOf({ px, py, text, align, weight, size }: Text) {
  const width = textWidth(text, size, weight === 'bold');
  const left = px - (align === 'left' ? 0 : align === 'right' ? width : width / 2);
  return { text, left, right: left + width, top: py - 0.5 * size, bottom: py + 0.45 * size };
}

/** Where the axes put their labels. */
function tickLabels({ params, width, height }: VegaLiteSpec): Text[] {
  const value = (name: string) => params.find((one) => one.name === name)?.value as unknown;
  const axis = (name: 'x' | 'y', place: (share: number) => Pick<Text, 'px' | 'py' | 'align'>): Text[] => {
    const [domain, ticks, labels] = [`${name}Domain`, `${name}Ticks`, `${name}Labels`].map(value) as [
      [number, number]?,
      number[]?,
      string[]?,
    ];
    if (domain === undefined || ticks === undefined || labels === undefined) return [];
    return ticks.map((tick, i) => ({
      ...place((tick - domain[0]) / (domain[1] - domain[0])),
      text: labels[i]!,
      weight: 'normal',
      size: 10.5,
    }));
  };
  return [
    ...axis('x', (share) => ({ px: share * width, py: height + 11.5, align: 'center' })),
    ...axis('y', (share) => ({ px: -7, py: (1 - share) * height, align: 'right' })),
  ];
}

describe.each(caseNames)('%s', (name) => {
  test.each(chartsOf(fixture(cases[name])).map((chart) => [chart.key, chart] as const))(
    '%s',
    (_, { spec }) => {
      const { padding, width, height } = spec;
      const texts = [...(spec.datasets['texts'] as unknown as Text[]), ...tickLabels(spec)].filter(
        ({ text }) => text !== '',
      );
      const boxes = texts.map(boxOf);
      for (const [i, box] of boxes.entries()) {
        expect(texts[i]!.size).toBeGreaterThanOrEqual(10.5);
        expect(box.left, box.text).toBeGreaterThanOrEqual(-padding.left);
        expect(box.right, box.text).toBeLessThanOrEqual(width + padding.right);
        expect(box.top, box.text).toBeGreaterThanOrEqual(-padding.top);
        expect(box.bottom, box.text).toBeLessThanOrEqual(height + padding.bottom);
        for (const other of boxes.slice(i + 1)) {
          const isApart =
            box.right <= other.left ||
            other.right <= box.left ||
            box.bottom <= other.top ||
            other.bottom <= box.top;
          expect(isApart, `"${box.text}" on "${other.text}"`).toBe(true);
        }
      }
      expect(padding.left + width + padding.right).toBe(660);
    },
  );
});

/** Text width of A4, pt, at the captions' 8.5 pt. */
const captionLinePt = (178 / 25.4) * 72;

test.each(caseNames.filter((name) => name !== 'long'))(
  'three pictures and their captions stand on a page: %s',
  (name) => {
    for (const { key, section, spec, caption } of chartsOf(fixture(cases[name]))) {
      if (!['straightness', 'parallelism', 'cross-level'].includes(section)) continue;
      const { padding, height } = spec;
      if (height > 116) expect(padding.top + height + padding.bottom, key).toBeLessThanOrEqual(262);
      expect(textWidth(caption, 8.5), `${key}: ${caption}`).toBeLessThanOrEqual(1.96 * captionLinePt);
    }
  },
);

test.each([
  'Straightness of rail A, vertical',
  '+0.00036',
  '−1 234.5 µm',
  'WWW',
  'millimetres',
  'Ω轨道',
  'Größe',
])('the estimate of a width is not far off: %s', (text) => {
  for (const bold of [false, true]) {
    const ratio = textWidth(text, 10.5, bold) / textWidth(text, 10.5, bold);
    expect(ratio).toBeGreaterThan(0.93);
    expect(ratio).toBeLessThan(1.7);
  }
});
