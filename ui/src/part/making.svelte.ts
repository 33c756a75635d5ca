// Pages under way as PDF. They go on while the reader walks through the rooms, so they are kept beside the screens.
import { shop } from "../shop.svelte";
import { actDesk, WireError } from "../wire/doors";
import type { WireErrorShape } from "../wire/desk";

class Making {
  /** The part whose page was asked for last, and its job. */
  part = $state<string | null>(null);
  private job = $state<string | null>(null);
  /** What went wrong before the host took it up. */
  refused = $state.raw<WireErrorShape | null>(null);

  /** What the host told of it last; null: it told nothing yet, or none is asked for. */
  get told() {
    return shop.page && shop.page.job === this.job ? shop.page : null;
  }

  get underWay() {
    return this.job !== null && !this.told?.finished;
  }

  get error() {
    return this.refused ?? this.told?.error ?? null;
  }

  async start(part: string, paper: "a4" | "letter") {
    this.part = part;
    this.refused = null;
    this.job = null;
    await this.attempt(async () => {
      this.job = (await actDesk<{ job: string }>({ desk: "page", part, paper })).job;
    });
  }

  async stop() {
    const job = this.job;
    if (job) await this.attempt(() => actDesk({ desk: "cancel", job }));
  }

  async show() {
    const file = this.told?.file;
    if (file) await this.attempt(() => actDesk({ desk: "show", file }));
  }

  private async attempt(what: () => Promise<unknown>) {
    try {
      await what();
    } catch (why) {
      this.refused = why instanceof WireError ? why.shape : { code: "fault", sentence: String(why), advice: "" };
    }
  }
}

export const making = new Making();
