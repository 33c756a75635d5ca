// The places with air of their own, and the one that is spoken of; in a book without any it is named on the way.
import { ask, WireError } from "../wire/doors";
import type { Form } from "../form.svelte";
import { shop } from "../shop.svelte";

export class Places {
  all = $state<string[]>([]);
  place = $state("");
  instruments = $state<string[]>([]);
  /** Asked for: until then nobody is asked to name a place that may stand in the book. */
  known = $state(false);

  constructor(at?: string) {
    this.all = at ? [at] : [];
    this.place = at ?? "";
    void this.look();
  }

  private async look() {
    try {
      this.all = await names("place");
      this.place ||= this.all[0] ?? "";
      this.instruments = await names("instrument");
      this.known = true;
    } catch (why) {
      // A book that is not there yet has no places; anything else is told.
      if (why instanceof WireError && why.shape.code === "not-a-book") this.known = true;
      else shop.fail(why);
    }
  }

  /** Enters the place if there is none yet; false: that was refused, and the form says why. */
  async named(form: Form): Promise<boolean> {
    if (this.all.length || !this.place.trim()) return true;
    const name = this.place.trim();
    if (!(await form.send({ act: "place", body: { name } }, "Place saved"))) return false;
    [this.all, this.place] = [[name], name];
    return true;
  }
}

async function names(of: string): Promise<string[]> {
  return (await ask("list", { of })).list.map((one) => one.name ?? one.id);
}
