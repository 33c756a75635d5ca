// The body of an act changed at one place, named as the book names it: "limits[0].points[1].time".

type Json = null | boolean | number | string | Json[] | { [name: string]: Json };

/** A copy of `body` with the texts of `changed` in their places. An emptied place is left out. */
export function changedBody(body: unknown, changed: Map<string, string>): unknown {
  const copy = structuredClone(body) as Json;
  // Later places first, so that leaving one out of a list moves none that is still to be changed.
  const places = [...changed].sort(([a], [b]) => b.localeCompare(a, "en", { numeric: true }));
  for (const [path, text] of places) put(copy, steps(path), text.trim());
  return copy;
}

function steps(path: string): (string | number)[] {
  return [...path.matchAll(/([^.[\]]+)|\[(\d+)\]/g)].map((found) => (found[2] !== undefined ? Number(found[2]) : (found[1] ?? "")));
}

function put(inside: Json, path: (string | number)[], text: string): void {
  const [step, ...rest] = path;
  if (step === undefined || typeof inside !== "object" || inside === null) return;
  const holder = inside as Record<string | number, Json>;
  if (rest.length) {
    const next = holder[step];
    if (next !== undefined) put(next, rest, text);
  } else if (text !== "") holder[step] = alike(holder[step], text);
  else if (Array.isArray(inside)) inside.splice(Number(step), 1);
  else delete holder[step];
}

/** A number stays a number and yes or no stays so, where the text can be read as one. */
function alike(before: Json | undefined, text: string): Json {
  if (typeof before === "number" && /^-?\d+(\.\d+)?$/.test(text)) return Number(text);
  if (typeof before === "boolean" && /^(yes|no|true|false)$/i.test(text)) return /^(yes|true)$/i.test(text);
  return text;
}
