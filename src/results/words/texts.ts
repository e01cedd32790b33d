/** The words of the report that do not depend on a job: names, verdicts, meanings, cautions. */
import type { ReferenceName } from '../../survey/characteristics/characteristic.js';
import {
  characteristics,
  perCharacteristic,
  type CharacteristicName,
} from '../../survey/characteristics/characteristics.js';
import type { Verdict } from '../results-schema.js';

export { phaseWords } from '../../survey/readings/phase-words.js';

export const verdictWords: Record<Verdict, string> = {
  conforms: 'conforms',
  'does-not-conform': 'does not conform',
  undecided: 'undecided',
  reported: 'no tolerance',
};

/** Plain shapes, told apart without colour. */
export const verdictMarks: Record<Verdict, string> = {
  conforms: '✓',
  'does-not-conform': '✗',
  undecided: '◇',
  reported: '',
};

/** As the report prints them. */
export const characteristicNames = perCharacteristic(({ title }) => title);

export const againstDatum: ReadonlySet<CharacteristicName> = new Set(
  characteristics.filter(({ relative }) => relative).map(({ name }) => name),
);

/** Of a line, or of the plane of coplanarity. */
export const referenceWords: Record<ReferenceName, string> = {
  'least-squares': 'least squares',
  'minimum-zone': 'minimum zone',
  'end-points': 'end points',
};
