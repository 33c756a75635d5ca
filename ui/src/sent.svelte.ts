// A figure's result on its way into another room: it waits here until the form that it is meant for takes it, once. It
// only fills boxes; the person still saves the form.
import { shop } from "./shop.svelte";
import type { FigureSend } from "./wire/types";

export type SentTo = "card" | "mix" | "kind" | "sample";

class Sent {
  private waiting = $state.raw<FigureSend | null>(null);

  /** Goes to the room with the form. */
  send(one: FigureSend) {
    this.waiting = one;
    shop.go(one.room as typeof shop.place.room, one.thing || undefined);
  }

  /** What waits for this form; it stays. */
  waits(to: SentTo): FigureSend | null {
    return this.waiting?.to === to ? this.waiting : null;
  }

  /** What waits for this form; it is the form's from now on. */
  take(to: SentTo): FigureSend | null {
    const one = this.waits(to);
    if (one) this.waiting = null;
    return one;
  }

  /** Nobody wants it. */
  drop() {
    this.waiting = null;
  }
}

export const sent = new Sent();

/** A box of what was sent, without the unit that stands behind the box already; empty: it was not. */
export function valueOf(one: FigureSend | null, field: string, unit?: string): string {
  const value = one?.fields.find((it) => it.field === field)?.value ?? "";
  return unit && value.endsWith(` ${unit}`) ? value.slice(0, -unit.length - 1) : value;
}
