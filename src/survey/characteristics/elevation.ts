import { characteristic } from './characteristic.js';

/** Heights from benchmarks: monuments whose height is stated in the job. */
export const elevation = characteristic({
  name: 'elevation',
  title: 'Elevation',
  family: 'length',
  rails: 'any',
  onlyByTolerance: true,
  sign: 'higher than nominal',
  meaning: 'elevation',
});
