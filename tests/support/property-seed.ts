/**
 * Every run draws the same inputs for property tests, so that a commit that passed here passes on another machine as well.
 * `WAYSHEET_SEED=N` draws others; a failure names the seed that drew it.
 */
import fc from 'fast-check';

fc.configureGlobal({ ...fc.readConfigureGlobal(), seed: Number(process.env['WAYSHEET_SEED'] ?? 1) });
