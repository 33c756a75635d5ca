// The form of an adhesive card: what stands in its boxes, as it is sent and as it comes back for a new revision.
import type { Acts } from "../wire/doors";
import { typed, units } from "../form.svelte";
import type { FigureSent } from "../wire/types";

type CardBody = Acts["card"];
type Limit = CardBody["limits"][number];

export interface TimePoint {
  time: string;
  at: string;
  mass: string;
}

/** One line of the sheet's table of times. */
export interface TimeRow {
  clock: string;
  bent: boolean;
  word: string;
  /** Unit behind the time. */
  unit: "min" | "h";
  counted: string;
  points: TimePoint[];
  /** Kept for a time that holds at any temperature. */
  unscaled?: boolean;
  judged?: string;
}

/** Everything else the sheet may say, by its field; all as typed. */
export interface CardBoxes {
  name: string;
  class: string | null;
  other: string;
  weight: string;
  volume: string;
  tolerance: string;
  rows: TimeRow[];
  more: Record<string, string>;
}

/** The card entered last: what a new lot most likely belongs to. */
export function newest(cards: { name: string; seq: number }[]): string {
  return [...cards].sort((a, b) => b.seq - a.seq)[0]?.name ?? "";
}

const point = (): TimePoint => ({ time: "", at: "", mass: "" });
const row = (clock: string, word: string, unit: "min" | "h", bent = false): TimeRow => ({ clock, bent, word, unit, counted: "", points: [point()] });

export const CLASSES = [
  { value: "epoxy", word: "Epoxy" },
  { value: "resorcinol", word: "Resorcinol" },
  { value: "urea", word: "Urea" },
  { value: "casein", word: "Casein" },
  { value: "other", word: "Other" },
];

/** What is taken for granted by class until the sheet says otherwise; docs/guide tells the same. */
export const PRESETS: Record<string, string> = {
  epoxy: "Assumed for epoxy until you say otherwise: a spell below the least cure temperature only pauses the cure.",
  resorcinol:
    "Assumed for resorcinol until you say otherwise: it sets by drying, so open and closed times are not stretched or shortened with temperature; a spell below the least cure temperature is a fault.",
  urea: "Assumed for urea until you say otherwise: it sets by drying, so open and closed times are not stretched or shortened with temperature; a spell below the least cure temperature is a fault.",
  casein:
    "Assumed for casein until you say otherwise: it sets by drying, so open and closed times are not stretched or shortened with temperature.",
  other: "Nothing is assumed for another class: a time given at one temperature holds there only.",
};

/** The boxes of "More from the sheet", in the order sheets usually have them. */
export const MORE: { field: string; word: string; unit: () => string; hint?: string }[] = [
  { field: "minimum_cure", word: "Least cure temperature", unit: () => units.temperature },
  { field: "maximum_cure", word: "Highest cure temperature", unit: () => units.temperature },
  { field: "application_minimum", word: "Apply from", unit: () => units.temperature },
  { field: "application_maximum", word: "Apply up to", unit: () => units.temperature },
  { field: "moisture_minimum", word: "Wood moisture from", unit: () => "%" },
  { field: "moisture_maximum", word: "Wood moisture up to", unit: () => "%" },
  { field: "humidity_minimum", word: "Air humidity from", unit: () => "%" },
  { field: "humidity_maximum", word: "Air humidity up to", unit: () => "%" },
  { field: "pressure_minimum", word: "Clamping pressure from", unit: () => units.pressure },
  { field: "pressure_maximum", word: "Clamping pressure up to", unit: () => units.pressure },
  { field: "spread", word: "Spread on a glue line", unit: () => "g/m2" },
  { field: "largest_batch", word: "Largest batch", unit: () => units.mass },
  { field: "stirring", word: "Stir for", unit: () => "min" },
  { field: "standing", word: "Let stand for", unit: () => "min" },
  { field: "resin_density", word: "Density of the resin", unit: () => "kg/l" },
  { field: "hardener_density", word: "Density of the hardener", unit: () => "kg/l" },
  { field: "film_gel.time", word: "Gel time of a thin film", unit: () => "min", hint: "with the pot life it tells how a cup heats itself" },
  { field: "film_gel.at", word: "… at", unit: () => units.temperature },
  { field: "equivalents.resin", word: "Resin per epoxide (EEW)", unit: () => "g", hint: "grams for one group" },
  { field: "equivalents.hardener", word: "Hardener per amine hydrogen (AHEW)", unit: () => "g", hint: "grams for one group" },
  { field: "equivalents.functionality", word: "Hydrogens of one hardener molecule", unit: () => "", hint: "empty: 4 is taken" },
  { field: "glass.full", word: "Glass transition, fully cured", unit: () => units.temperature },
  { field: "glass.fresh", word: "Glass transition of the fresh mix", unit: () => units.temperature },
];

