/** The words of the report that do not depend on a job: names, verdicts, meanings, cautions. */
import type { ReferenceName } from '../../survey/characteristics/characteristic.js';
import {
  characteristics,
  perCharacteristic,
  type CharacteristicName,
} from '../../survey/characteristics/characteristics.js';
import type { Verdict } from '../results-schema.js';

/** What the coverage interval promises and what not, in plain words. */
export const INTERVAL_SENTENCE =
  'The coverage interval holds the true value at least as often as stated, whatever the shape of the rail, as long as the readings scatter no more than stated here; it says nothing of errors that no reading and no stated uncertainty shows. Its upper end is the greatest that any pair of places reads, with that pair’s own uncertainty; its lower end allows for what chance makes of all the places that may be the extreme ones. Where many places lie nearly as far out, it covers more often than stated.';

export const NOT_RECORDED = 'not recorded';
export const NOT_DETERMINED = 'not determined';
/** Heading of what the readings leave open, and of what would settle it. */
export const UNDETERMINED = 'What the readings cannot determine';

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

/** What the names mean and, where a figure is signed, what the sign means; once per meaning. */
export const characteristicMeanings: readonly {
  readonly label: string;
  readonly names: readonly CharacteristicName[];
  readonly text: string;
}[] = [...new Set(characteristics.map(({ meaning }) => meaning))].map((meaning) => ({
  ...meaning,
  names: characteristics.filter((c) => c.meaning === meaning).map(({ name }) => name),
}));

export const againstDatum: ReadonlySet<CharacteristicName> = new Set(
  characteristics.filter(({ relative }) => relative).map(({ name }) => name),
);

/** Of a line, or of the plane of coplanarity. */
export const referenceWords: Record<ReferenceName, string> = {
  'least-squares': 'least squares',
  'minimum-zone': 'minimum zone',
  'end-points': 'end points',
};

export const axisWords: Record<string, string> = {
  vertical: 'vertical',
  horizontal: 'horizontal',
  along: 'along',
};

export const SIGN_CONVENTION =
  'Facing the way in which along increases: + offset is to the left, + height is up. + pitch rises along, + roll rises to the left, + yaw turns to the left.';

export const ITEMS_STATEMENT =
  'The results relate only to the items measured, as they stood on the days of measurement. This report may be copied only as a whole.';

export const DRAFT_STATEMENT = 'It is a draft until it is issued and “Approved by” is signed.';

export const CAUTIONS: readonly { readonly lead: string; readonly text: string }[] = [
  {
    lead: 'Stored energy.',
    text: 'Stop, isolate, lock out and tag the drives and every other supply; let down or block hydraulics, air, springs and raised masses; try that nothing moves before hands go in.',
  },
  {
    lead: 'Supported loads and crushing.',
    text: 'Jacks and levelling screws move a load, they do not hold it: pack as you go, keep hands and feet out of every gap, and nobody beneath or between.',
  },
  {
    lead: 'Laser and eyes.',
    text: 'Know the class on the instrument’s label. Do not look into the beam or at its reflection from a bright rail; keep it away from eye height and switch it off when it is not read.',
  },
  {
    lead: 'Who may do it.',
    text: 'The machine builder’s procedure, local codes and the rules for licensed work (lifting, electrical, structural) come before this page.',
  },
];
