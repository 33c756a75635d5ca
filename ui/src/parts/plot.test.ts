// No word of a picture stands upon another, and none outside.
import { describe, expect, it } from "vitest";
import { placed, wideness } from "./plot";

const within = { left: 50, right: 650, top: 20, bottom: 340 };

describe("words in a picture", () => {
  it("leaves a word where it is when nothing is in the way", () => {
    expect(placed([{ text: "gel", x: 300, y: 100 }], within)).toEqual([{ text: "gel", x: 300, y: 100 }]);
  });

  it("moves the second of two words apart, and both inside", () => {
    const words = [
      { text: "50 °C: stop using it", x: 640, y: 100 },
      { text: "60 °C: too hot to hold", x: 640, y: 96 },
      { text: "far off", x: -100, y: 900 },
    ];
    const done = placed(words, within);
    const [first, second] = done;
    expect(Math.abs((first?.y ?? 0) - (second?.y ?? 0))).toBeGreaterThanOrEqual(18);
    for (const word of done) {
      expect(word.x - wideness(word.text) / 2).toBeGreaterThanOrEqual(within.left);
      expect(word.x + wideness(word.text) / 2).toBeLessThanOrEqual(within.right);
      expect(word.y).toBeLessThanOrEqual(within.bottom);
      expect(word.y).toBeGreaterThan(within.top);
    }
  });
});
