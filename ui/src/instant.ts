// An instant as it is typed at a table: a time of day, or a day and a time, by this computer's clock.

const DAY_MS = 86_400_000;

/** "14:31" or "2026-11-24 14:31" as it is sent; anything else goes as typed, and the book says what is wrong with it.
 * A bare time is of today; `ahead`: the next time that it is so late. */
export function instantOf(text: string, ahead = false): string | undefined {
  const typed = text.trim();
  if (!typed) return undefined;
  const found = /^(?:(\d{4})-(\d{1,2})-(\d{1,2})[ T])?(\d{1,2}):(\d{2})(?::(\d{2}))?$/.exec(typed);
  if (!found) return typed;
  const number = (i: number) => Number(found[i] ?? 0);
  const today = new Date();
  const day = found[1] ? [number(1), number(2) - 1, number(3)] : [today.getFullYear(), today.getMonth(), today.getDate()];
  const [year = 0, month = 0, date = 0] = day;
  const at = new Date(year, month, date, number(4), number(5), number(6));
  // A day or an hour that no calendar has would roll over to another: it is left to the book to refuse.
  const same = at.getMonth() === month && at.getDate() === date && at.getHours() === number(4) && at.getMinutes() === number(5);
  if (!same) return typed;
  if (ahead && !found[1] && at.getTime() <= today.getTime()) at.setTime(at.getTime() + DAY_MS);
  return at.toISOString();
}

export const INSTANT_HINT = "14:31 for today, else 2026-11-24 14:31";
export const AHEAD_HINT = "06:00 for the next time it is six, else 2026-11-25 06:00";
