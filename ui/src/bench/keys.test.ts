// The keys of the bench: what presses, what only goes to a row, and what a scanner types.
import { beforeEach, expect, test, vi } from "vitest";
import { Keys } from "./keys";

let now = 0;
let pressed = 0;
let gone: number[] = [];
let keys: Keys;

/** A key as the window hears it, on something that lies inside what `inside` names. */
function key(key: string, after: number, inside = "", more: Partial<KeyboardEvent> = {}): void {
  now += after;
  vi.advanceTimersByTime(after);
  const target = { closest: (all: string) => (inside !== "" && all.split(", ").includes(inside) ? {} : null) };
  keys.down({ key, target, preventDefault: () => undefined, ...more } as unknown as KeyboardEvent);
}

beforeEach(() => {
  vi.useFakeTimers();
  [now, pressed, gone] = [1000, 0, []];
  keys = new Keys(
    () => (pressed += 1),
    (place) => gone.push(place),
    () => now,
  );
});

test("Space and Enter press where the keyboard stands nowhere in particular", () => {
  key(" ", 500);
  key("Enter", 500);
  expect(pressed).toBe(2);
});

test("a button, a box, a dialog and an unfolded panel keep their keys", () => {
  for (const inside of ["button", "input", "dialog", "[data-panel]"]) key("Enter", 500, inside);
  expect(pressed).toBe(0);
});

test("a key held down and a key with Alt press nothing", () => {
  key(" ", 500, "", { repeat: true });
  key("Enter", 500, "", { altKey: true });
  expect(pressed).toBe(0);
});

test("a digit goes to its row", () => {
  key("3", 500);
  vi.advanceTimersByTime(100);
  expect(gone).toEqual([2]);
});

test("a scanned label is one press and goes to no row, wherever a button has the keyboard", () => {
  for (const letter of "4712") key(letter, 5, "button");
  key("Enter", 5, "button");
  vi.advanceTimersByTime(100);
  expect([pressed, gone]).toEqual([1, []]);
});

test("Tab that comes as fast as a scanner leaves Enter to the button it came to", () => {
  for (let i = 0; i < 5; i += 1) key("Tab", 5, "button");
  key("Enter", 5, "button");
  expect(pressed).toBe(0);
});
