// Work for after the next picture: what is seen first is drawn first.

/** Calls back once the page, as it stands now, is on the screen. */
export function drawn(then: () => void) {
  requestAnimationFrame(() => setTimeout(then));
}
