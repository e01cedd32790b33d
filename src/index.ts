/** The library: the stages of the pipeline and their types. */
export { loadJob, type LoadedJob } from './solution/intake/load-job.js';
export { drawCharts, makeDeliverables, solve, writeHtml, type Made } from './pipeline.js';
export type { Diagnostic, Outcome, Place } from './base/diagnostics/diagnostic.js';
export { formatDiagnostics } from './base/diagnostics/format.js';
export type { Job } from './survey/job/job.js';
export type { Reading, Readings } from './survey/readings/readings.js';
export { resultsSchema, type Results } from './results/results-schema.js';
export { VERSION, METHOD } from './base/version.js';
