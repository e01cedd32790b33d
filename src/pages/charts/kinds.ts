/** Every kind of picture, and what the build makes of them. */
import { mkdir, rm, writeFile } from 'node:fs/promises';
import { budgetKinds } from './budget.js';
import { shapeOf, type Part } from './chart.js';
import { compile } from './compile.js';
import { compiledFolder, nameOf } from './compiled.js';
import { doneKinds } from './corrections.js';
import { machineKinds } from './machine.js';
import { overviewKinds } from './overview.js';
import { profileKinds } from './profile.js';
import { residualKinds } from './residuals.js';
import { trendKinds } from './trend-chart.js';

export const shapes: readonly Part[] = [
  ...profileKinds,
  ...machineKinds,
  ...overviewKinds,
  ...budgetKinds,
  ...residualKinds,
  ...doneKinds,
  ...trendKinds,
].map(shapeOf);

/** The last step of a build but one. */
export async function writeCompiled(): Promise<void> {
  await rm(compiledFolder, { recursive: true, force: true });
  await mkdir(compiledFolder);
  for (const shape of shapes)
    await writeFile(new URL(nameOf(shape), compiledFolder), JSON.stringify(compile(shape)));
}
