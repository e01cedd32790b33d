/** Which files a job may name: those inside its folder, and shared tolerance files. */

export const JOB_FILE = 'job.json';

/** A path with `.` and `inner/..` steps resolved; `..` steps at the beginning are kept. */
export function normalPath(path: string): string {
  const steps: string[] = [];
  for (const step of path.split('/')) {
    if (step === '' || step === '.') continue;
    if (step === '..' && steps.length > 0 && steps[steps.length - 1] !== '..') steps.pop();
    else steps.push(step);
  }
  return steps.join('/');
}

/** Relative and with `/` between folders; no drive, no control characters, no `\`. */
const isPlain = (path: string): boolean =>
  !/^\/|^[A-Za-z]:|[\\\u0000-\u001f\u007f]/.test(path) && normalPath(path) !== '';

/** true: the path leads into the job folder, by its text alone (links are not resolved). */
export const staysInside = (path: string): boolean =>
  isPlain(path) && normalPath(path).split('/')[0] !== '..';

/**
 * The folder in which a tolerance file must be (after symbolic links are resolved), relative to the job folder: the job
 * folder (`''`), or a folder named `tolerances` above it, where an office keeps the sets that many jobs share. null: the
 * path leads to neither.
 */
export function toleranceRoot(path: string): string | null {
  if (staysInside(path)) return '';
  if (!isPlain(path)) return null;
  const steps = normalPath(path).split('/');
  const ups = steps.findIndex((step) => step !== '..');
  if (ups < 1 || steps[ups] !== 'tolerances' || steps.length < ups + 2) return null;
  return steps.slice(0, ups + 1).join('/');
}
