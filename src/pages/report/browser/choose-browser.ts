import { constants } from 'node:fs';
import { access, readdir, stat } from 'node:fs/promises';
import { homedir } from 'node:os';
import { join } from 'node:path';
import { BrowserTrouble, reasonOf } from './trouble.js';

/** One browser that may be tried, before it is known to start. */
export type BrowserChoice =
  | { readonly kind: 'packed' }
  | { readonly kind: 'explicit' | 'installed' | 'puppeteer'; readonly path: string };

export interface BrowserSetting {
  /** Path of a Chrome, Chromium or Edge; wins over the environment's WAYSHEET_BROWSER. */
  readonly browser?: string;
  readonly env?: NodeJS.ProcessEnv;
}

/** The machine, as far as the choice depends on it; a test gives another one. */
export interface Machine {
  readonly platform: NodeJS.Platform;
  readonly arch: string;
  readonly home: string;
}

/**
 * The browsers to try, in order of preference: an explicit setting, and then nothing else; the packed
 * Chromium on Linux x64; an installed Chrome, Chromium or Edge; the one that puppeteer has downloaded.
 *
 * @throws {BrowserTrouble} BROWSER_SETTING_WRONG: the explicit setting is not a program.
 */
export async function browserChoices(
  setting: BrowserSetting = {},
  machine: Machine = thisMachine(),
): Promise<BrowserChoice[]> {
  const env = setting.env ?? process.env;
  const explicit = setting.browser ?? (env['WAYSHEET_BROWSER'] || undefined);
  if (explicit !== undefined) {
    await assertProgram(explicit);
    return [{ kind: 'explicit', path: explicit }];
  }
  const choices: BrowserChoice[] = [];
  if (machine.platform === 'linux' && machine.arch === 'x64') choices.push({ kind: 'packed' });
  for (const path of installedPlaces(env, machine)) {
    if (await isProgram(path)) choices.push({ kind: 'installed', path });
  }
  for (const path of await puppeteerPlaces(env, machine)) {
    if (await isProgram(path)) choices.push({ kind: 'puppeteer', path });
  }
  return choices;
}

function thisMachine(): Machine {
  return { platform: process.platform, arch: process.arch, home: homedir() };
}

async function assertProgram(path: string): Promise<void> {
  try {
    await access(path, constants.X_OK);
    if (!(await stat(path)).isFile()) throw new Error('it is a folder');
  } catch (error) {
    throw new BrowserTrouble(
      'BROWSER_SETTING_WRONG',
      `WAYSHEET_BROWSER (or the browser option) names ${path}, which cannot be run: ${reasonOf(error)}. ` +
        'Give the path of a Chrome, Chromium or Edge program, or unset it.',
      { path },
      { cause: error },
    );
  }
}

async function isProgram(path: string): Promise<boolean> {
  return assertProgram(path).then(
    () => true,
    () => false,
  );
}

/** Where the makers' own installers put them. */
function installedPlaces(env: NodeJS.ProcessEnv, { platform, home }: Machine): string[] {
  if (platform === 'darwin') {
    const apps = ['Google Chrome', 'Chromium', 'Microsoft Edge'].map(
      (name) => `${name}.app/Contents/MacOS/${name}`,
    );
    return ['/Applications', join(home, 'Applications')].flatMap((folder) =>
      apps.map((app) => join(folder, app)),
    );
  }
  if (platform === 'win32') {
    const roots = ['PROGRAMFILES', 'PROGRAMFILES(X86)', 'LOCALAPPDATA'].flatMap((name) => env[name] ?? []);
    const programs = [
      'Google/Chrome/Application/chrome.exe',
      'Chromium/Application/chrome.exe',
      'Microsoft/Edge/Application/msedge.exe',
    ];
    return programs.flatMap((program) => roots.map((root) => join(root, program)));
  }
  const names = [
    'google-chrome-stable',
    'google-chrome',
    'chromium',
    'chromium-browser',
    'microsoft-edge-stable',
    'microsoft-edge',
  ];
  return ['/usr/bin', '/usr/local/bin', '/snap/bin'].flatMap((folder) =>
    names.map((name) => join(folder, name)),
  );
}

/**
 * What puppeteer has downloaded, newest first. Its own executablePath() would be shorter, but importing
 * the package `puppeteer` runs any .puppeteerrc.cjs in the current folder or above it, and the
 * current folder may be one that a customer sent.
 */
async function puppeteerPlaces(env: NodeJS.ProcessEnv, machine: Machine): Promise<string[]> {
  const given = env['PUPPETEER_EXECUTABLE_PATH'];
  const cache = env['PUPPETEER_CACHE_DIR'] ?? join(machine.home, '.cache', 'puppeteer');
  const places = given === undefined ? [] : [given];
  for (const product of ['chrome-headless-shell', 'chrome']) {
    const folder = join(cache, product);
    const builds = await readdir(folder).catch(() => []);
    builds.sort((a, b) => b.localeCompare(a, 'en', { numeric: true }));
    for (const build of builds) places.push(join(folder, build, programWithin(product, build, machine)));
  }
  return places;
}

/** Chrome for Testing's name of each system, by the name that puppeteer's folder carries. */
const testingSystems: Readonly<Record<string, string>> = {
  linux: 'linux64',
  linux_arm: 'linux64',
  mac: 'mac-x64',
  mac_arm: 'mac-arm64',
  win32: 'win32',
  win64: 'win64',
};

/** @see the layout of Chrome for Testing's archives: linux-147.0.7727.0/chrome-linux64/chrome. */
function programWithin(product: string, build: string, { platform }: Machine): string {
  const folder = `${product}-${testingSystems[build.slice(0, build.indexOf('-'))]}`;
  if (platform === 'win32') return join(folder, `${product}.exe`);
  if (platform === 'darwin' && product === 'chrome') {
    return join(folder, 'Google Chrome for Testing.app/Contents/MacOS/Google Chrome for Testing');
  }
  return join(folder, product);
}
