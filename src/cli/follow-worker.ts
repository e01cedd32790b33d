/** Works out the page of `follow`, so that the thread that serves it stays free. */
import { parentPort } from 'node:worker_threads';
import { lookedAt } from './follow-look.js';

export interface Asked {
  readonly folder: string;
  readonly saved: string;
  /** Searches for the moves of the phase before, first. */
  readonly withPlan: boolean;
}

parentPort?.on('message', ({ folder, saved, withPlan }: Asked) => {
  lookedAt(folder, saved, withPlan).then(
    (made) => parentPort?.postMessage({ made }),
    (error: unknown) => parentPort?.postMessage({ error: String((error as Error).stack ?? error) }),
  );
});
