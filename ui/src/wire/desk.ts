// What the window's host answers and tells besides the two doors of the book: this machine's settings, the book in
// use, pages under way. Its shapes stand in src-tauri/src/desk; nothing of it ever goes into a book.
import type { AlarmLine } from "./types";

export interface Settings {
  theme: "system" | "light" | "dark" | "contrast";
  temperature: "C" | "F";
  measure: "metric" | "us";
  paper: "a4" | "letter";
  night: boolean;
  autostart: boolean;
  awake: boolean;
  mm_per_css_px: number | null;
}

export interface DeskState {
  book: string | null;
  standing: "none" | "open" | "missing" | "locked" | "damaged" | "newer" | "read-only";
  sentence: string | null;
  made_up: boolean;
  settings: Settings;
  sound: { works: boolean; said: string };
  alarms: { here: boolean; said: string };
  unsaved: number;
  tray: boolean;
  suggested: string;
  version: string;
  pages: string;
}

export type DeskAct =
  | { desk: "open" | "start"; path: string }
  | { desk: "look-around" | "sound-test" | "quit" }
  | { desk: "settings"; settings: Partial<Settings> }
  | { desk: "page"; part: string; paper: "a4" | "letter" }
  | { desk: "cancel"; job: string }
  | { desk: "show"; file: string }
  | { desk: "checkpoint-file"; path: string };

/** What the host tells without being asked. */
export type Told =
  | { tell: "changed"; size: number; changed: string[] }
  | { tell: "alarm"; sounding: boolean; alarms: AlarmLine[] }
  | { tell: "state" }
  | { tell: "beat"; at: string }
  | { tell: "page"; job: string; done: number; said: string; finished: boolean; file: string | null; error: WireErrorShape | null };

/** How far a long question is, told to the one who asked it; `job` stops it. */
export interface OnTheWay {
  tell: "way";
  job: string;
  done: number;
  said: string;
}

/** An error as it crosses the wire: one sentence, what to do, and the field where one is to blame. */
export interface WireErrorShape {
  code: string;
  sentence: string;
  advice: string;
  field?: string;
  value?: string;
  range?: string;
}
