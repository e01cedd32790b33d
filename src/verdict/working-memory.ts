/** Where the numbers of a simulation stand. */
export interface Memory {
  /** So many zeros. */
  floats(length: number): Float64Array;
  copyOf(numbers: Float64Array): Float64Array;
}

/** Memory of its own for each: nothing has to be given back. */
export const freshMemory: Memory = {
  floats: (length) => new Float64Array(length),
  copyOf: (numbers) => numbers.slice(),
};

/** Numbers a block, 8 MB. */
const BLOCK = 2 ** 20;
/** Held at most, 64 MB; what goes beyond comes fresh. */
const MOST_BLOCKS = 8;

/**
 * Memory that is used again. What one phase simulates is some twenty megabytes. An engine that sees as much come and go
 * collects everything after every few jobs, forgets the machine code of all functions that are made within others, and
 * makes it anew: a fifth of the processor time of a batch.
 */
export class WorkingMemory implements Memory {
  private readonly blocks: Float64Array[] = [];
  private block = 0;
  private used = 0;

  floats(length: number): Float64Array {
    return this.take(length)?.fill(0) ?? new Float64Array(length);
  }

  copyOf(numbers: Float64Array): Float64Array {
    const place = this.take(numbers.length);
    if (place === null) return numbers.slice();
    place.set(numbers);
    return place;
  }

  /** Everything handed out so far is handed out again: nobody may hold on to it. */
  release(): void {
    this.block = 0;
    this.used = 0;
  }

  private take(length: number): Float64Array | null {
    if (length > BLOCK) return null;
    if (this.used + length > BLOCK) {
      if (this.block + 1 >= MOST_BLOCKS) return null;
      this.block++;
      this.used = 0;
    }
    const block = (this.blocks[this.block] ??= new Float64Array(BLOCK));
    this.used += length;
    return block.subarray(this.used - length, this.used);
  }
}
