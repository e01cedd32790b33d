/** The library: the stages of the pipeline and their types. */
export { loadJob, type LoadedJob } from './intake/load-job.js';
export { drawCharts, makeDeliverables, solve, writeHtml, type Made } from './pipeline.js';
export type { Diagnostic, Outcome, Place } from './diagnostics/diagnostic.js';
export { formatDiagnostics } from './diagnostics/format.js';
export type { Job } from './job/job.js';
export type { Reading, Readings } from './readings/readings.js';
export { resultsSchema, type Results } from './results/results-schema.js';
export { VERSION, METHOD } from './version.js';
