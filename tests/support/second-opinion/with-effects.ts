/** A random folder in which a real hall is stated: air, cone, targets, placings, the level's zero, tilt and bow. */
import { parse } from 'csv-parse/sync';
import { seeded } from '../jobs.js';
import type { Folder } from './equations.js';

export function withEffects({ job, files }: Folder, seed: number): Folder {
  const next = seeded(seed * 7919 + 5);
  for (let k = 0; k < 5; k++) next();
  const chance = (p: number) => next() < p;
  const pick = <T>(list: readonly T[]): T => list[Math.floor(next() * list.length)]!;
  const gradient = () => ({
    gradient: Number((0.6 * (next() - 0.3)).toFixed(3)),
    u: pick([0.05, 0.1, 0.3]),
    unit: 'K/m',
  });
  const offsets = job.readings.filter((e: { kind?: string }) => (e.kind ?? 'offset') === 'offset') as {
    file: string;
  }[];
  const targets = new Set<string>();
  const changed: Record<string, string> = { ...files };
  for (const { file } of offsets) {
    const rows = parse(files[file]!, { columns: true }) as Record<string, string>[];
    const header = Object.keys(rows[0] ?? {});
    const size = pick([2, 3]);
    for (const row of rows) targets.add(row['target'] || 'T');
    changed[file] =
      [
        [...header, 'placing'].join(','),
        ...rows.map((row, k) =>
          [...header.map((h) => row[h] ?? ''), chance(0.6) ? `P${Math.floor(k / size)}` : ''].join(','),
        ),
      ].join('\n') + '\n';
  }
  const said = (p: number, key: string, value: unknown) => (chance(p) ? { [key]: value } : {});
  return {
    job: {
      ...job,
      ...said(0.5, 'conditions', { temperature: { from: 17, to: 23, unit: 'C' } }),
      rails: job.rails.map((r: { stations: object }) => ({
        ...r,
        ...said(0.5, 'tilt', { u: 40, unit: 'um/m' }),
        ...said(0.5, 'thermal', {
          height: job.rails[0].stations.spacing ?? 1,
          topWarmerBy: 0.4,
          expansion: 11.5,
          u: 0.2,
        }),
      })),
      instruments: job.instruments.map((i: { level?: object }) => ({
        ...i,
        ...said(i.level === undefined ? 0 : 0.6, 'cone', { u: 0.3, unit: 'arcsec' }),
        ...(i.level !== undefined &&
          chance(0.6) && { level: { ...i.level, zero: { u: 2, unit: 'arcsec' } } }),
      })),
      setups: (job.setups ?? []).map((s: object) => ({
        ...s,
        ...said(0.5, 'heading', Math.floor(360 * next())),
        ...said(
          0.7,
          'air',
          chance(0.5)
            ? { vertical: gradient(), sideways: gradient() }
            : [{ vertical: gradient() }, { rail: 'A', vertical: gradient(), sideways: gradient() }],
        ),
      })),
      ...(targets.size > 0 && {
        targets: [...targets].map((id) => ({
          id,
          ...said(0.6, 'scale', { u: 0.2, unit: '%' }),
          ...said(0.6, 'roll', { u: 2, unit: 'mrad' }),
          ...said(0.6, 'seat', { u: 3, unit: 'um' }),
          ...said(0.6, 'rod', { height: 250, unit: 'mm' }),
        })),
      }),
    },
    files: changed,
  };
}