/** What is sent as an object of its own: the boxes `film_gel.at` and `film_gel.time` together. */
const GROUPS = ["film_gel", "equivalents", "glass"] as const;
const grouped = (field: string) => field.includes(".");

/** `{film_gel: {at, time}, …}` of the boxes that hold something; a refusal of the half that is missing finds its box. */
function groupsOf(more: Record<string, string>): Partial<Pick<CardBody, (typeof GROUPS)[number]>> {
  const all: Record<string, Record<string, string | number>> = {};
  for (const one of MORE.filter((one) => grouped(one.field))) {
    const [group = "", field = ""] = one.field.split(".");
    const text = typed(more[one.field] ?? "", one.unit());
    if (text !== undefined) all[group] = { ...all[group], [field]: field === "functionality" ? Number(text) : text };
  }
  return all;
}

export function empty(): CardBoxes {
  return {
    name: "",
    class: null,
    other: "",
    weight: "",
    volume: "",
    tolerance: "",
    rows: [
      row("pot", "Pot life", "min"),
      row("open", "Open assembly", "min"),
      row("closed", "Closed assembly", "min"),
      row("clamp", "Clamps on", "h"),
      row("clamp", "Clamps, bent joints", "h", true),
      row("machining", "Machining", "h"),
      row("full-cure", "Full cure", "h"),
      { ...row("fresh-surface", "Fresh surface", "h"), unscaled: true },
      { ...row("glue-again", "Glue again, unsanded", "h"), unscaled: true },
    ],
    more: {},
  };
}

const written = (row: TimeRow) => row.points.filter((one) => one.time || one.at || one.mass);

/** Where a row stands in what is sent; -1: it is empty and not sent. */
export function place(boxes: CardBoxes, row: TimeRow): number {
  return written(row).length ? boxes.rows.filter((one) => written(one).length).indexOf(row) : -1;
}

/** The name of one box of the table, as a refusal would name it. */
export function boxName(boxes: CardBoxes, row: TimeRow, one: TimePoint, field: "time" | "at" | "mass"): string {
  const at = place(boxes, row);
  if (at < 0) return row === boxes.rows[0] && field === "time" && boxes.rows.every((it) => !written(it).length) ? "limits" : `none.${row.clock}.${field}`;
  return `limits[${at}].points[${written(row).indexOf(one)}].${field}`;
}

/** The body as it is sent. What is empty is not sent: it is not recorded. */
export function bodyOf(boxes: CardBoxes, revises?: string): CardBody {
  const more = Object.fromEntries(
    Object.entries(boxes.more)
      .filter(([field]) => !grouped(field))
      .map(([field, text]) => [field, sentAs(field, text)] as const)
      .filter(([, value]) => value !== undefined),
  );
  return {
    name: boxes.name.trim(),
    class: (boxes.class === "other" ? boxes.other : boxes.class ?? "").trim(),
    ratio: { weight: typed(boxes.weight), volume: typed(boxes.volume), tolerance: typed(boxes.tolerance, "%") },
    limits: boxes.rows.filter((one) => written(one).length).map(limitOf),
    ...more,
    ...groupsOf(boxes.more),
    ...(revises ? { revises } : {}),
  };
}

function limitOf(row: TimeRow): Limit {
  return {
    clock: row.clock,
    points: written(row).map((one) => ({
      time: typed(one.time, row.unit) ?? "",
      at: typed(one.at, units.temperature),
      mass: typed(one.mass, units.mass),
    })),
    ...(row.counted ? { counted_from: row.counted } : {}),
    ...(row.bent ? { bent: true } : {}),
    ...(row.judged ? { judged_by: row.judged } : {}),
  };
}

