// One second hand for the whole screen: performance.now(), read once a second, and only while somebody looks.
import { createSubscriber } from "svelte/reactivity";

class Tick {
  private readonly subscribe = createSubscriber((update) => {
    const timer = setInterval(update, 250);
    return () => clearInterval(timer);
  });

  /** performance.now(), rounded to the quarter second of its last beat. */
  get now(): number {
    this.subscribe();
    return performance.now();
  }
}

export const tick = new Tick();
