// What is owed as one list: what takes a decision first, then what a reason settles, then what is only not recorded.
import type { Answers } from "../wire/doors";

export type Way = "decide" | "reason" | "value";

export interface Owing {
  /** Bond and finding: what the list is keyed by. */
  id: string;
  bond: string;
  parts: string[];
  sentence: string;
  way: Way;
  /** What is sent as `of` with a reason. */
  of: string;
  /** Where the missing value itself is entered; null: nowhere. */
  enter: Answers["owed"]["bonds"][number]["findings"][number]["enter"];
}

const WEIGHT: Way[] = ["decide", "reason", "value"];

export function listed(owed: Answers["owed"], bonds: Answers["bonds"] | null): Owing[] {
  const parts = new Map(bonds?.bonds.map((one) => [one.id, one.parts]));
  const all = owed.bonds.flatMap(({ bond, findings }) =>
    findings.map((one) => ({
      id: `${bond} ${one.key}`,
      bond,
      parts: parts.get(bond) ?? [],
      sentence: one.sentence,
      way: one.settled_by as Way,
      of: one.of,
      enter: one.enter,
    })),
  );
  return WEIGHT.flatMap((way) => all.filter((one) => one.way === way));
}

/** The acts that settle what is ticked: one decision a bond, one reason each for the rest. */
export function acts(ticked: Owing[], verdict: string | null, why: string): { act: string; body: object; settles: Owing[] }[] {
  const decided = ticked.filter((one) => one.way === "decide");
  const bonds = [...new Set(decided.map((one) => one.bond))];
  return [
    ...bonds.map((bond) => ({
      act: "decide",
      body: { bond, verdict: verdict ?? "", why },
      settles: decided.filter((one) => one.bond === bond),
    })),
    ...ticked.filter((one) => one.way !== "decide").map((one) => ({ act: "reason", body: { of: one.of, text: why }, settles: [one] })),
  ];
}
