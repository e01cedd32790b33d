/** What was fixed for the simulated surveys behind every interval, as it is printed. */
import { drawCount, SEED } from '../characteristics/answer.js';

export const SEED_TEXT = `0x${SEED.toString(16)}`;

/** Simulated surveys a phase; very large surveys take fewer, never less than 500. */
export const DRAWN = drawCount(1);
