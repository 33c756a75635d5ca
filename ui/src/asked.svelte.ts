// A question that stays on the screen: asked at once, again when the book changed, and every so often besides.
import { untrack } from "svelte";
import { shop } from "./shop.svelte";
import { ahead, ask, WireError, type Answers, type QuestionWord } from "./wire/doors";
import type { WireErrorShape } from "./wire/desk";

/** The last answer, when it was asked for, and what went wrong since. An old answer stays beside an error, which says so. */
export class Asked<Q extends QuestionWord> {
  answer = $state.raw<Answers[Q] | null>(null);
  error = $state.raw<WireErrorShape | null>(null);
  /** performance.now() when the answer was asked for: countdowns go on from there, whatever the wall clock does, and a
   * slow answer leaves less time and never more. */
  came = $state.raw(0);
  private turn = 0;
  private flying: string | null = null;
  private changed = false;

  /** `body` gives the question's body, or null while there is nothing to ask. Call it while a component is made. */
  constructor(
    private readonly question: Q,
    private readonly body: () => Parameters<typeof ask<Q>>[1] | null,
    everyMs = 0,
  ) {
    let first = question === "bench" ? ahead("bench") : null;
    if (first?.answer) [this.answer, this.came] = [first.answer as Answers[Q], first.came];
    $effect(() => {
      void shop.pulse;
      const body = this.body();
      const has = first?.answer;
      first = null;
      if (has) return;
      untrack(() => void this.again(body));
    });
    $effect(() => {
      if (!everyMs) return;
      const timer = setInterval(() => void this.again(this.body()), everyMs);
      return () => clearInterval(timer);
    });
  }

  /** Asks. What is being asked already is not asked twice: a slow answer is drawn when it comes, and asked for once
   * more if something changed meanwhile. */
  async again(body = this.body()) {
    if (body === null) {
      this.turn += 1;
      this.flying = null;
      return;
    }
    const wanted = JSON.stringify(body);
    if (this.flying === wanted) {
      this.changed = true;
      return;
    }
    const turn = ++this.turn;
    [this.flying, this.changed] = [wanted, false];
    const sent = performance.now();
    try {
      const answer = await ask(this.question, body);
      if (turn !== this.turn) return;
      this.answer = answer;
      this.error = null;
      this.came = sent;
    } catch (why) {
      if (turn !== this.turn) return;
      this.error = why instanceof WireError ? why.shape : { code: "fault", sentence: String(why), advice: "" };
    }
    this.flying = null;
    if (this.changed) void this.again();
  }
}
