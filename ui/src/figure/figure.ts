// What a figure's form sends: each box as typed, a bare number with the unit that stands behind its box.
import { typed } from "../form.svelte";
import type { FigureInput, FigureListed } from "../wire/types";

/** The boxes as inputs of the question; empty ones are left out. */
export function sent(inputs: FigureInput[], boxes: Record<string, string>): Record<string, string> {
  const all: Record<string, string> = {};
  for (const input of inputs) {
    const text = boxes[input.name] ?? "";
    const value = input.sort === "list" ? listed(text, input.typed_in) : typed(text, input.typed_in);
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

const kept: Record<string, Record<string, string>> = {};

/** What stood in the boxes of a figure when it was left; at first, the word that is used without one. */
export function before(figure: FigureListed): Record<string, string> {
  return kept[figure.name] ?? Object.fromEntries(figure.inputs.map((input) => [input.name, input.words.includes(input.without) ? input.without : ""]));
}

/** Keeps the boxes until the figure is looked at again. */
export function keep(figure: FigureListed, boxes: Record<string, string>) {
  kept[figure.name] = { ...boxes };
}
