import { expect } from 'vitest';
import type { Reason, Settling } from '../../src/solution/reasons/reason.js';
import type { CharacteristicResult, Undetermined } from '../../src/results/results-schema.js';
import { reasonWords, settleWords } from '../../src/solution/reasons/words.js';

/** Every sentence of a results.json that says why, or what would settle a verdict, says what its codes say. @returns How many. */
export function expectWorded(document: unknown): number {
  let found = 0;
  const walk = (value: unknown): void => {
    if (value === null || typeof value !== 'object') return;
    const { why, reasons, settle, settling } = value as Record<string, unknown>;
    if (typeof why === 'string') {
      expect(reasonWords(reasons as Reason[])).toBe(why);
      found++;
    }
    if (settle !== undefined) {
      expect(settleWords(settling as Settling)).toBe(settle);
      found++;
    }
    for (const part of Object.values(value)) walk(part);
  };
  walk(JSON.parse(JSON.stringify(document)));
  return found;
}

/** One that the readings do not determine. */
export function undetermined(c: CharacteristicResult): Undetermined {
  if (c.value !== null) throw new Error(`${c.what} of rail ${c.rail} has a value`);
  return c;
}
