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
export const stage = (): StageBoxes => ({ mark: "", joints: [joint()] });

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
