/**
 * One theme for all pictures, as a Vega-Lite `config`. No colour carries a verdict. As left and as found differ in hue
 * (blue, ochre: apart for every common kind of colour vision), in lightness, in dash and in shape.
 */
export const colours = {
  ink: '#1d262c',
  soft: '#54616a',
  rule: '#98a4ac',
  hair: '#d3d9dd',
  zone: '#eceff1',
  paper: '#ffffff',
  'as-left': '#1f5a8c',
  'as-found': '#b06f12',
} as const;

export const fontFamily = 'Waysheet Sans';

/** Of a picture with one plot, px: 178 mm wide on paper 1 px is 0.76 pt, so 10 px are 7.6 pt. */
export const frame = {
  autosize: 'none',
  width: 458,
  padding: { left: 46, right: 156, top: 30, bottom: 36 },
} as const;

/** Lines and shapes that distinguish phases, stations and other groups. */
export const dashes = [
  [1, 0],
  [5, 3],
  [1.5, 2],
  [8, 2, 2, 2],
  [12, 3],
  [2, 5],
] as const;
/** Height of a line of text, px. */
export const LINE = 13;
export const shapes = ['circle', 'diamond', 'square', 'triangle-up'] as const;

const small = { fontSize: 10, color: colours.soft } as const;

export const theme = {
  font: `${fontFamily}, Inter, Arial, sans-serif`,
  background: colours.paper,
  // As the report writes numbers: a real minus, no separators.
  locale: { number: { decimal: '.', thousands: '', grouping: [3], currency: ['', ''], minus: '\u2212' } },
  view: { stroke: null },
  concat: { spacing: 20 },
  facet: { spacing: 14 },
  mark: { aria: false },
  // The title of the y axis is above it, so it is read without turning the page.
  title: {
    anchor: 'start',
    frame: 'bounds',
    fontSize: small.fontSize,
    fontWeight: 'normal',
    color: small.color,
    offset: 10,
    limit: 0,
  },
  axis: {
    domainColor: colours.rule,
    tickColor: colours.rule,
    tickSize: 4,
    gridColor: colours.hair,
    gridWidth: 0.6,
    labelFontSize: small.fontSize,
    labelColor: small.color,
    labelOverlap: 'greedy',
    titleFontSize: small.fontSize,
    titleColor: small.color,
    titleFontWeight: 'normal',
    titlePadding: 5,
  },
  axisX: { grid: false, titleAnchor: 'start' },
  axisY: {
    domain: false,
    ticks: false,
    tickCount: 6,
    labelPadding: 6,
  },
  header: {
    title: null,
    labelAnchor: 'start',
    labelFontSize: 10.5,
    labelFontWeight: 'bold',
    labelColor: colours.ink,
    labelPadding: 4,
    labelLimit: 0,
  },
  legend: {
    orient: 'none',
    legendX: 220,
    legendY: 117,
    direction: 'horizontal',
    title: null,
    labelFontSize: 10,
    labelColor: colours.ink,
    labelLimit: 150,
    // A job may have any number of rails; the limit of Vega is 30.
    symbolLimit: 0,
    symbolSize: 60,
    symbolStrokeWidth: 1.6,
    columnPadding: 14,
  },
  line: { strokeWidth: 1.3, strokeJoin: 'round' },
  point: { filled: true, size: 24, opacity: 1 },
  rule: { color: colours.soft, strokeWidth: 0.8 },
  tick: { thickness: 1, color: colours.soft },
  text: { fontSize: 10, color: colours.ink, baseline: 'middle', limit: 150 },
  style: {
    zone: { color: colours.zone },
    limit: { color: colours.ink, strokeWidth: 1.1 },
    guard: { color: colours.soft, strokeWidth: 0.8, strokeDash: [1.5, 2] },
    zero: { color: colours.rule, strokeWidth: 0.8 },
    quiet: { color: colours.soft, fontSize: 10 },
    // The white outline needs paint-order, which render-svg.ts sets on the root.
    named: {
      fontWeight: 'bold',
      fill: colours.ink,
      stroke: colours.paper,
      strokeWidth: 3,
      strokeJoin: 'round',
    },
  },
} as const;

/** On a screen of 390 px there is no space next to a plot. */
export const phoneTheme = {
  ...theme,
  legend: { ...theme.legend, direction: 'horizontal', legendX: 0, legendY: 196, columnPadding: 8 },
} as const;