function sentAs(field: string, text: string): string | boolean | undefined {
  if (field === "together" || field === "water_borne") return text === "" ? undefined : text === "yes";
  const box = MORE.find((one) => one.field === field);
  return typed(text, box?.unit());
}

/** Without the unit that stands behind the box already. */
function bare(text: string | null | undefined, unit?: string): string {
  const value = text ?? "";
  return unit && value.endsWith(` ${unit}`) ? value.slice(0, -unit.length - 1) : value;
}

/** Puts in what a figure sent: `ratio.weight`, `limits.clamp.points[0].at`, or a box of the fold. A note is added to. */
export function fill(boxes: CardBoxes, fields: FigureSent[]): CardBoxes {
  const fresh = new Set<string>();
  for (const { field, value } of fields) {
    const [, clock = "", at = "", part = ""] = /^limits\.([^.]+)\.points\[(\d+)\]\.(at|time)$/.exec(field) ?? [];
    if (clock) put(boxes, fresh, clock, Number(at), part as "at" | "time", value);
    else if (field === "ratio.weight") boxes.weight = value;
    else if (field === "note") boxes.more.note = [boxes.more.note, value].filter(Boolean).join("\n");
    else boxes.more[field] = value;
  }
  return boxes;
}

/** One box of the table of times; the row's own times make way for the ones sent. */
function put(boxes: CardBoxes, fresh: Set<string>, clock: string, at: number, part: "at" | "time", value: string) {
  const row = boxes.rows.find((one) => one.clock === clock && !one.bent);
  if (!row) return;
  if (!fresh.has(clock)) row.points = [];
  fresh.add(clock);
  const one = row.points[at] ?? point();
  one[part] = part === "time" ? bare(value, row.unit) : bare(value, units.temperature);
  row.points[at] = one;
}

/** The boxes of a card in the book, for its next revision: nothing is typed twice. */
export function boxesOf(body: CardBody): CardBoxes {
  const boxes = empty();
  const ratio = ratioOf(body);
  const known = CLASSES.some((one) => one.value === body.class);
  Object.assign(boxes, { name: body.name, class: known ? body.class : "other", other: known ? "" : body.class, ...ratio });
  for (const limit of body.limits) {
    const row = boxes.rows.find((one) => one.clock === limit.clock && one.bent === (limit.bent ?? false)) ?? another(boxes, limit);
    row.counted = limit.counted_from ?? "";
    row.judged = limit.judged_by ?? undefined;
    row.points = limit.points.map((one) => ({ time: bare(one.time, row.unit), at: bare(one.at, units.temperature), mass: bare(one.mass, units.mass) }));
  }
  const rest: [string, unknown][] = Object.entries(body);
  for (const [field, value] of rest) {
    if (["name", "class", "ratio", "limits", "tolerance", "revises"].includes(field)) continue;
    if (typeof value === "string") boxes.more[field] = bare(value, MORE.find((one) => one.field === field)?.unit());
    if (typeof value === "boolean") boxes.more[field] = value ? "yes" : "no";
    if (GROUPS.some((group) => group === field) && value) {
      for (const [inner, text] of Object.entries(value)) {
        const name = `${field}.${inner}`;
        boxes.more[name] = bare(String(text ?? ""), MORE.find((one) => one.field === name)?.unit());
      }
    }
  }
  return boxes;
}

function another(boxes: CardBoxes, limit: Limit): TimeRow {
  boxes.rows.push(row(limit.clock, `${limit.clock}, bent joints`, "h", limit.bent ?? false));
  return boxes.rows[boxes.rows.length - 1] as TimeRow;
}

function ratioOf(body: CardBody): { weight: string; volume: string; tolerance: string } {
  const tolerance = bare(body.tolerance, "%");
  if (typeof body.ratio === "string") {
    const plain = body.ratio.replace(/ *by (weight|volume) */, "");
    return body.ratio.includes("volume") ? { weight: "", volume: plain, tolerance } : { weight: plain, volume: "", tolerance };
  }
  const { weight, volume, by, nominal, tolerance: inner } = body.ratio;
  return {
    weight: weight ?? (by !== "volume" ? nominal : null) ?? "",
    volume: volume ?? (by === "volume" ? nominal : null) ?? "",
    tolerance: bare(inner ?? tolerance, "%"),
  };
}
