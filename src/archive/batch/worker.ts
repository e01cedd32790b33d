/** A worker process of a batch: takes jobs as they come, with one browser for all of them, which prints one at a time. */
import { unpacked, type PackedTolerances } from '../../survey/job/packed-tolerances.js';
import type { Entry } from './entry.js';
import { lazyPrinter } from './lazy-printer.js';
import { makeOne, type MakeSettings } from './make-one.js';
import type { Task } from './plan.js';
import type { Served } from './serve-tasks.js';

/** The first message to a worker. */
export type WorkerSettings = Omit<MakeSettings, 'given'> & { readonly given: PackedTolerances | null };

export function worker(): Served<Task, Entry> {
  let settings: MakeSettings;
  const printer = lazyPrinter();
  return {
    start(told) {
      const { given, ...rest } = told as WorkerSettings;
      settings = { ...rest, given: given && unpacked(given) };
    },
    task: (task) => makeOne(task, settings, printer.open),
    end: () => printer.close(),
  };
}
