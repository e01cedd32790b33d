/** All temporary folders of a test run stand in one, which goes when the run ends. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

export default function setup(): () => void {
  const folder = mkdtempSync(join(tmpdir(), 'waysheet-test-run-'));
  process.env['TMPDIR'] = folder;
  return () => rmSync(folder, { recursive: true, force: true });
}
