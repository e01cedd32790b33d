/** Zips written by hand from PKWARE's APPNOTE.TXT 6.3 (§4.3, from memory), honest ones and such as no program writes. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { crc32, deflateRawSync } from 'node:zlib';

export interface Member {
  /** As it is to stand there, whatever it says; bytes where no text will do. */
  readonly name: string | Buffer;
  readonly bytes?: Buffer | string;
  /** 8 is deflate, the default; 0 is none; others are written as 0 and claimed. */
  readonly method?: number;
  /** 1: encrypted; 0x800: the name is UTF-8. */
  readonly flags?: number;
  /** Unix mode with its file type bits. */
  readonly mode?: number;
  /** What the list of contents says against the truth. */
  readonly claims?: { readonly size?: number; readonly crc?: number };
}

export function zipOf(members: readonly Member[]): Buffer {
  const parts: Buffer[] = [];
  const directory: Buffer[] = [];
  let offset = 0;
  for (const { name, bytes = '', method = 8, flags = 0x800, mode = 0o100644, claims = {} } of members) {
    const raw = Buffer.from(name as string);
    const content = Buffer.from(bytes as string);
    const packed = method === 8 ? deflateRawSync(content) : content;
    const common = Buffer.alloc(26);
    common.writeUInt16LE(20, 0); // version needed
    common.writeUInt16LE(flags, 2);
    common.writeUInt16LE(method, 4);
    common.writeUInt32LE(0x5a210000, 6); // 2025-01-01
    common.writeUInt32LE(claims.crc ?? crc32(content), 10);
    common.writeUInt32LE(packed.length, 14);
    common.writeUInt32LE(claims.size ?? content.length, 18);
    common.writeUInt16LE(raw.length, 22);
    const local = Buffer.concat([signed(0x04034b50), common, raw, packed]);
    const rest = Buffer.alloc(14);
    rest.writeUInt32LE((mode << 16) >>> 0, 6);
    rest.writeUInt32LE(offset, 10);
    const madeBy = Buffer.from([20, 3]); // 3: Unix
    directory.push(Buffer.concat([signed(0x02014b50), madeBy, common, rest, raw]));
    parts.push(local);
    offset += local.length;
  }
  const list = Buffer.concat(directory);
  const end = Buffer.alloc(18);
  end.writeUInt16LE(members.length, 4);
  end.writeUInt16LE(members.length, 6);
  end.writeUInt32LE(list.length, 8);
  end.writeUInt32LE(offset, 12);
  return Buffer.concat([...parts, list, signed(0x06054b50), end]);
}

function signed(signature: number): Buffer {
  const bytes = Buffer.alloc(4);
  bytes.writeUInt32LE(signature);
  return bytes;
}

/** Every file below a folder, under `prefix`. */
export const membersOf = (folder: string, prefix: string): Member[] =>
  readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name))
    .sort()
    .map((path) => ({
      name: `${prefix}${path.slice(folder.length + 1)}`,
      bytes: readFileSync(path),
    }));
