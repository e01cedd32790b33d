/** Why two reports of one job may differ: what each was made from, part by part. */
import type { Results } from '../../results/results-schema.js';
import type { Manifest } from '../../pages/deliverables/manifest.js';
import { causes, type Cause } from './changes-schema.js';

export interface Report {
  readonly manifest: Manifest;
  readonly results: Results;
}

/** null: not recorded; nothing is then said of it. */
type Made = Readonly<Record<Exclude<Cause, 'unknown'>, string | null>>;

/** What differs in what the two were made from, whether or not anything came of it. */
export function differingCauses(before: Report, after: Report): Cause[] {
  // Reports of an early version have no digests: then the file itself counts, and the limits.
  const hasDigests = before.manifest.digests !== undefined && after.manifest.digests !== undefined;
  const [one, other] = [before, after].map((report) => madeFrom(report, hasDigests)) as [Made, Made];
  return causes.filter((cause) => {
    if (cause === 'unknown') return false;
    return one[cause] !== null && other[cause] !== null && one[cause] !== other[cause];
  });
}

function madeFrom({ manifest, results }: Report, hasDigests: boolean): Made {
  const { settings, software } = results;
  const hashOf = (wanted: (path: string) => boolean) =>
    JSON.stringify(
      results.inputs
        .filter(({ path }) => wanted(path))
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
    // How many draws are made hangs on the coverage, and otherwise on the method.
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
        .map(({ what, rail, rails, against, between, side, reference, over, limit, zone }) => [
          ...[what, rail, rails, against, between, side, reference, over],
          ...[limit, zone?.from, zone?.to],
        ]),
    ),
  );

/** What can move a value and its uncertainty. */
export const ofValues: readonly Cause[] = ['readings', 'job-file', 'method', 'software'];
/** An interval and a probability hang on the coverage too. */
export const ofIntervals: readonly Cause[] = [...ofValues, 'decision'];
/** A limit that grows with length hangs on the rails of the job. */
export const ofLimits: readonly Cause[] = ['tolerances', 'job-file', 'method', 'software'];

/** Those of the differing causes that can have done it; 'unknown' where none can. */
export function among(differing: readonly Cause[], ...able: (readonly Cause[])[]): Cause[] {
  const found = differing.filter((cause) => able.some((list) => list.includes(cause)));
  return found.length > 0 ? found : ['unknown'];
}

/** Each once, in the order in which they are told. */
export const together = (lists: readonly (readonly Cause[])[]): Cause[] => {
  const all = new Set(lists.flat());
  return causes.filter((cause) => all.has(cause));
};
