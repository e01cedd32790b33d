/** Checks whether an inbox and an output folder can be used together. */
import { realpath, stat } from 'node:fs/promises';
import { basename, dirname, join, relative, resolve, sep } from 'node:path';
import { JOB_FILE } from '../../survey/job/job-paths.js';
import { DONE, REFUSED, SHARED } from './drops.js';

/** The inbox does not exist, or may not be read. */
export class NoInbox extends Error {}
/** The two folders cannot be used together. */
export class WrongPlaces extends Error {}

/**
 * @returns Names in the inbox that are no drops, because the output folder is there.
 * @throws {NoInbox} {WrongPlaces}
 */
export async function checkPlaces(inbox: string, out: string): Promise<string[]> {
  const found = await stat(inbox).catch((cause: Error) => {
    throw new NoInbox(`${inbox} cannot be watched: ${cause.message}`, { cause });
  });
  if (!found.isDirectory()) throw new NoInbox(`${inbox} cannot be watched: it is not a folder`);
  const isJob = await stat(join(inbox, JOB_FILE)).then(
    () => true,
    () => false,
  );
  if (isJob)
    throw new WrongPlaces(`${inbox} is a job folder; the inbox is the folder that jobs are dropped into`);
  const within = (inner: string, outer: string) => {
    const steps = relative(outer, inner).split(sep);
    return steps[0] === '' ? [] : steps[0] === '..' || resolve(inner) === steps.join(sep) ? null : steps;
  };
  const [realInbox, realOut] = [await realpath(inbox), await realPlace(resolve(out))];
  if (within(realInbox, realOut) !== null)
    throw new WrongPlaces(`${out} may not be the inbox or contain it: a report could replace it`);
  const steps = within(realOut, realInbox);
  if (steps === null) return [];
  if ([DONE, REFUSED, SHARED].includes(steps[0]!.toLowerCase()))
    throw new WrongPlaces(`${out} is inside a folder of handled drops; choose another output folder`);
  return [steps[0]!];
}

/** The real path. For a path that does not exist yet: of the nearest folder above that exists. */
async function realPlace(path: string): Promise<string> {
  const real = await realpath(path).catch(() => null);
  if (real !== null || dirname(path) === path) return real ?? path;
  return join(await realPlace(dirname(path)), basename(path));
}
