/** Spans that are reduced to 20 °C: the error of the stated temperature is common to all of them. */
import { effect } from './effect.js';

export const spanTemperature = effect({
  name: 'span-temperature',
  source: 'temperature',
  unit: 'K',
  joins: false,
  inPhase: ({ corrections: { spanAt20: span } }) =>
    span === null || span.temperatureU === null
      ? {}
      : {
          span: ({ nominalMm }) => ({
            key: 'span-temperature',
            perUnit: -nominalMm * 1000 * (span.instrument - span.machine),
            of: 'temperature during the spans',
            u: span.temperatureU!,
          }),
        },
});
