/**
 * The jobs whose numbers are pinned: every sample, and small surveys of every kind of reading, half of them with
 * everything that a hall adds. For each job its results with all digits (METHOD.json.gz) and the text of its page
 * (pages/JOB.txt, so that a change of words is read as a difference of text).
 */
import { readdirSync } from 'node:fs';
import { drawCharts, solve, writePage } from '../../src/pipeline.js';
import { loadConfirmed, makeJob, sample } from '../support/folders.js';
import { randomFolder } from '../support/second-opinion/random-folder.js';
import { withEffects } from '../support/second-opinion/with-effects.js';

export interface Pinned {
  readonly id: string;
  readonly results: unknown;
}

/** A pinned job with the visible text of its page, one line for each piece of text. */
export interface MadeAnew extends Pinned {
  readonly page: string;
}

/** Of the random surveys that the second opinion solves too: chosen by their kinds of readings, not by their numbers. */
const SEEDS = [1, 2, 3, 4, 5, 6];

export const names = (): string[] => [
  ...readdirSync(sample('')).filter((id) => id.startsWith('TH-')),
  ...SEEDS.flatMap((seed) => [`survey-${seed}`, `hall-${seed}`]),
];

export async function madeAnew(id: string): Promise<MadeAnew> {
  const loaded = await loadConfirmed(await folderOf(id));
  if (!loaded.ok) throw new Error(JSON.stringify(loaded.diagnostics, null, 1));
  const results = await solve(loaded.value, loaded.diagnostics);
  const html = (await writePage(results, await drawCharts(results))).live;
  const document = JSON.parse(JSON.stringify(results)) as unknown;
  return { id, results: document, page: visibleText(html) };
}

async function folderOf(id: string): Promise<string> {
  const seed = Number(id.split('-')[1]);
  if (id.startsWith('TH-')) return sample(id);
  const plain = randomFolder(seed);
  const { job, files } = id.startsWith('hall-') ? withEffects(plain, seed) : plain;
  return makeJob(job, files);
}

/** Without what names the version, which changes with every release. */
const visibleText = (html: string): string =>
  html
    .replace(/<style[\s\S]*?<\/style>/g, '')
    .replace(/<[^>]*>/g, '\n')
    .split('\n')
    .map((line) => line.trim())
    .filter((line) => line !== '' && !/^waysheet \d/.test(line) && !/\bSHA-256\b|^[0-9a-f]{64}$/.test(line))
    .join('\n') + '\n';
