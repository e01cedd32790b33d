/** A Vega-Lite document without rows → what vega runs, as plain data. */
import { parse, type Runtime } from 'vega';
import { compile as toVega, type TopLevelSpec } from 'vega-lite';
import type { Part } from './chart.js';
import { strict } from './strict.js';

/** @throws {Error} vega or vega-lite reports an error or a warning. */
export function compile(shape: Part): Runtime {
  const { spec } = toVega(shape as unknown as TopLevelSpec, { logger: strict as never });
  return parse(spec);
}
