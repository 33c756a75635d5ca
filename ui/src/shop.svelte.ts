// What the whole screen shares: this machine's state, where the reader stands, who works, and the book's pulse. Rooms
// read it; they do not import each other.
import { ahead, askDesk, follow, act, ask, WireError, actDesk, type Act, type Receipt } from "./wire/doors";
import type { DeskState, Settings, Told, WireErrorShape } from "./wire/desk";
import type { AlarmLine } from "./wire/types";

export type Room = "bench" | "mix" | "parts" | "stores" | "figures" | "record" | "owed" | "machine";

/** How a reading is known. */
export type ReadingSide = "hand" | "file" | "vouch" | "forecast";

/** Where the reader stands: a room and, in it, a thing by its name or number. */
export interface Place {
  room: Room;
  thing?: string;
}

/** What somebody comes to a room to enter: the room takes it up once. */
export interface Entering {
  press?: string;
  bond?: string;
  batch?: string;
  entry?: string;
  field?: string;
}

export interface Saved {
  said: string;
  back?: Act;
  until?: number;
}

class Shop {
  desk = $state<DeskState | null>(null);
  place = $state<Place>({ room: "bench" });
  person = $state<string | null>(null);
  /** Rises with everything that changed in the book: questions on the screen are asked again. */
  pulse = $state(0);
  /** Of the last receipt that was drawn; tests wait for it. */
  size = $state(0);
  sounding = $state(false);
  /** Alarms that were given here and could not be written into the book yet. */
  unsaved = $state.raw<AlarmLine[]>([]);
  /** The last thing saved, shown until the next press. */
  saved = $state<Saved | null>(null);
  /** What could not be saved or done, shown until it is read. */
  trouble = $state<WireErrorShape | null>(null);
  /** The sheet for a reading lies over the room: of which place, and how it is known. */
  reading = $state<{ at?: string; first: ReadingSide } | null>(null);
  entering: Entering | null = null;
  page = $state<Extract<Told, { tell: "page" }> | null>(null);
  private history: Place[] = [];
  private heard = false;

  async start() {
    const { answer } = ahead("desk");
    if (answer) this.sees(answer);
    else await this.look();
    follow((told) => this.hear(told));
  }

  /** Asks the host for this machine's state anew. */
  async look() {
    try {
      this.sees(await askDesk());
    } catch (why) {
      this.fail(why);
    }
  }

  private sees(desk: DeskState) {
    this.desk = desk;
    draw(desk.settings);
    if (desk.standing === "open" || desk.standing === "read-only") void this.whoWorks();
  }

  private async whoWorks() {
    if (this.person) return;
    const session = await ask("session", {}).catch(() => null);
    this.person = session?.person?.name ?? null;
  }

  private hear(told: Told) {
    if (told.tell === "changed") this.pulse += 1;
    if (told.tell === "alarm") {
      // The first one tells what the bench was just asked.
      if (this.heard || told.sounding) this.pulse += 1;
      this.heard = true;
      this.sounding = told.sounding;
      this.unsaved = told.alarms.filter((one) => one.seq === 0);
    }
    if (told.tell === "state") void this.look();
    if (told.tell === "page") this.page = told;
  }

  go(room: Room, thing?: string) {
    this.history.push({ ...this.place });
    this.place = { room, thing };
  }

  /** Enters a room for one thing that is to be entered there. */
  goEnter(room: Room, thing: string | undefined, entering: Entering) {
    this.entering = entering;
    this.go(room, thing);
  }

  /** What the reader came for, if it is of this sort; it is given once. */
  taken(sort: "press" | "field"): Entering | null {
    const one = this.entering?.[sort] ? this.entering : null;
    if (one) this.entering = null;
    return one;
  }

  back() {
    this.place = this.history.pop() ?? { room: "bench" };
  }

  /** Tells the book what happened, in the name of who works here. Throws the wire's error; nothing is shown as saved
   * before the receipt is here. */
  async tell(given: Act, said?: string, back?: Act): Promise<Receipt> {
    const receipt = await act({ ...given, person: given.person ?? this.person ?? undefined });
    this.size = receipt.size;
    this.pulse += 1;
    this.saved = { said: said ?? "Saved", back, until: performance.now() + 10_000 };
    return receipt;
  }

  /** The same for a press: trouble goes to the line at the top instead of a field. */
  async press(given: Act, said: string, back?: Act): Promise<Receipt | null> {
    try {
      this.trouble = null;
      return await this.tell(given, said, back);
    } catch (why) {
      this.fail(why);
      return null;
    }
  }

  async set(settings: Partial<Settings>) {
    try {
      await actDesk({ desk: "settings", settings });
      await this.look();
      this.pulse += 1;
    } catch (why) {
      this.fail(why);
    }
  }

  fail(why: unknown) {
    this.trouble = why instanceof WireError ? why.shape : { code: "fault", sentence: String(why), advice: "" };
  }
}

/** Puts theme and measure on the page. */
function draw(settings: Settings) {
  const root = document.documentElement;
  const dark = matchMedia("(prefers-color-scheme: dark)").matches;
  const more = matchMedia("(prefers-contrast: more)").matches;
  const own = more ? "contrast" : dark ? "dark" : "light";
  root.dataset.theme = settings.theme === "system" ? own : settings.theme;
  if (settings.mm_per_css_px) root.style.setProperty("--mm", `${1 / settings.mm_per_css_px}px`);
  else root.style.removeProperty("--mm");
}

export const shop = new Shop();
