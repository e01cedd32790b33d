/** Zips: read as they are packed in the field, and refused before anything is written where they are not safe. */
import { execFileSync } from 'node:child_process';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { unzip } from '../../src/archive/watch/unzip.js';
import { ZIP_LIMITS, type ZipLimits } from '../../src/archive/watch/zip-entries.js';
import { describe as wordsOf } from '../../src/base/diagnostics/messages.js';
import { sample, temporary } from '../support/folders.js';
import { membersOf, zipOf, type Member } from '../support/zip.js';

async function unzipped(bytes: Buffer, limits?: ZipLimits) {
  const path = join(await temporary(), 'drop.zip');
  await writeFile(path, bytes);
  const target = join(dirname(path), 'content');
  const { problems, mayBecomeWhole } = await unzip(path, 'drop.zip', target, limits);
  const files = existsSync(target)
    ? readdirSync(target, { recursive: true, withFileTypes: true })
        .filter((entry) => entry.isFile())
        .map((entry) => join(entry.parentPath, entry.name).slice(target.length + 1))
        .sort()
    : [];
  return { codes: problems.map(({ code }) => code), problems, mayBecomeWhole, files, target };
}

const good: Member = { name: 'J/job.json', bytes: '{}' };

describe('read', () => {
  test('a job folder comes out as it went in', async () => {
    const { codes, files, target } = await unzipped(zipOf(membersOf(sample('TH-0412'), 'J/')));
    expect(codes).toEqual([]);
    expect(files).toEqual(['J/job.json', 'J/readings/as-left.csv']);
    expect(readFileSync(join(target, files[1]!))).toEqual(
      readFileSync(join(sample('TH-0412'), 'readings/as-left.csv')),
    );
  });

  test('what the zip program writes', async ({ skip }) => {
    const path = join(await temporary(), 'drop.zip');
    try {
      execFileSync('zip', ['-qr', path, './TH-0412'], { cwd: dirname(sample('TH-0412')) });
    } catch {
      return skip();
    }
    const { codes, files } = await unzipped(readFileSync(path));
    expect(codes).toEqual([]);
    expect(files).toEqual(['TH-0412/job.json', 'TH-0412/readings/as-left.csv']);
  });

  test.each([
    ['a name in UTF-8 that says so', { name: 'J/März.csv' }, 'J/März.csv'],
    ['a name in UTF-8 that does not say so', { name: 'J/März.csv', flags: 0 }, 'J/März.csv'],
    [
      'a name in the code page of old',
      { name: Buffer.from([0x4d, 0x84, 0x72, 0x7a]), flags: 0 }, // ä is 84 in code page 437
      'März',
    ],
    ['backslashes between folders', { name: 'J\\readings\\a.csv' }, 'J/readings/a.csv'],
    ['steps that lead nowhere', { name: './J/./a.csv' }, 'J/a.csv'],
    ['stored', { name: 'a.csv', bytes: 'x', method: 0 }, 'a.csv'],
    ['a folder first', { name: 'J/', mode: 0o040755 }, 'J/job.json'],
  ] as const)('%s', async (_, member, expected) => {
    const { codes, files } = await unzipped(zipOf([member as Member, good]));
    expect(codes).toEqual([]);
    expect(files).toContain(expected);
  });

  test('what desktops pack along is left out', async () => {
    const litter = ['__MACOSX/J/._job.json', 'J/.DS_Store', 'J/Thumbs.db'].map((name) => ({ name }));
    expect((await unzipped(zipOf([...litter, good]))).files).toEqual(['J/job.json']);
  });
});

