// Where the words of a picture stand: beside their lines and marks, inside the drawing, none upon another.

export interface Word {
  text: string;
  /** Where it would like to stand: its middle, its height. */
  x: number;
  y: number;
}

export interface Box {
  left: number;
  right: number;
  top: number;
  bottom: number;
}

/** Width of a letter and height of a line of the words in a picture, CSS pixels. */
const LETTER = 8.1;
const LINE = 19;

export const wideness = (text: string): number => text.length * LETTER + 6;

/** Moves each word the shortest way up or down to where it covers no other; the first ones stay where they are. */
export function placed(words: Word[], within: Box): Word[] {
  const taken: Box[] = [];
  return words.map((word) => {
    const half = wideness(word.text) / 2;
    const x = Math.min(Math.max(word.x, within.left + half), Math.max(within.left + half, within.right - half));
    const box = (y: number): Box => ({ left: x - half, right: x + half, top: y - LINE + 4, bottom: y + 4 });
    const clear = (y: number) => box(y).top >= within.top && box(y).bottom <= within.bottom && !taken.some((one) => meet(one, box(y)));
    const tries = Array.from({ length: 24 }, (_, n) => word.y + (n % 2 ? 1 : -1) * Math.ceil(n / 2) * (LINE / 2));
    const y = tries.find(clear) ?? Math.min(Math.max(word.y, within.top + LINE), within.bottom - 4);
    taken.push(box(y));
    return { text: word.text, x, y };
  });
}

function meet(a: Box, b: Box): boolean {
  return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}
