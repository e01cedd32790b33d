import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { root } from '../support/folders.js';

const listed = (name: string) =>
  JSON.parse(readFileSync(new URL(name, import.meta.url), 'utf8')) as Record<string, string>[];
const source = (file: string) => readFileSync(join(root, file), 'utf8');

// A line that was rewritten leaves its bug behind: a run of an hour would end at once, or a harmless one be called alive.
describe('bugs that are listed for a mutation run', () => {
  it('every planted one can still be put in', () => {
    expect(listed('planted.json').filter(({ file, was }) => !source(file!).includes(was!))).toEqual([]);
  });
  it('every harmless one still stands where it is said to', () => {
    const stands = (file: string, line: string) =>
      source(file)
        .split('\n')
        .some((own) => own.trim() === line);
    expect(listed('harmless.json').filter(({ file, line }) => !stands(file!, line!))).toEqual([]);
  });
});
