// What a book that cannot be used means, and what to do: the host's own sentence stands between the two.
import type { DeskState } from "../wire/desk";

const HEADINGS: Partial<Record<DeskState["standing"], string>> = {
  missing: "The book is not where it was.",
  locked: "Somebody else has the book.",
  damaged: "The book cannot be read as it should be.",
  newer: "The book was written by a newer Gluewright.",
};

const ADVICE: Partial<Record<DeskState["standing"], string>> = {
  missing: "Put the file or its disk back and try again, or open the book where it lies now. Nothing is made in its place.",
  locked: "Close the other program that has it open and try again. Nothing was written.",
  damaged:
    "Change nothing in it. Copy the file as it is, take the last backup, and let `gluewright verify` say from which entry on they differ. Write down by hand what is glued until then.",
  newer: "Open it with that version or a later one. This one leaves it as it is.",
};

export const headingFor = (standing: DeskState["standing"]): string => HEADINGS[standing] ?? "";
export const adviceFor = (standing: DeskState["standing"]): string => ADVICE[standing] ?? "";
