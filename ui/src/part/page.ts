// A part's page as Rust sets it out: the same value is drawn here and by the typesetter. No wire type is generated for
// it, because the page is put together beside the book's doors.
import type { GlueLine } from "../wire/types";

export interface Fact {
  label: string;
  value: string | null;
  tone: string;
  basis: string | null;
  entry: number | null;
}

export interface Cell {
  text: string | null;
  tone: string;
}

export type Block =
  | { block: "list"; items: { sentence: string; entry: number | null }[] }
  | { block: "facts"; facts: Fact[] }
  | { block: "line"; line: GlueLine }
  | { block: "table"; heads: string[]; widths?: number[]; rows: Cell[][] }
  | { block: "note"; tone: "correction" | "held" | "plain"; text: string }
  | { block: "heading"; text: string; sub: string }
  | { block: "about"; text: string }
  | { block: "text"; text: string; small?: boolean }
  | { block: "checkpoint"; lines: string[]; qr: string };

export interface Section {
  section: string;
  heading: string;
  content: unknown;
  blocks: Block[];
}

export interface Page {
  part: { mark: string; id: string; assembly: string | null; kind: string | null };
  title: string;
  subtitle: string;
  stamp: { tone: string; word: string };
  summary: Fact[];
  zone?: string;
  sections: Section[];
}

/** The bonds of a page by name, in time order. */
export function bondsOf(page: Page): string[] {
  const content = page.sections.find((section) => section.section === "bonds")?.content;
  if (!Array.isArray(content)) return [];
  return content.map((bond: { bond?: unknown }) => bond.bond).filter((name) => typeof name === "string");
}

/** What stands under each heading of a section: the headings cut it into stories. */
export function stories(section: Section): { heading: Extract<Block, { block: "heading" }> | null; blocks: Block[] }[] {
  const cut: ReturnType<typeof stories> = [];
  for (const block of section.blocks) {
    if (block.block === "heading") cut.push({ heading: block, blocks: [] });
    else if (cut.length) cut[cut.length - 1]?.blocks.push(block);
    else cut.push({ heading: null, blocks: [block] });
  }
  return cut;
}
