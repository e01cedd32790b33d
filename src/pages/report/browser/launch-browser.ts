import { execFile } from 'node:child_process';
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser, LaunchOptions } from 'puppeteer-core';
import { installedFonts } from '../../fonts/fonts.js';
import { browserChoices, type BrowserChoice, type BrowserSetting } from './choose-browser.js';
import { removeAfterBrowser, removeTemporaryFolder, temporaryFolder } from './temporary-folder.js';
import { type BrowserNote, BrowserTrouble, reasonOf } from './trouble.js';
import { unpackChromium, type UnpackOptions } from './unpack-chromium.js';

export interface BrowserOptions extends BrowserSetting, UnpackOptions {
  /**
   * `bundled` (the default): the packed Chromium sees no font of the machine but the report's own, so the same
   * report has the same glyphs everywhere, and a character that the report's font lacks prints as a box.
   * `machine`: such a character is taken from the machine's fonts where they have it.
   */
  readonly fonts?: 'bundled' | 'machine';
}

export interface RunningBrowser {
  readonly browser: Browser;
  /** For the manifest: 'packed Chromium 147.0.7727.0', or path and version. */
  readonly description: string;
  readonly notes: readonly BrowserNote[];
  /** Ends the browser, by force after some seconds, and removes what it left on disk. */
  close(): Promise<void>;
}

/** Nothing leaves the machine, nothing is kept, and text is laid out without regard to a screen. */
const ARGUMENTS = [
  // Blocks every host, by name and by number, and also what page interception does not see (preconnect, DNS).
  '--host-resolver-rules=MAP * ~NOTFOUND',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-domain-reliability',
  '--no-pings',
  '--no-default-browser-check',
  // This memory is small in containers; when it is full, pages crash.
  '--disable-dev-shm-usage',
  // Printing draws no pixels; without it the browser looks for graphics libraries.
  '--disable-gpu',
  // Glyph positions must not be rounded to the pixels of a screen that is not there.
  '--font-render-hinting=none',
  '--lang=en-US',
  // Fewer processes, each of 15 MB: none is kept ready for a further site, and none is needed for a network that is not used.
  '--disable-features=SpareRendererForSitePerProcess',
  '--enable-features=NetworkServiceInProcess2',
];

/** Time that a browser gets to start, ms; a second as a rule, and half a minute on a very busy machine. */
const LAUNCHING_MS = 120_000;

/** It may start on a machine with less work: another browser, which prints other bytes, must not take its place. */
class SlowStart extends Error {}

/** Time for one answer of the browser, ms: longer than a print may take, so that only the limit of a print counts. */
const ANSWERING_MS = 600_000;

/** Time that a browser gets to end by itself, ms. */
const CLOSING_MS = 5_000;

/**
 * Starts the best browser that starts. puppeteer is imported here and not before: it takes 0.13 s.
 *
 * @throws {BrowserTrouble} BROWSER_SETTING_WRONG; BROWSER_NONE, whose message lists what was tried.
 */
export async function launchBrowser(options: BrowserOptions = {}): Promise<RunningBrowser> {
  const skipped: BrowserNote[] = [];
  for (const choice of await browserChoices(options)) {
    try {
      return await launchChoice(choice, options, skipped);
    } catch (error) {
      if (error instanceof SlowStart)
        throw new BrowserTrouble('BROWSER_NONE', `${nameOf(choice)}: ${error.message}`, {}, { cause: error });
      skipped.push({ code: 'BROWSER_SKIPPED', data: { browser: nameOf(choice), why: reasonOf(error) } });
    }
  }
  const tried = skipped
    .map(({ data }) => `${data['browser']}: ${data['why']?.replace(/\.$/, '')}`)
    .join('; ');
  throw new BrowserTrouble(
    'BROWSER_NONE',
    `No browser to print with. ${tried === '' ? 'None was found.' : `Tried ${tried}.`} ` +
      'Install Chrome, Chromium or Edge, or set WAYSHEET_BROWSER to its path.',
  );
}

