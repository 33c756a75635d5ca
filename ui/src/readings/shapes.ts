// How air may be expected to go, and what has to be said of each; the words are those of the act.

export type Shape = "hold" | "setback" | "cooling" | "day";

interface Said {
  name: string;
  label: string;
  /** What a bare number is of: air, a difference, or nothing. */
  of: "air" | "swing" | null;
  hint?: string;
  needed?: boolean;
}

export const SHAPES: { value: Shape; word: string; sub: string }[] = [
  { value: "hold", word: "Stays", sub: "the heater holds it" },
  { value: "setback", word: "Cooler at night", sub: "a thermostat with two settings" },
  { value: "cooling", word: "Cools down", sub: "the heater is off" },
  { value: "day", word: "Follows the day", sub: "no heater at all" },
];

export const FIELDS: Record<Shape, Said[]> = {
  hold: [{ name: "at", label: "Temperature", of: "air", needed: true }],
  setback: [
    { name: "day", label: "By day", of: "air", needed: true },
    { name: "night", label: "By night", of: "air", needed: true },
    { name: "from", label: "The night setting begins", of: null, hint: "as 22:00", needed: true },
    { name: "to", label: "The day setting begins", of: null, hint: "as 06:00", needed: true },
    { name: "ramp", label: "How long each change takes", of: null, hint: "empty: 2 h" },
  ],
  cooling: [
    { name: "towards", label: "Towards", of: "air", hint: "what it is like outside the walls", needed: true },
    { name: "time_constant", label: "Two thirds of it gone in", of: null, hint: "as 5 h; empty: from the last time it cooled down here, else 4 h" },
  ],
  day: [
    { name: "mean", label: "Mean of the day", of: "air", needed: true },
    { name: "swing", label: "Warmest above the mean", of: "swing", needed: true },
    { name: "warmest", label: "Warmest at", of: null, hint: "as 15:00", needed: true },
  ],
};
