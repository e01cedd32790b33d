/** The words of the report that do not depend on a job: names, verdicts, meanings, cautions. */
import type { CharacteristicName, ReferenceName } from '../../survey/job/job-schema.js';
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

export const characteristicNames: Record<CharacteristicName, string> = {
  'straightness-vertical': 'Straightness, vertical',
  'straightness-horizontal': 'Straightness, horizontal',
  'straightness-vertical-local': 'Local straightness, vertical',
  'straightness-horizontal-local': 'Local straightness, horizontal',
  'level-along': 'Level along the rail',
  'parallelism-vertical': 'Parallelism, vertical',
  'parallelism-horizontal': 'Parallelism, horizontal',
  'height-difference': 'Height difference',
  'cross-level': 'Cross-level',
  twist: 'Twist',
  span: 'Span',
  coplanarity: 'Coplanarity',
  squareness: 'Squareness',
  'joint-step-vertical': 'Step at a joint, vertical',
  'joint-step-horizontal': 'Step at a joint, horizontal',
  'joint-slope-vertical': 'Change of slope at a joint, vertical',
  'joint-slope-horizontal': 'Change of slope at a joint, horizontal',
  'rate-of-change-vertical': 'Rate of change, vertical',
  'rate-of-change-horizontal': 'Rate of change, horizontal',
};

/** What the names mean and, where a figure is signed, what the sign means; said once for a family of names. */
export const characteristicMeanings: readonly {
  readonly label: string;
  readonly names: readonly CharacteristicName[];
  readonly text: string;
}[] = [
  {
    label: 'Straightness',
    names: ['straightness-vertical', 'straightness-horizontal'],
    text: 'peak-to-valley straightness deviation (STRt of ISO 12780-1): the range of the stations’ deviations from the reference line, in height (vertical) or sideways (horizontal).',
  },
  {
    label: 'Local straightness',
    names: ['straightness-vertical-local', 'straightness-horizontal-local'],
    text: 'the same within the worst stretch of the stated length; each stretch has a line of its own.',
  },
  {
    label: 'Level along the rail',
    names: ['level-along'],
    text: 'slope of the rail’s least-squares line against gravity; + rises with increasing along.',
  },
  {
    label: 'Parallelism',
    names: ['parallelism-vertical', 'parallelism-horizontal'],
    text: 'range (greatest minus least) of the height above the datum rail (vertical) or of the distance across from it (horizontal), at the same place along.',
  },
  {
    label: 'Height difference',
    names: ['height-difference'],
    text: 'height above the datum rail where it is farthest from zero; + the rail is higher than the datum rail.',
  },
  {
    label: 'Cross-level',
    names: ['cross-level'],
    text: 'height above the datum rail divided by the distance across, where it is farthest from zero; + the rail is higher than the datum rail.',
  },
  { label: 'Twist', names: ['twist'], text: 'range (greatest minus least) of the cross-level.' },
  {
    label: 'Span',
    names: ['span'],
    text: 'distance across from the datum rail less its nominal, where it is farthest from zero; + wider than nominal.',
  },
  {
    label: 'Coplanarity',
    names: ['coplanarity'],
    text: 'thickness of the zone about the reference plane that holds all stations of the rail and the datum rail.',
  },
  {
    label: 'Squareness',
    names: ['squareness'],
    text: 'angle between the datum rail’s line (increasing along) and the cross rail’s line (increasing across) less 90°; + larger than a right angle.',
  },
  {
    label: 'Joints',
    names: ['joint-step-vertical', 'joint-step-horizontal', 'joint-slope-vertical', 'joint-slope-horizontal'],
    text: 'each part of the rail is continued to the joint by the line through its two nearest stations; step: of the part behind the joint less that before it, where it is farthest from zero, + higher or to the left; change of slope likewise, + it rises more or turns more to the left.',
  },
  {
    label: 'Rate of change',
    names: ['rate-of-change-vertical', 'rate-of-change-horizontal'],
    text: 'slope from a station to the farthest one within the stated length, less that of the rail’s least-squares line, where it is farthest from zero; + it rises, or turns to the left, with increasing along.',
  },
];

export const againstDatum: ReadonlySet<CharacteristicName> = new Set([
  'parallelism-vertical',
  'parallelism-horizontal',
  'height-difference',
  'cross-level',
  'twist',
  'span',
  'coplanarity',
  'squareness',
]);

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
