/** The job file while it is being filled in: plain JSON, changed in place, so that nothing that is not touched is lost. */
import { type KeyPath, valueAt } from '../../../survey/job/key-path.js';

export type Json = null | boolean | number | string | Json[] | { [key: string]: Json };

export class JobDocument {
  private readonly listeners: (() => void)[] = [];
  /** Texts before each change, and those that were undone. */
  private readonly past: string[] = [];
  private readonly undone: string[] = [];
  private known: string;

  constructor(private root: Json) {
    this.known = this.text;
  }

  get value(): Json {
    return this.root;
  }

  at(path: KeyPath): Json | undefined {
    return valueAt(this.root, path) as Json | undefined;
  }

  /** undefined takes the key out. What lies between is made on the way. */
  set(path: KeyPath, value: Json | undefined): void {
    const holder = this.holderOf(path, value !== undefined);
    const last = path[path.length - 1]!;
    if (holder === null) return;
    if (value === undefined) {
      if (Array.isArray(holder)) holder.splice(Number(last), 1);
      else delete holder[String(last)];
    } else if (Array.isArray(holder)) holder[Number(last)] = value;
    else holder[String(last)] = value;
    this.changed();
  }

  get canUndo(): boolean {
    return this.past.length > 0;
  }

  get canRedo(): boolean {
    return this.undone.length > 0;
  }

  undo(): void {
    this.step(this.past, this.undone);
  }

  redo(): void {
    this.step(this.undone, this.past);
  }

  replace(value: Json): void {
    this.root = value;
    this.changed();
  }

  onChange(listener: () => void): void {
    this.listeners.push(listener);
  }

  /** As job.json is written. */
  get text(): string {
    return `${JSON.stringify(this.root, null, 2)}\n`;
  }

  private step(from: string[], to: string[]): void {
    const text = from.pop();
    if (text === undefined) return;
    to.push(this.known);
    this.root = JSON.parse(text) as Json;
    this.known = text;
    for (const listener of this.listeners) listener();
  }

  private changed(): void {
    // A field that is said once more as it is changes nothing.
    if (this.text !== this.known) {
      this.past.push(this.known);
      this.undone.length = 0;
      this.known = this.text;
    }
    for (const listener of this.listeners) listener();
  }

  private holderOf(path: KeyPath, makes: boolean): Json[] | Record<string, Json> | null {
    let at = this.root as Json[] | Record<string, Json>;
    for (const [k, step] of path.slice(0, -1).entries()) {
      let next = (at as Record<string | number, Json>)[step];
      if (typeof next !== 'object' || next === null) {
        if (!makes) return null;
        next = typeof path[k + 1] === 'number' ? [] : {};
        (at as Record<string | number, Json>)[step] = next;
      }
      at = next;
    }
    return at;
  }
}
