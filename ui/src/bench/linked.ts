// The title of a row cut where it names a part, so that each name leads to that part's page.

export interface Piece {
  text: string;
  /** The part that is named, if any. */
  part?: string;
}

/** `parts` in the order in which the title names them; it need not name them all. */
export function linked(title: string, parts: string[]): Piece[] {
  const pieces: Piece[] = [];
  let rest = title;
  for (const part of parts) {
    // Only the next name counts: what follows "and" is a number of parts.
    const between = /^(?:, )?/.exec(rest)?.[0] ?? "";
    const after = rest.slice(between.length);
    if (!after.startsWith(part) || !/^(?:, | and |$)/.test(after.slice(part.length))) break;
    if (between) pieces.push({ text: between });
    pieces.push({ text: part, part });
    rest = after.slice(part.length);
  }
  if (rest) pieces.push({ text: rest });
  return pieces;
}
