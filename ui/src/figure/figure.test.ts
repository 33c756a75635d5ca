// What is sent for what was typed.
import { describe, expect, it } from "vitest";
import type { FigureInput } from "../wire/types";
import { refusal, sent } from "./figure";

const input = (name: string, sort: string, typed_in: string): FigureInput => ({ name, sort, typed_in, unit: "", sign: "", takes: "", label: name, help: "", range: "", needed: true, without: "", empty: "", words: [] });

describe("what a figure is sent", () => {
  it("gives bare numbers the reader's unit and leaves a typed unit alone", () => {
    const inputs = [input("temperature", "amount", "F"), input("surface", "amount", "F"), input("humidity", "amount", "%"), input("width", "amount", "in")];
    const boxes = { temperature: "70", surface: " 20 C ", humidity: "50", width: "" };
    expect(sent(inputs, boxes)).toEqual({ temperature: "70 F", surface: "20 C", humidity: "50 %" });
  });

  it("gives every bare number of a list its unit and leaves shapes as they are", () => {
    const inputs = [input("at", "list", "F"), input("points", "shape", ""), input("n", "count", "")];
    const boxes = { at: "70, 20C;\n80", points: "75F:240min,90F:120min", n: "12" };
    expect(sent(inputs, boxes)).toEqual({ at: "70 F, 20C, 80 F", points: "75F:240min,90F:120min", n: "12" });
  });

  it("names the box by its label, and only where the sentence begins with its name", () => {
    expect(refusal('n "x" is not a whole number', "n", "Number of values")).toBe('Number of values "x" is not a whole number');
    expect(refusal('"n" is no input', "n", "Number of values")).toBe('"n" is no input');
  });
});
