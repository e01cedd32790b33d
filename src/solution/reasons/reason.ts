/** Reasons as codes with their data; what each carries and says is in wording.ts. */
import type { reasonWording, settleWording } from './wording.js';

type Nothing = Readonly<Record<string, never>>;
type DataOf<F> = F extends (data: infer D) => unknown ? (unknown extends D ? Nothing : D) : never;
type Coded<W> = { readonly [C in keyof W]: { readonly code: C; readonly data: DataOf<W[C]> } }[keyof W];

export type Reason = Coded<typeof reasonWording>;
export type Settling = Coded<typeof settleWording>;

/** A reason; the compiler checks its data against its code. */
export const reason = <C extends Reason['code']>(code: C, data: DataOf<(typeof reasonWording)[C]>): Reason =>
  ({ code, data }) as Reason;
