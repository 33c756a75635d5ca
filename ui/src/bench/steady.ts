// Rows that say the same as before stay the same object, so that nothing of them is drawn anew when the book is asked
// again. Positions on a glue line count as the same while they would move by less than a thousandth of its width. Where
// many rows changed, a few are drawn with each picture, so that none takes long.
import type { Row } from "./pressing.svelte";

const THOUSANDTH = 1000;
/** So many rows are drawn anew with one picture. */
const AT_ONCE = 2;

/** A row as it is drawn, what it says, and the answer's row that it was last held against. */
interface Kept {
  row: Row;
  says: string;
  against: Row;
}

export class Steady {
  private kept = new Map<string, Kept>();

  /** The rows to draw for an answer; `more`: some still show what they showed before, ask again for the same rows. */
  keep(rows: Row[]): { rows: Row[]; more: boolean } {
    const next = new Map<string, Kept>();
    let changed = 0;
    let more = false;
    for (const row of rows) {
      const old = this.kept.get(row.id);
      if (old && old.against !== row && changed >= AT_ONCE) {
        more = true;
        next.set(row.id, old);
        continue;
      }
      const one = old?.against === row ? old : compared(row, old);
      if (old && one.row !== old.row) changed += 1;
      next.set(row.id, one);
    }
    this.kept = next;
    return { rows: rows.map((row) => next.get(row.id)?.row ?? row), more };
  }
}

function compared(row: Row, old: Kept | undefined): Kept {
  const says = JSON.stringify(row, roughly);
  return { row: old?.says === says ? old.row : row, says, against: row };
}

/** Rounds positions; the line's own edges in time say nothing that its words do not. */
function roughly(key: string, value: unknown): unknown {
  if (typeof value === "number") return Math.round(value / THOUSANDTH);
  return (key === "from" || key === "to") && typeof value === "string" ? undefined : value;
}
