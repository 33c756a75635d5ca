// Entries page by page, newest first. When the book changes every page on the screen is asked again, in order, because
// each begins where the one before it ends.
import { untrack } from "svelte";
import { shop } from "../shop.svelte";
import { ask, WireError, type Answers } from "../wire/doors";
import type { WireErrorShape } from "../wire/desk";

export type Row = Answers["entries"]["entries"][number];
type Wanted = { about?: string; kind?: string };

export class Pages {
  rows = $state.raw<Row[] | null>(null);
  total = $state(0);
  more = $state(false);
  busy = $state(false);
  error = $state.raw<WireErrorShape | null>(null);
  private wanted: Wanted = {};
  private pages = 1;
  private turn = 0;
  /** The book changed while an answer was on its way. */
  private stale = false;

  /** Call it while a component is made. */
  constructor() {
    $effect(() => {
      void shop.pulse;
      untrack(() => {
        if (this.busy) this.stale = true;
        else void this.again();
      });
    });
  }

  async show(wanted: Wanted) {
    this.wanted = wanted;
    this.pages = 1;
    await this.again();
  }

  async older() {
    this.pages += 1;
    await this.again();
  }

  private async again() {
    const turn = ++this.turn;
    this.busy = true;
    this.stale = false;
    try {
      const rows: Row[] = [];
      let next: { before?: number; log?: string } | null = {};
      let last: Answers["entries"] | null = null;
      for (let page = 0; page < this.pages && next; page++) {
        last = await ask("entries", { ...this.wanted, ...next, limit: 100 });
        if (turn !== this.turn) return;
        rows.push(...last.entries);
        next = after(last);
        // A page may hold nothing that was wanted and yet have older ones behind it.
        if (last.entries.length === 0 && next) page--;
      }
      this.rows = rows;
      this.total = last?.total ?? 0;
      this.more = next !== null;
      this.error = null;
    } catch (why) {
      if (turn !== this.turn) return;
      this.error = why instanceof WireError ? why.shape : { code: "fault", sentence: String(why), advice: "" };
    } finally {
      if (turn === this.turn) this.busy = false;
      if (turn === this.turn && this.stale) void this.again();
    }
  }
}

/** Where the page after this one begins; null: there is none. */
function after(page: Answers["entries"]): { before?: number; log?: string } | null {
  if (page.next_before !== null && page.next_before !== undefined) return { before: page.next_before, log: page.log ?? undefined };
  return page.next_log ? { log: page.next_log } : null;
}