describe('refused for good, and nothing is written', () => {
  const LINK = 0o120777;
  test.each<[string, Member[], string]>([
    ['a step upwards', [{ name: '../../evil' }], 'ZIP_LEADS_OUT'],
    ['a step upwards inside', [{ name: 'J/../../evil' }], 'ZIP_LEADS_OUT'],
    ['a step upwards with backslashes', [{ name: '..\\evil' }], 'ZIP_LEADS_OUT'],
    ['from the root of the disk', [{ name: '/etc/evil' }], 'ZIP_LEADS_OUT'],
    ['a drive', [{ name: 'C:\\evil' }], 'ZIP_LEADS_OUT'],
    ['a server', [{ name: '\\\\server\\evil' }], 'ZIP_LEADS_OUT'],
    ['a control character', [{ name: 'J/a\u0007.csv' }], 'ZIP_LEADS_OUT'],
    ['a link', [{ name: 'J/readings', bytes: '/etc', mode: LINK }], 'ZIP_LINK'],
    ['a pipe', [{ name: 'J/pipe', mode: 0o010644 }], 'ZIP_LINK'],
    ['twice the same', [{ name: 'J/a' }, { name: 'J/a' }], 'ZIP_REPEATED'],
    ['twice but for capitals', [{ name: 'J/a' }, { name: 'j/A' }], 'ZIP_REPEATED'],
    ['a file that is a folder', [{ name: 'J/a' }, { name: 'J/a/b' }], 'ZIP_REPEATED'],
    ['encrypted', [{ name: 'J/a', flags: 0x801 }], 'ZIP_ENCRYPTED'],
    ['packed in a way that is not read', [{ name: 'J/a', method: 14 }], 'ZIP_METHOD'],
  ])('%s', async (_, members, code) => {
    const { codes, files, mayBecomeWhole, target } = await unzipped(zipOf([good, ...members]));
    expect(codes).toContain(code);
    expect(files).toEqual([]);
    expect(mayBecomeWhole).toBe(false);
    expect(existsSync(join(target, '../../evil'))).toBe(false);
  });

  test('every problem at once, each named', async () => {
    const { problems } = await unzipped(
      zipOf([good, { name: '../a' }, { name: 'b', flags: 0x801 }, { name: 'c', mode: LINK }]),
    );
    expect(problems.map((problem) => wordsOf(problem)).join('\n')).toMatch(
      /"\.\.\/a" in the zip leads out of the folder[^]*"b" in the zip is encrypted[^]*"c" in the zip is a link/,
    );
  });

  test('bombs: too many, too large, too dense', async () => {
    const limits = { ...ZIP_LIMITS, entries: 3, bytes: 5_000, unsuspectedBytes: 1_000, ratio: 20 };
    const many = Array.from({ length: 4 }, (_, k) => ({ name: `f${k}` }));
    expect((await unzipped(zipOf(many), limits)).codes).toEqual(['ZIP_TOO_MANY']);
    const noise = Buffer.from(Array.from({ length: 6_000 }, (_, k) => (k * k * 7919) % 251));
    expect((await unzipped(zipOf([{ name: 'a', bytes: noise }]), limits)).codes).toEqual(['ZIP_TOO_LARGE']);
    const dense = zipOf([{ name: 'a', bytes: Buffer.alloc(4_000) }]);
    expect((await unzipped(dense, limits)).codes).toEqual(['ZIP_BOMB']);
    // With the limits that hold: 64 MiB of nothing in some kilobytes.
    const real = zipOf([{ name: 'a', bytes: Buffer.alloc(64 * 2 ** 20) }]);
    expect((await unzipped(real)).codes).toEqual(['ZIP_BOMB']);
  });

  test('a size that is a lie does not get past the limit', async () => {
    const lie = zipOf([{ name: 'a', bytes: Buffer.alloc(2 ** 20), claims: { size: 10 } }]);
    const { codes, target } = await unzipped(lie);
    expect(codes).toEqual(['ZIP_DAMAGED']);
    expect(readFileSync(join(target, 'a')).length).toBeLessThanOrEqual(10);
  });
});

describe('perhaps not whole yet', () => {
  const whole = zipOf(membersOf(sample('TH-0412'), 'J/'));
  test.each([0, 1, 100, whole.length >> 1, whole.length - 30, whole.length - 1])(
    'cut off after %i bytes',
    async (length) => {
      const { codes, mayBecomeWhole } = await unzipped(whole.subarray(0, length));
      expect(codes).toHaveLength(1);
      expect(codes[0]).toMatch(/^ZIP_(?:CUT_OFF|DAMAGED)$/);
      expect(mayBecomeWhole).toBe(true);
    },
  );

  test('bytes in the middle that have not come yet, and bytes that are others', async () => {
    const gap = Buffer.from(whole);
    gap.fill(0, 200, 600);
    expect(await unzipped(gap)).toMatchObject({ codes: ['ZIP_DAMAGED'], mayBecomeWhole: true });
    const other = zipOf([{ ...good, method: 0, claims: { crc: 1 } }]);
    const { problems } = await unzipped(other);
    expect(wordsOf(problems[0]!)).toMatch(/J\/job\.json is not what was packed: its check sum differs/);
  });
});
