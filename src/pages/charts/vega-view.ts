/** The part of vega that draws: a bundle leaves out what only a compiler needs. */
export { View } from 'vega';
