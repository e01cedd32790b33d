/** Compares two reports of one job: what differs, and why. */
import { groupBy } from '../../base/lists.js';
import { lastPhase } from '../../pages/report/figures.js';
import { worstVerdict } from '../../results/urgency.js';
import type { Results, Verdict } from '../../results/results-schema.js';
import { namingOf } from '../../results/identity.js';
import { compareResults } from '../compare-results.js';
import { worstCharacteristic } from '../register/register-row.js';
import { among, differingCauses, ofIntervals, ofLimits, ofValues, together, type Report } from './causes.js';
import type { Cause, CharacteristicChange, JobChange } from './changes-schema.js';
import { compareCharacteristics } from './compare-characteristics.js';
import { compareFigures } from './compare-figures.js';
import { readOldReport, type OldReport } from './old-reports.js';

/** @param old Folder of the earlier report; null: there is none. Never throws. */
export async function changeSince(old: string | null, after: Report): Promise<JobChange> {
  const { job } = after.results;
  const report = old === null ? null : await readOldReport(old, job);
  try {
    return compareJob(report, after);
  } catch (error) {
    const note = `The earlier report is not one that can be compared: ${(error as Error).message}`;
    return { ...blankChange(job, report, after.results), status: 'not-compared', note };
  }
}

/** Pure. @param old null: there is no earlier report. */
export function compareJob(old: OldReport | null, after: Report): JobChange {
  const change = blankChange(after.results.job, old, after.results);
  if (old === null) return { ...change, status: 'appeared' };
  const { manifest, results } = old;
  if (manifest === null || results === null)
    return { ...change, status: 'not-compared', note: 'The earlier report is damaged.' };
  const before = { manifest, results };
  const differing = differingCauses(before, after);
  const characteristics = compareCharacteristics(results, after.results, differing);
  const figures = compareFigures(results, after.results);
  const others = otherDifferences(results, after.results);
  const flipped = results.verdict !== after.results.verdict;
  const isChanged = flipped || characteristics.length > 0 || figures.count > 0;
  const figureCauses = figures.count > 0 ? among(differing, ofValues) : [];
  const verdictCauses = flipped
    ? causesOfFlip(characteristics, results.verdict, after.results, differing)
    : [];
  const told = together([...characteristics.map((c) => c.causes), figureCauses, verdictCauses]);
  const isSame = differing.length === 0 && others.length === 0;
  return {
    ...change,
    status: isChanged ? 'changed' : isSame ? 'same' : 'redrawn',
    causes: isChanged ? told : differing.length > 0 || isSame ? differing : ['unknown'],
    verdictCauses,
    characteristics,
    figures: { ...figures, causes: figureCauses },
    others,
  };
}

/** A change with nothing but the job it belongs to. */
export function blankChange(job: string, old: OldReport | null, after: Results | null): JobChange {
  return {
    status: 'same',
    job,
    verdict: { before: old?.verdict ?? null, after: after?.verdict ?? null },
    causes: [],
    about: aboutOf(after ?? old?.results ?? null),
    confirmed: {
      before: old?.results?.confirmations?.length ?? 0,
      after: after?.confirmations?.length ?? 0,
    },
    verdictCauses: [],
    note: null,
    damage: [...(old?.damage ?? [])],
    style: after && { ...after.style, coverage: after.settings.coverage },
    characteristics: [],
    figures: { count: 0, causes: [], listed: [] },
    others: [],
  };
}

function aboutOf(results: Results | null): JobChange['about'] {
  if (results === null) return null;
  const { customer, machine } = results.subject;
  const { datum } = namingOf(results);
  return { customer, machine, datum, phase: lastPhase(results).name, worst: worstCharacteristic(results) };
}

/** The job's verdict is the worst of its last phase. The causes are those of the characteristics that made it worse, or better. */
function causesOfFlip(
  changes: readonly CharacteristicChange[],
  before: Verdict,
  after: Results,
  differing: readonly Cause[],
): Cause[] {
  const { name } = lastPhase(after);
  const isWorse = worstVerdict([{ verdict: before }, after]) === after.verdict;
  const flips = changes.filter((c) => c.phase === name && c.verdictCauses.length > 0);
  const deciding = flips.filter((c) =>
    isWorse ? c.after?.verdict === after.verdict : c.before?.verdict === before,
  );
  if (deciding.length === 0) return among(differing, ofIntervals, ofLimits);
  return together(deciding.map((c) => c.verdictCauses));
}

/** Places that are listed elsewhere: as a verdict, as a figure, or as a cause. */
const LISTED_ELSEWHERE =
  /^(?:job|verdict|software|inputs|settings|toleranceSet|whatIf)(?:\.|$|\[)|^phases\.[^.]+\.(?:verdict$|characteristics|stations\[\d+\]\.(?:height|offset|ahead|deviation|difference)|setups\[\d+\]\.(?:yaw|pitch|roll))/;

/** All other differences in results.json, so that no difference is missed: for each part of it the number, and the first place. */
function otherDifferences(before: Results, after: Results): JobChange['others'] {
  const differences = compareResults(before, after, (place) => LISTED_ELSEWHERE.test(place));
  const parts = groupBy(differences, ({ place }) => /^(?:phases\.[^.[]+\.)?[^.[]+/.exec(place)![0]);
  return [...parts].map(([part, list]) => {
    const { place, issued, recomputed } = list[0]!;
    return { part, count: list.length, first: { place, before: issued, after: recomputed } };
  });
}
