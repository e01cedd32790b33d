/** A file that went in, by its content. */
export interface InputFile {
  readonly path: string;
  readonly bytes: number;
  readonly sha256: string;
  /** What was detected on reading it: encoding, delimiter, decimal mark. */
  readonly read: string;
}
