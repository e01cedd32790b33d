/**
 * Colours by role. None carries a verdict. As left and as found differ in hue (blue, ochre: apart for every
 * common kind of colour vision), in lightness (grey 27 % and 52 %), in marker and in line style.
 */
export const palette = {
  paper: '#ffffff',
  ink: '#1d262c',
  soft: '#54616a',
  faint: '#98a4ac',
  grid: '#e3e7ea',
  /** The zone that a tolerance allows, and the narrower part of it that guarded acceptance leaves. */
  zone: '#eceff1',
  acceptance: '#d9dfe3',
  zoneEdge: '#54616a',
} as const;

export interface SeriesLook {
  readonly colour: string;
  /** Fill of the marker: paper for an open one. */
  readonly fill: string;
  readonly band: string;
  readonly shape: 'circle' | 'square';
  readonly dash: readonly number[];
  readonly width: number;
}

export type SeriesRole = 'as-found' | 'as-left';

export const seriesLooks: Readonly<Record<SeriesRole, SeriesLook>> = {
  'as-found': {
    colour: '#b06f12',
    fill: '#ffffff',
    band: '#f0dcbd',
    shape: 'square',
    dash: [5, 3],
    width: 1.1,
  },
  'as-left': { colour: '#123f73', fill: '#123f73', band: '#bccbdd', shape: 'circle', dash: [], width: 1.4 },
};

/** Line width of a thinned series: dashes would be lost in its zigzag. */
export const denseWidth = 0.7;
