// What a figure's form sends: each box as typed, a bare number with the unit that stands behind its box.
import { typed } from "../form.svelte";
import type { FigureInput } from "../wire/types";

/** The units of the reader, by the unit a figure counts in. */
export interface ReadersUnits {
  temperature: string;
  mass: string;
  length: string;
  area: string;
  pressure: string;
}

/** The unit a bare number stands in: the reader's, where the reader chose one. */
export function unitOf(input: FigureInput, reader: ReadersUnits): string {
  const chosen: Record<string, string> = {
    C: reader.temperature,
    g: reader.mass,
    mm: reader.length,
    mm2: reader.area,
    kPa: reader.pressure,
  };
  return chosen[input.unit] ?? input.unit;
}

/** A unit as it is written behind a box. */
export function written(unit: string): string {
  const signs: Record<string, string> = { C: "°C", F: "°F", mm2: "mm²", cm2: "cm²", in2: "in²", "g/m2": "g/m²", "W/m2K": "W/m²K" };
  return signs[unit] ?? unit;
}

/** The boxes as inputs of the question; empty ones are left out. */
export function sent(inputs: FigureInput[], boxes: Record<string, string>, reader: ReadersUnits): Record<string, string> {
  const all: Record<string, string> = {};
  for (const input of inputs) {
    const unit = unitOf(input, reader);
    const text = boxes[input.name] ?? "";
    const value = input.sort === "list" ? listed(text, unit) : typed(text, input.sort === "amount" ? unit : undefined);
    if (value !== undefined) all[input.name] = value;
  }
  return all;
}

/** A list with commas, semicolons or line ends between; each bare number gets the unit. */
function listed(text: string, unit: string): string | undefined {
  if (text.trim() === "") return undefined;
  return text.trim().split(/\s*[,;\n]\s*/).map((one) => typed(one, unit) ?? "").join(", ");
}

/** What stands beside the blamed box: the refusal with the box's label instead of the input's name. */
export function refusal(sentence: string, field: string, label: string): string {
  return sentence.startsWith(`${field} `) ? label + sentence.slice(field.length) : sentence;
}
