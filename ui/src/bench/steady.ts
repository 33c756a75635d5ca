// Rows that say the same as before stay the same object, so that nothing of them is drawn anew when the book is asked
// again. Positions on a glue line count as the same while they would move by less than a thousandth of its width.
import type { Row } from "./pressing.svelte";

const THOUSANDTH = 1000;

export class Steady {
  private kept = new Map<string, { says: string; row: Row }>();

  keep(rows: Row[]): Row[] {
    const next = new Map<string, { says: string; row: Row }>();
    for (const row of rows) {
      const says = JSON.stringify(row, roughly);
      const old = this.kept.get(row.id);
      next.set(row.id, old?.says === says ? old : { says, row });
    }
    this.kept = next;
    return rows.map((row) => next.get(row.id)?.row ?? row);
  }
}

/** Rounds positions; the line's own edges in time say nothing that its words do not. */
function roughly(key: string, value: unknown): unknown {
  if (typeof value === "number") return Math.round(value / THOUSANDTH);
  return (key === "from" || key === "to") && typeof value === "string" ? undefined : value;
}
