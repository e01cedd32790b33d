/** Why two reports of one job may differ: a comparison of what they were made from, part by part. */
import type { Results } from '../../results/results-schema.js';
import type { Manifest } from '../../pages/deliverables/manifest.js';
import { causes, type Cause } from './changes-schema.js';

export interface Report {
  readonly manifest: Manifest;
  readonly results: Results;
}

/** null: not recorded; nothing is then said about it. */
type Made = Readonly<Record<Exclude<Cause, 'unknown'>, string | null>>;

/** The parts that differ between the two, whether or not a figure changed. */
export function differingCauses(before: Report, after: Report): Cause[] {
  // Reports of an early version have no digests: then the file itself and the limits are compared.
  const hasDigests = before.manifest.digests !== undefined && after.manifest.digests !== undefined;
  const [one, other] = [before, after].map((report) => madeFrom(report, hasDigests)) as [Made, Made];
  return causes.filter((cause) => {
    if (cause === 'unknown') return false;
    return one[cause] !== null && other[cause] !== null && one[cause] !== other[cause];
  });
}

function madeFrom({ manifest, results }: Report, hasDigests: boolean): Made {
  const { settings, software } = results;
  const hashOf = (isPart: (path: string) => boolean) =>
    JSON.stringify(
      results.inputs
        .filter(({ path }) => isPart(path))
        .map(({ path, sha256 }) => [path, sha256])
        .sort(),
    );
  const isJob = (path: string) => path === 'job.json';
  const { file, basedOn = [] } = results.toleranceSet;
  const isSet = (path: string) => path === file || basedOn.includes(path);
  return {
    readings: hashOf((path) => !isJob(path) && !isSet(path)),
    'job-file': hasDigests ? manifest.digests!.job : hashOf(isJob),
    tolerances: hasDigests ? manifest.digests!.tolerances : limitsOf(results),
    decision: JSON.stringify([settings.rule, settings.coverage, settings.guardBand]),
    // The number of draws depends on the coverage and on the method.
    method: JSON.stringify([software.method, settings.seed]),
    software: software.version,
    template: manifest.templates ?? null,
    printing: manifest.browser ?? 'none',
  };
}

const limitsOf = ({ phases }: Results): string =>
  JSON.stringify(
    Object.values(phases).map(({ characteristics }) =>
      characteristics
        .filter(({ limit }) => limit !== null)
        .map(({ what, rail, rails, against, between, side, reference, over, limit, zone, rule }) => [
          ...[what, rail, rails, against, between, side, reference, over],
          ...[limit, zone?.from, zone?.to, rule],
        ]),
    ),
  );

/** Causes that can change a value and its uncertainty. */
export const ofValues: readonly Cause[] = ['readings', 'job-file', 'method', 'software'];
/** An interval and a probability depend on the coverage too. */
export const ofIntervals: readonly Cause[] = [...ofValues, 'decision'];
/** A tolerance may have a rule of its own. */
export const ofRules: readonly Cause[] = ['decision', 'tolerances'];
/** A limit that grows with length depends on the rails of the job. */
export const ofLimits: readonly Cause[] = ['tolerances', 'job-file', 'method', 'software'];

/** The differing causes that can explain the change; 'unknown' if none can. */
export function among(differing: readonly Cause[], ...able: (readonly Cause[])[]): Cause[] {
  const found = differing.filter((cause) => able.some((list) => list.includes(cause)));
  return found.length > 0 ? found : ['unknown'];
}

/** Each cause once, in the order of `causes`. */
export const together = (lists: readonly (readonly Cause[])[]): Cause[] => {
  const all = new Set(lists.flat());
  return causes.filter((cause) => all.has(cause));
};
