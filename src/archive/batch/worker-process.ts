/** A process of a pool: serves the worker whose module its parent named. */
import '../../base/machine-code.js';
import { serveTasks, type Served } from './serve-tasks.js';

const { worker } = (await import(process.argv[2]!)) as { worker: () => Served<unknown, unknown> };
serveTasks(worker());
