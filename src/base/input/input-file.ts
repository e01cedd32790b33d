/** An input file and the hash of its content. */
export interface InputFile {
  readonly path: string;
  readonly bytes: number;
  readonly sha256: string;
  /** What was detected when it was read: encoding, delimiter, decimal mark. */
  readonly read: string;
}
