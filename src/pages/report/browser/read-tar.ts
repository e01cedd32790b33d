const BLOCK = 512;

/**
 * The regular files of an uncompressed tar archive, in order.
 *
 * An own reader, because the archives are small and known. It never writes to the disk, so no name in
 * an archive can lead outside a folder; the caller takes only the names that it expects.
 *
 * @throws {Error} A header whose checksum is wrong, or an archive that ends within a file.
 * @see POSIX.1-2017, pax, "ustar Interchange Format": 512-byte blocks, octal sizes, type flag at 156.
 */
export function* readTar(archive: Buffer): Generator<{ name: string; content: Buffer }> {
  let at = 0;
  while (at + BLOCK <= archive.length && archive[at] !== 0) {
    const header = archive.subarray(at, at + BLOCK);
    assertChecksum(header, at);
    const size = octal(header, 124, 12);
    const content = archive.subarray(at + BLOCK, at + BLOCK + size);
    if (content.length !== size) throw new Error(`tar ends ${size - content.length} bytes early`);
    const type = String.fromCharCode(header[156]!);
    if (type === '0' || type === '\0') yield { name: nameOf(header), content };
    at += BLOCK + Math.ceil(size / BLOCK) * BLOCK;
  }
}

/** ustar splits a long path into a prefix (at 345) and a name (at 0). */
function nameOf(header: Buffer): string {
  const isUstar = header.toString('latin1', 257, 262) === 'ustar';
  const prefix = isUstar ? text(header, 345, 155) : '';
  return prefix === '' ? text(header, 0, 100) : `${prefix}/${text(header, 0, 100)}`;
}

/** The checksum is the sum of the header's bytes, its own field counted as spaces. */
function assertChecksum(header: Buffer, at: number): void {
  let sum = 0;
  for (let i = 0; i < BLOCK; i++) sum += i >= 148 && i < 156 ? 0x20 : header[i]!;
  if (sum !== octal(header, 148, 8)) throw new Error(`tar header at byte ${at} is damaged`);
}

function octal(header: Buffer, at: number, length: number): number {
  const digits = text(header, at, length).trim();
  if (!/^[0-7]+$/.test(digits)) throw new Error(`tar number '${digits}' is not octal`);
  return Number.parseInt(digits, 8);
}

function text(header: Buffer, at: number, length: number): string {
  const field = header.subarray(at, at + length);
  const end = field.indexOf(0);
  return field.toString('utf8', 0, end === -1 ? length : end);
}
