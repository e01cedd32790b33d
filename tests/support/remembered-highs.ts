/**
 * The solver `highs` for tests (vitest.config.ts puts it in the place of the package). Many tests report the same samples, and one
 * search for moves takes up to ten seconds. A programme with whole variables that was solved before in this run of the tests,
 * by either process, is not solved again: its solution is kept in the folder of the run. highs is deterministic (one thread, fixed
 * seed, ended by counted work). The progress that it reported is reported again, step by step. If the caller then stops the search
 * at another step than before, the programme is solved again. Tests that start the program use the package itself.
 */
import { createHash } from 'node:crypto';
import { existsSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { deserialize, serialize } from 'node:v8';
import type { Highs, HighsCallbackMap, Model, ModelData } from 'highs';

interface Step {
  readonly channel: number;
  readonly data: Record<string, unknown>;
}

interface Remembered {
  readonly steps: readonly Step[];
  /** Index of the step at which the caller stopped the search; −1: it did not. */
  readonly stoppedAt: number;
  readonly ran: unknown;
  readonly info: ReadonlyMap<string, unknown>;
  readonly solution: unknown;
}

/** What programme.ts asks for after a search. */
const INFO = [
  'simplex_iteration_count',
  'primal_solution_status',
  'objective_function_value',
  'mip_dual_bound',
  'mip_gap',
] as const;
/** What it asks for during a search. */
const DATA = ['mip_gap', 'mip_total_lp_iterations'] as const;

const real = pathToFileURL(
  createRequire(import.meta.url)
    .resolve('highs')
    .replace(/highs\.js$/, 'highs.mjs'),
).href;
type Handler = (event: { data: Record<string, unknown>; interrupt: () => void }) => undefined;

export default async function loadHighs(...args: unknown[]): Promise<Highs> {
  const { default: load } = (await import(/* @vite-ignore */ real)) as {
    default: (...args: unknown[]) => Promise<Highs>;
  };
  const highs = await load(...args);
  const folder = process.env['WAYSHEET_TEST_RUN'];
  if (folder === undefined) return highs;
  const withModel = (source: ModelData, use: (model: Model) => unknown): unknown =>
    source.integrality === undefined
      ? highs.withModel(source, use)
      : use(rememberingModel(highs, source, folder));
  return new Proxy(highs, {
    get: (of, name) => (name === 'withModel' ? withModel : (Reflect.get(of, name) as unknown)),
  });
}

/** Has of a model what programme.ts uses. */
function rememberingModel(highs: Highs, source: ModelData, folder: string): Model {
  let options: Parameters<Model['options']['set']>[0] = {};
  let now: Remembered | null = null;
  const run = (callbacks: HighsCallbackMap) => {
    const key = createHash('sha256')
      .update(serialize([source, options]))
      .digest('hex');
    const path = join(folder, `programme-${key}`);
    const known = existsSync(path) ? (deserialize(readFileSync(path)) as Remembered) : null;
    if (known !== null && isReplayed(known, callbacks)) now = known;
    else {
      now = solved(highs, source, options, callbacks);
      const written = `${path}-${process.pid}`;
      writeFileSync(written, serialize(now));
      renameSync(written, path);
    }
    return now.ran;
  };
  return {
    options: { set: (of: typeof options) => void (options = { ...options, ...of }) },
    run,
    info: {
      get: (name: string) => {
        if (!now!.info.has(name)) throw new Error(`remembered-highs.ts does not remember '${name}'`);
        return now!.info.get(name);
      },
    },
    getSolution: () => now!.solution,
  } as unknown as Model;
}

/** @returns false: the caller stops the search at another step than before. */
function isReplayed({ steps, stoppedAt }: Remembered, callbacks: HighsCallbackMap): boolean {
  for (const [k, { channel, data }] of steps.entries()) {
    let isStopped = false;
    (callbacks as Record<number, Handler>)[channel]?.({ data, interrupt: () => (isStopped = true) });
    if (isStopped !== (k === stoppedAt)) return false;
    if (isStopped) return true;
  }
  return true;
}

function solved(
  highs: Highs,
  source: ModelData,
  options: Parameters<Model['options']['set']>[0],
  callbacks: HighsCallbackMap,
): Remembered {
  const steps: Step[] = [];
  let stoppedAt = -1;
  const watched = Object.fromEntries(
    Object.entries(callbacks as Record<string, Handler>).map(([channel, handler]): [string, Handler] => [
      channel,
      (event) => {
        const data = Object.fromEntries(DATA.map((name) => [name, event.data[name]]));
        steps.push({ channel: Number(channel), data });
        const interrupt = () => {
          if (stoppedAt < 0) stoppedAt = steps.length - 1;
          event.interrupt();
        };
        return handler({ data, interrupt });
      },
    ]),
  );
  return highs.withModel(source, (model): Remembered => {
    model.options.set(options);
    const ran = model.run(watched as unknown as HighsCallbackMap);
    const info = new Map(INFO.map((name) => [name as string, model.info.get(name) as unknown]));
    return { steps, stoppedAt, ran, info, solution: model.getSolution() };
  });
}
