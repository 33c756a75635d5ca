// A row's title with its links: every name one, and nothing lost of what was written.
import { expect, test } from "vitest";
import { linked } from "./linked";

const parts = (title: string, marks: string[]) => linked(title, marks).flatMap((piece) => piece.part ?? []);
const text = (title: string, marks: string[]) => linked(title, marks).map((piece) => piece.text).join("");

test("each part that is named leads to its own page", () => {
  expect(parts("R1-L, R2-L", ["R1-L", "R2-L"])).toEqual(["R1-L", "R2-L"]);
  expect(parts("R1, R10, R100", ["R1", "R10", "R100"])).toEqual(["R1", "R10", "R100"]);
});

test("what is only counted is text", () => {
  const title = "R1, R2, R3 and 2 more";
  expect(parts(title, ["R1", "R2", "R3", "R4", "R5"])).toEqual(["R1", "R2", "R3"]);
  expect(text(title, ["R1", "R2", "R3", "R4", "R5"])).toBe(title);
});

test("a batch without parts, and marks that look like a list, lose nothing", () => {
  expect(linked("batch Tue 3", [])).toEqual([{ text: "batch Tue 3" }]);
  expect(text("nose, left, R2", ["nose, left", "R2"])).toBe("nose, left, R2");
  expect(parts("nose, left, R2", ["nose, left", "R2"])).toEqual(["nose, left", "R2"]);
});
