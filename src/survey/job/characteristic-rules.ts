/** What may be asked of each characteristic: its unit, its rails, its references. */
import type { CharacteristicName, ReferenceName } from './job-schema.js';
import type { UnitFamily } from '../../base/units/units.js';

export interface CharacteristicRule {
  readonly family: UnitFamily;
  /** any: every rail; along: rails along; against-datum: rails along but the datum; cross: cross rails. */
  readonly rails: 'any' | 'along' | 'against-datum' | 'cross';
  /** Needs a distance across from the datum, to divide by or to measure. */
  readonly needsDistance: boolean;
  /** Evaluated in windows of the length `over`. */
  readonly local: boolean;
  readonly references: readonly ReferenceName[];
  /** Of the joints of a rail. */
  readonly ofJoints: boolean;
  /** Has a sign, and may have limits that differ to its two sides. */
  readonly signed: boolean;
  /** May be asked of several rails together. */
  readonly ofGroups: boolean;
}

const allReferences: readonly ReferenceName[] = ['least-squares', 'minimum-zone', 'end-points'];

function rule(
  family: UnitFamily,
  rails: CharacteristicRule['rails'],
  more: Partial<CharacteristicRule> = {},
): CharacteristicRule {
  return {
    family,
    rails,
    needsDistance: false,
    local: false,
    ofJoints: false,
    references: [],
    signed: false,
    ofGroups: false,
    ...more,
  };
}

const straightness = { references: allReferences };
const localStraightness = { references: allReferences, local: true };

export const characteristicRules: Readonly<Record<CharacteristicName, CharacteristicRule>> = {
  'straightness-vertical': rule('length', 'any', straightness),
  'straightness-horizontal': rule('length', 'any', straightness),
  'straightness-vertical-local': rule('length', 'any', localStraightness),
  'straightness-horizontal-local': rule('length', 'any', localStraightness),
  'level-along': rule('slope', 'along', { signed: true }),
  'parallelism-vertical': rule('length', 'against-datum', { ofGroups: true }),
  'parallelism-horizontal': rule('length', 'against-datum', { ofGroups: true }),
  'height-difference': rule('length', 'against-datum', { signed: true, ofGroups: true }),
  'cross-level': rule('slope', 'against-datum', { needsDistance: true, signed: true, ofGroups: true }),
  twist: rule('slope', 'against-datum', { needsDistance: true, ofGroups: true }),
  span: rule('length', 'against-datum', { needsDistance: true, signed: true }),
  coplanarity: rule('length', 'against-datum', {
    references: ['least-squares', 'minimum-zone'],
    ofGroups: true,
  }),
  squareness: rule('slope', 'cross', { signed: true }),
  'joint-step-vertical': rule('length', 'any', { signed: true, ofJoints: true }),
  'joint-step-horizontal': rule('length', 'any', { signed: true, ofJoints: true }),
  'joint-slope-vertical': rule('slope', 'any', { signed: true, ofJoints: true }),
  'joint-slope-horizontal': rule('slope', 'any', { signed: true, ofJoints: true }),
  'rate-of-change-vertical': rule('slope', 'any', { signed: true, local: true }),
  'rate-of-change-horizontal': rule('slope', 'any', { signed: true, local: true }),
};
