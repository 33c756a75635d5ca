// The form of a kind of part: its stages and joints as they are typed and as they are sent.
import type { Acts } from "../wire/doors";
import { typed, units } from "../form.svelte";

export interface JointBoxes {
  mark: string;
  sort: string;
  area: string;
  thickness: string;
}

export interface StageBoxes {
  mark: string;
  joints: JointBoxes[];
}

export const JOINT_FIELDS = [
  { field: "mark", word: "Joint", unit: () => undefined },
  { field: "sort", word: "Sort", unit: () => undefined },
  { field: "area", word: "Glue area", unit: () => units.area },
  { field: "thickness", word: "Thickness of all members", unit: () => units.length },
] as const;

export const SORTS = ["lap", "scarf", "gusset", "cap strip", "web in slot", "nose block", "skin"];

export const joint = (): JointBoxes => ({ mark: "", sort: "", area: "", thickness: "" });
export const stage = (first: Partial<JointBoxes> = {}): StageBoxes => ({ mark: "", joints: [{ ...joint(), ...first }] });

const written = (one: JointBoxes) => Object.values(one).some((text: string) => text.trim() !== "");

/** Where a joint stands in what is sent; an empty line at the foot is not sent. */
export function jointName(stages: StageBoxes[], at: number, one: JointBoxes, field: string): string {
  const sent = (stages[at]?.joints ?? []).filter(written);
  const place = sent.indexOf(one);
  if (place < 0) return sent.length === 0 && field === "mark" ? `stages[${at}].joints` : `none.${field}`;
  return `stages[${at}].joints[${place}].${field}`;
}

/** A line more as soon as the last one is begun: the table is filled by Tab alone. */
export function grow(joints: JointBoxes[]) {
  const last = joints[joints.length - 1];
  if (last && written(last)) joints.push(joint());
}

export function kindBody(
  mark: string,
  stages: StageBoxes[],
  rest: { presses: string | null; pressure: string; clamping: string; bent: boolean; service: string },
): Acts["kind"] {
  return {
    mark: mark.trim(),
    stages: stages.map((one) => ({ mark: one.mark.trim(), joints: one.joints.filter(written).map(jointBody) })),
    ...(rest.presses === "2" ? { presses: 2 } : {}),
    ...(rest.bent ? { bent: true } : {}),
    pressure: typed(rest.pressure, units.pressure),
    clamping: typed(rest.clamping, "min"),
    service: typed(rest.service, units.temperature),
  };
}

const jointBody = (one: JointBoxes) => ({
  mark: one.mark.trim(),
  sort: typed(one.sort),
  area: typed(one.area, units.area),
  thickness: typed(one.thickness, units.length),
});

/** What is measured on each sort of joint that the figure `joint-area` knows. */
export const SHAPES: Record<string, { word: string; measures: string[] }> = {
  lap: { word: "lap", measures: ["length", "width"] },
  scarf: { word: "scarf", measures: ["width", "thickness", "slope"] },
  "web-in-cap": { word: "web let into a cap strip", measures: ["length", "thickness", "depth"] },
  "gusset-pair": { word: "pair of gussets", measures: ["length", "width", "covered"] },
  "triangular-gusset-pair": { word: "pair of three-sided gussets", measures: ["length", "width", "covered"] },
  "web-in-slot": { word: "web in a slot", measures: ["width", "thickness", "depth"] },
  fillet: { word: "fillet", measures: ["length", "leg"] },
  butt: { word: "face on face", measures: ["length", "width"] },
};

/** What stands before the box of a measure, and the unit behind it. */
export const MEASURES: Record<string, { label: string; unit: () => string; optional?: boolean }> = {
  length: { label: "Length", unit: () => units.length },
  width: { label: "Width", unit: () => units.length },
  thickness: { label: "Thickness", unit: () => units.length },
  depth: { label: "Depth of the groove or slot", unit: () => units.length },
  leg: { label: "Leg of the fillet", unit: () => units.length },
  slope: { label: "Slope, one in", unit: () => "" },
  covered: { label: "Share that lies on wood", unit: () => "%", optional: true },
};

/** The inputs of the figure, once every box that is needed is filled; null before. */
export function areaInputs(shape: string, boxes: Record<string, string>): Record<string, string> | null {
  const inputs: Record<string, string> = { sort: shape };
  for (const name of SHAPES[shape]?.measures ?? []) {
    const value = typed(boxes[name] ?? "", MEASURES[name]?.unit());
    if (value !== undefined) inputs[name] = value;
    else if (!MEASURES[name]?.optional) return null;
  }
  return shape ? inputs : null;
}

/** The inputs of `clamp-force` for one joint; null while its area or the pressure is not written. */
export function clampInputs(area: string, pressure: string, each: string): Record<string, string> | null {
  const [wide, pressed, one] = [typed(area, units.area), typed(pressure, units.pressure), typed(each, force())];
  if (wide === undefined || pressed === undefined) return null;
  return { area: wide, pressure: pressed, ...(one === undefined ? { clamps: "1" } : { each: one }) };
}

/** The unit of a clamp's force. */
export const force = () => (units.pressure === "psi" ? "lbf" : "N");

/** Enter in a box that only helps to fill the form does not send the form. */
export function keepsEnter(node: HTMLElement) {
  const held = (event: KeyboardEvent) => {
    if (event.key === "Enter" && event.target instanceof HTMLInputElement) event.preventDefault();
  };
  node.addEventListener("keydown", held);
  return { destroy: () => node.removeEventListener("keydown", held) };
}

/** True where an answer belongs to these inputs: an old one stays until the new one comes. */
export const answers = (inputs: Record<string, string>, used: Record<string, string | undefined>) =>
  Object.entries(inputs).every(([name, value]) => used[name] === value);
