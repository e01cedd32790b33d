/** Quantities that the readings determine. */
import type { Quantity } from './results-schema.js';

export type Known = Extract<Quantity, { value: number }>;

/** true: it has a value. */
export const isKnown = (quantity: Quantity | undefined): quantity is Known =>
  quantity !== undefined && quantity.value !== null;
