import { expect, test } from "vitest";
import type { Row } from "./pressing.svelte";
import { Steady } from "./steady";

const rows = (headline: string, count = 10) =>
  Array.from({ length: count }, (_, i) => ({ id: `bond:${i}`, headline }) as unknown as Row);

test("rows that say the same stay the same objects", () => {
  const steady = new Steady();
  const first = steady.keep(rows("a"));
  const again = steady.keep(rows("a"));
  expect(again.more).toBe(false);
  again.rows.forEach((row, i) => expect(row).toBe(first.rows[i]));
});

test("where all changed a few are drawn with each picture, the first ones first, until all are", () => {
  const steady = new Steady();
  steady.keep(rows("a"));
  const news = rows("b");
  const says = (kept: { rows: Row[] }) => kept.rows.map((row) => row.headline).join("");
  const seen = [];
  for (let more = true; more; ) {
    const kept = steady.keep(news);
    seen.push(says(kept));
    more = kept.more;
  }
  expect(seen).toEqual(["bbaaaaaaaa", "bbbbaaaaaa", "bbbbbbaaaa", "bbbbbbbbaa", "bbbbbbbbbb"]);
});

test("a row that is new is there at once, one that is gone is gone", () => {
  const steady = new Steady();
  steady.keep(rows("a", 12));
  const kept = steady.keep([...rows("b", 9), { id: "bond:new", headline: "new" } as unknown as Row]);
  expect(kept.rows.map((row) => row.headline).slice(1, 3).concat(kept.rows.at(-1)?.headline ?? "")).toEqual(["b", "a", "new"]);
  expect(kept.rows.length).toBe(10);
});
