import { characteristicOf } from '../../survey/characteristics/characteristics.js';
import type { CharacteristicName } from '../../survey/job/job-schema.js';
import type { Reason } from '../reasons/reason.js';
import type { Functional } from '../solve/adjustment.js';
import type { LinearFamily } from './linear-family.js';
import { magnitude, type Measure } from './measures.js';
import type { Asked, LinearQuestion, ProfileQuestion, Unanswerable } from './question.js';

/**
 * The questions about one characteristic of a rail. Its unit, and whether it has a sign, are in its description.
 *
 * @param more Conditions, such as a reference or a window; what else differs from the description.
 */
export function asking(what: CharacteristicName, rail: string, more: Partial<Asked> = {}) {
  const { family: unitFamily, sign } = characteristicOf(what);
  const unit = unitFamily === 'length' ? 'um' : 'um/m';
  const about: Asked = { what, rail, unit, signed: sign !== null, ...more };
  return {
    none: (reason: Reason): Unanswerable => ({ ...about, kind: 'none', reason }),
    linear: (functional: Functional): LinearQuestion => ({ ...about, kind: 'linear', functional }),
    /** The member of greatest magnitude, with its sign. */
    extreme: (family: LinearFamily, familyKey: string, factor = 1): ProfileQuestion => ({
      ...about,
      ...{ kind: 'signed-extreme', family, measure: magnitude, factor },
      ...{ familyKey, key: `${familyKey}|magnitude` },
    }),
    /** @param name Tells the measure from others of the same family. */
    range: (
      family: LinearFamily,
      familyKey: string,
      measure: Measure,
      { name = 'range', factor = 1 } = {},
    ): ProfileQuestion => ({
      ...about,
      ...{ kind: 'range', family, measure, factor, familyKey, key: `${familyKey}|${name}` },
    }),
  };
}
