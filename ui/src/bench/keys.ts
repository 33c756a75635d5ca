// Keys at the bench: Space, Enter and a pedal do the topmost row's next press while the keyboard stands nowhere in
// particular; 1 to 9 go to a row. A label scanner types a burst that ends in Enter: that is one press, not a row.

/** Keys that come closer together than this were not typed by a hand, ms. */
const BURST_MS = 60;

export class Keys {
  private burst = 0;
  private last = 0;
  private waiting: ReturnType<typeof setTimeout> | undefined;

  constructor(
    private readonly topmost: () => void,
    private readonly go: (place: number) => void,
    private readonly clock: () => number = () => performance.now(),
  ) {}

  down(event: KeyboardEvent) {
    if (event.defaultPrevented || event.altKey || event.ctrlKey || event.metaKey) return;
    const at = event.target as Element | null;
    if (at?.closest("input, textarea, select, dialog, [data-panel]")) return;
    const close = this.clock() - this.last < BURST_MS;
    this.last = this.clock();
    // A scanner types what can be read; Tab held down comes as fast and is none.
    if (event.key.length === 1 || event.key === "Enter") this.burst = close ? this.burst + 1 : 1;
    else this.burst = 0;
    clearTimeout(this.waiting);
    if (event.key === "Enter" && this.burst > 3) this.press(event);
    else if (event.key === " " || event.key === "Enter") {
      if (!at?.closest("button, a, summary, [role=button]")) this.press(event);
    } else if (/^[1-9]$/.test(event.key)) {
      const place = Number(event.key) - 1;
      this.waiting = setTimeout(() => this.go(place), BURST_MS);
    }
  }

  private press(event: KeyboardEvent) {
    event.preventDefault();
    if (!event.repeat) this.topmost();
  }
}
