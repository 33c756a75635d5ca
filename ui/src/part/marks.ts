// Marks as they are typed: one a line, or with commas between, and a run of numbers in short.

/** "R1-L … R10-L" or "R1-L..R10-L" names the ten between; everything else stands for itself. */
export function marksOf(text: string): string[] {
  return text
    .split(/[\n,;]+/)
    .map((one) => one.trim())
    .filter(Boolean)
    .flatMap(run);
}

function run(text: string): string[] {
  const ends = text.split(/\s*(?:…|\.\.\.?)\s*/);
  const [first, last] = [pieces(ends[0] ?? ""), pieces(ends[1] ?? "")];
  if (ends.length !== 2 || !first || !last || first.before !== last.before || first.after !== last.after) return [text];
  const [from, to] = [Number(first.digits), Number(last.digits)];
  if (to < from || to - from > 500) return [text];
  // A mark that counts 01, 02 … goes on in that width.
  const width = first.digits.startsWith("0") ? first.digits.length : 0;
  return Array.from({ length: to - from + 1 }, (_, i) => `${first.before}${String(from + i).padStart(width, "0")}${first.after}`);
}

function pieces(text: string) {
  const found = /^(\D*)(\d{1,6})(\D*)$/.exec(text);
  return found ? { before: found[1] ?? "", digits: found[2] ?? "", after: found[3] ?? "" } : null;
}
