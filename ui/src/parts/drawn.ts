// Work for after the next picture: what is seen first is drawn first.

/** Calls back once the page, as it stands now, is on the screen; a hidden page waits. Gives the way to call it off, so
 * that an effect asked again while it waits does not pile up. */
export function drawn(then: () => void): () => void {
  let timer: ReturnType<typeof setTimeout> | undefined;
  const frame = requestAnimationFrame(() => (timer = setTimeout(then)));
  return () => {
    cancelAnimationFrame(frame);
    clearTimeout(timer);
  };
}