/** One line for a manifest or a check of the set-up. Starts the browser to be sure. */
export async function describeBrowser(options: BrowserOptions = {}): Promise<string> {
  const running = await launchBrowser(options);
  await running.close();
  return running.description;
}

function nameOf(choice: BrowserChoice): string {
  return choice.kind === 'packed' ? 'packed Chromium' : choice.path;
}

async function launchChoice(
  choice: BrowserChoice,
  options: BrowserOptions,
  skipped: readonly BrowserNote[],
): Promise<RunningBrowser> {
  const profile = temporaryFolder();
  try {
    const [program] = await Promise.all([programFor(choice, options, profile), import('puppeteer-core')]);
    const { browser, why } = await launchSandboxed({
      ...program,
      headless: 'shell',
      // A pipe is used, because a debugging port would be open to every user of the machine.
      pipe: true,
      userDataDir: profile,
      defaultViewport: null,
      protocolTimeout: ANSWERING_MS,
      // The command handles interrupts; the browser ends with our process in any case.
      handleSIGINT: false,
      handleSIGTERM: false,
      handleSIGHUP: false,
    });
    removeAfterBrowser();
    let ending: Promise<void> | undefined;
    const version = (await browser.version()).replace(/^.*\//, '');
    return {
      browser,
      description: `${nameOf(choice)} ${version}`,
      notes: why === undefined ? skipped : [...skipped, { code: 'BROWSER_UNSANDBOXED', data: { why } }],
      close: () => (ending ??= closeBrowser(browser, profile)),
    };
  } catch (error) {
    await removeTemporaryFolder(profile);
    throw error;
  }
}

async function programFor(
  choice: BrowserChoice,
  options: BrowserOptions,
  profile: string,
): Promise<Pick<LaunchOptions, 'executablePath' | 'env'>> {
  const env = options.env ?? process.env;
  // Its own temporary files go where they are removed with the rest. Even for root the folder must be its
  // own: Chromium's pages give up root's right to write anywhere, and crash when they have no room.
  const temporary = { TMPDIR: profile };
  if (choice.kind !== 'packed') {
    const more =
      process.platform === 'linux'
        ? { FONTCONFIG_FILE: writeFontConfig(profile, [], 'machine', env['FONTCONFIG_FILE']) }
        : {};
    return { executablePath: choice.path, env: { ...env, ...temporary, ...more } };
  }
  const { executable, libraries, fonts } = await unpackChromium(options);
  return {
    executablePath: executable,
    // Nothing is taken from the caller's environment, because it could change time zone, fonts or libraries.
    env: {
      HOME: profile,
      ...temporary,
      TZ: 'UTC',
      LANG: 'C.UTF-8',
      LD_LIBRARY_PATH: libraries,
      FONTCONFIG_FILE: writeFontConfig(profile, [fonts], options.fonts ?? 'bundled'),
    },
  };
}

/**
 * The fonts that a browser on Linux may see, the report's own among them. On a machine without any, the packed
 * Chromium cannot read even the fonts that a page carries within itself (seen with 143: the text was missing).
 *
 * That a page need not carry its font saves a fifth of a print, and more: a picture of a page has its font decoded
 * for itself, or shares that of an earlier one that is still in memory, which shows in the bytes of the PDF.
 */
function writeFontConfig(
  profile: string,
  fonts: readonly string[],
  wanted: 'bundled' | 'machine',
  ofMachine = '/etc/fonts/fonts.conf',
): string {
  const path = join(profile, 'fonts.conf');
  const machine =
    wanted === 'machine' ? `<include ignore_missing="yes">${escapeXml(ofMachine)}</include>` : '';
  const folders = [installedFonts(), ...fonts].map((folder) => `<dir>${escapeXml(folder)}</dir>`).join('');
  const cache = join(profile, 'font-cache');
  mkdirSync(cache, { mode: 0o700 });
  writeFileSync(
    path,
    `<?xml version="1.0"?><!DOCTYPE fontconfig SYSTEM "fonts.dtd"><fontconfig>${machine}` +
      `${folders}<cachedir>${escapeXml(cache)}</cachedir></fontconfig>`,
    { mode: 0o600 },
  );
  return path;
}

function escapeXml(text: string): string {
  return text.replace(/&/g, '&amp;').replace(/</g, '&lt;');
}

/**
 * Uses Chromium's sandbox where it can. It cannot for root (Chromium refuses), or where the system
 * forbids user namespaces; then it starts without the sandbox, and the reason is reported.
 */
async function launchSandboxed(
  options: LaunchOptions,
): Promise<{ browser: Browser; why?: 'root' | 'refused' }> {
  const isRoot = process.platform === 'linux' && process.getuid?.() === 0;
  if (isRoot) return { browser: await launchWith(options, ['--no-sandbox']), why: 'root' };
  try {
    return { browser: await launchWith(options, []) };
  } catch (error) {
    const isSandbox = process.platform === 'linux' && /sandbox|namespace/i.test(reasonOf(error));
    if (!isSandbox) throw error;
    return { browser: await launchWith(options, ['--no-sandbox']), why: 'refused' };
  }
}

/** Times that a browser is started which ends while it starts, and gives no reason for it. */
const STARTS = 3;

async function launchWith(options: LaunchOptions, more: readonly string[]): Promise<Browser> {
  const { default: puppeteer } = await import('puppeteer-core');
  const args = [...ARGUMENTS, ...more];
  for (let start = 1; ; start++) {
    // One that hangs at the start is ended. The signal would end it later too, so the timer stops once it runs.
    const hanging = new AbortController();
    const timer = setTimeout(() => hanging.abort(), LAUNCHING_MS);
    try {
      // puppeteer's own limit of 30 s comes first otherwise, and does not say that it was one.
      return await puppeteer.launch({ ...options, args, signal: hanging.signal, timeout: 2 * LAUNCHING_MS });
    } catch (error) {
      if (hanging.signal.aborted)
        throw new SlowStart(`it did not start within ${LAUNCHING_MS / 1000} s`, { cause: error });
      const words = await lastWords(options, args);
      if (words !== null || start === STARTS) throw new Error(words ?? reasonOf(error), { cause: error });
    } finally {
      clearTimeout(timer);
    }
  }
}

/**
 * Why a browser does not start, in its own words. puppeteer says only 'Target closed' when it talks
 * through a pipe, so the browser is started once more by itself and listened to.
 *
 * @returns null: this time it started, and ran until it was ended.
 */
function lastWords(
  { executablePath, env, userDataDir }: LaunchOptions,
  args: readonly string[],
): Promise<string | null> {
  const trial = [...args, '--headless', `--user-data-dir=${userDataDir}`, '--dump-dom', 'about:blank'];
  return new Promise((resolve) => {
    execFile(
      executablePath!,
      trial,
      { env: env as NodeJS.ProcessEnv, timeout: CLOSING_MS },
      (error, _, stderr) => {
        if (error === null || error.killed === true) return resolve(null);
        const lines = stderr.split('\n').filter((line) => line.trim() !== '');
        // Its messages about graphics, which it does not need, come first.
        const telling =
          lines.find((line) => /fatal|error while loading|sandbox|not found/i.test(line)) ?? lines.at(-1);
        resolve((telling ?? reasonOf(error)).slice(0, 300).trim());
      },
    );
  });
}

async function closeBrowser(browser: Browser, profile: string): Promise<void> {
  const child = browser.process();
  let timer: NodeJS.Timeout | undefined;
  const limit = new Promise<void>((resolve) => {
    timer = setTimeout(resolve, CLOSING_MS);
  });
  await Promise.race([browser.close().catch(() => undefined), limit]);
  clearTimeout(timer);
  if (child?.pid !== undefined && child.exitCode === null && child.signalCode === null) killGroup(child.pid);
  await removeTemporaryFolder(profile);
}

/** puppeteer starts the browser as the leader of a process group of its own, except on Windows. */
function killGroup(pid: number): void {
  try {
    process.kill(process.platform === 'win32' ? pid : -pid, 'SIGKILL');
  } catch {
    return; // it has just ended
  }
}
