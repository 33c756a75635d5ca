// Presses at the bench. A glued thumb presses twice: after a press its row takes no other for a moment, and not before
// the rows that follow from it are drawn; it says what was recorded, and the rows keep their order meanwhile, so that
// no other button slides under the thumb.
import { shop } from "../shop.svelte";
import type { BenchAnswer, BenchPress } from "../wire/types";

export type Row = BenchAnswer["rows"][number];

/** How long a row rests after a press, ms: longer than a double press, shorter than the next thing done by hand. */
const REST_MS = 800;

class Pressing {
  /** The row that is being pressed or rests ("bond:47", "primary"). */
  row = $state<string | null>(null);
  /** What was recorded of it; null while the receipt is awaited. */
  recorded = $state<string | null>(null);
  /** The rows as they stood when the press was made. */
  private stood: Row[] = [];
  private turn = 0;
  /** The moment is over; size of the log that the press made, and size that is drawn. */
  private rested = false;
  private made = 0;
  private drawn = 0;

  /** The bench has drawn an answer of this size. */
  answered(size: number) {
    this.drawn = size;
    this.release();
  }

  private release() {
    if (this.rested && this.drawn >= this.made) [this.row, this.recorded, this.stood] = [null, null, []];
  }

  /** Sends a press. `about` names the row in the saved line. */
  async press(row: string, press: BenchPress, about: string, shown: Row[]) {
    if (this.row === row || !press.act) return;
    const turn = ++this.turn;
    [this.row, this.recorded, this.stood, this.rested, this.made] = [row, null, shown, false, 0];
    const receipt = await shop.press(press.act, about ? `${press.word}: ${about}` : press.word);
    if (receipt) {
      if (turn === this.turn) this.made = receipt.size;
      const batch = receipt.made["batch"];
      if (!about && batch && shop.saved) shop.saved = { ...shop.saved, said: `${press.word}: batch ${batch}` };
      const entry = receipt.entries.find((one) => one.kind === "press")?.id;
      if (entry && shop.saved && press.act.body["press"] !== "taken-back") {
        shop.saved = { ...shop.saved, back: { act: "press", body: { press: "taken-back", entry } } };
      }
      if (turn === this.turn) this.recorded = press.word;
    }
    setTimeout(() => {
      if (turn !== this.turn) return;
      this.rested = true;
      this.release();
    }, REST_MS);
  }

  /** The rows to draw: while one rests, in the order in which they stood, with the news in place. */
  order(fresh: Row[]): Row[] {
    if (this.row === null || this.stood.length === 0) return fresh;
    const now = new Map(fresh.map((one) => [one.id, one]));
    const old = new Set(this.stood.map((one) => one.id));
    return [...this.stood.map((one) => now.get(one.id) ?? one), ...fresh.filter((one) => !old.has(one.id))];
  }
}

export const pressing = new Pressing();
