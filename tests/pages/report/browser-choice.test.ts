import { chmod, mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { browserChoices } from '../../../src/pages/report/browser/choose-browser.js';

let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'waysheet-test-'));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

async function program(...parts: string[]): Promise<string> {
  const path = join(folder, ...parts);
  await mkdir(dirname(path), { recursive: true });
  await writeFile(path, '');
  await chmod(path, 0o755);
  return path;
}

/** A Mac without any browser, but for what the test puts into its home folder. */
const emptyMac = () => ({ platform: 'darwin' as const, arch: 'arm64', home: join(folder, 'home') });

test('an explicit setting wins, and nothing else is tried after it', async () => {
  const path = await program('my-browser');
  const other = await program('other-browser');
  const machine = { platform: 'linux' as const, arch: 'x64', home: folder };
  expect(await browserChoices({ browser: path, env: { WAYSHEET_BROWSER: other } }, machine)).toEqual([
    { kind: 'explicit', path },
  ]);
  expect(await browserChoices({ env: { WAYSHEET_BROWSER: other } }, machine)).toEqual([
    { kind: 'explicit', path: other },
  ]);
});

test.each(['absent', '.'])(
  'a setting that is no program is an error and not a reason to guess: %s',
  async (name) => {
    const env = { WAYSHEET_BROWSER: join(folder, name) };
    await expect(browserChoices({ env })).rejects.toMatchObject({
      code: 'BROWSER_SETTING_WRONG',
      data: { path: env.WAYSHEET_BROWSER },
    });
  },
);

test('an empty WAYSHEET_BROWSER is not a setting', async () => {
  const machine = { platform: 'linux' as const, arch: 'x64', home: folder };
  expect((await browserChoices({ env: { WAYSHEET_BROWSER: '' } }, machine))[0]).toEqual({ kind: 'packed' });
});

test('the packed Chromium comes first on Linux x64 and nowhere else', async () => {
  const home = join(folder, 'home');
  const first = async (platform: NodeJS.Platform, arch: string) =>
    (await browserChoices({ env: {} }, { platform, arch, home }))[0]?.kind;
  expect(await first('linux', 'x64')).toBe('packed');
  expect(await first('linux', 'arm64')).not.toBe('packed');
  expect(await first('darwin', 'x64')).not.toBe('packed');
  expect(await first('win32', 'x64')).not.toBe('packed');
});

test('installed browsers come before what puppeteer has downloaded, and there the newest first', async () => {
  const machine = emptyMac();
  const app = 'Google Chrome for Testing.app/Contents/MacOS/Google Chrome for Testing';
  const older = await program('cache/chrome/mac_arm-99.0.1/chrome-mac-arm64', app);
  const newer = await program('cache/chrome/mac_arm-143.0.1/chrome-mac-arm64', app);
  const shell = await program(
    'cache/chrome-headless-shell/mac_arm-120.0.1/chrome-headless-shell-mac-arm64/chrome-headless-shell',
  );
  const installed = await program('home/Applications/Chromium.app/Contents/MacOS/Chromium');
  const choices = await browserChoices({ env: { PUPPETEER_CACHE_DIR: join(folder, 'cache') } }, machine);
  const ours = choices.filter((choice) => 'path' in choice && choice.path.startsWith(folder));
  expect(ours).toEqual([
    { kind: 'installed', path: installed },
    { kind: 'puppeteer', path: shell },
    { kind: 'puppeteer', path: newer },
    { kind: 'puppeteer', path: older },
  ]);
});

test.runIf(process.platform !== 'win32')(
  'on Windows, Chrome and Edge are found by its environment',
  async () => {
    const edge = await program('programs/Microsoft/Edge/Application/msedge.exe');
    const chrome = await program('local/Google/Chrome/Application/chrome.exe');
    const env = { 'PROGRAMFILES(X86)': join(folder, 'programs'), LOCALAPPDATA: join(folder, 'local') };
    const machine = { platform: 'win32' as const, arch: 'x64', home: join(folder, 'nobody') };
    expect(await browserChoices({ env }, machine)).toEqual([
      { kind: 'installed', path: chrome },
      { kind: 'installed', path: edge },
    ]);
  },
);
