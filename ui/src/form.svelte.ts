// Sending what was typed: a refusal lands beside the field it names and takes the keyboard there; what was typed stays.
import { tick } from "svelte";
import { shop } from "./shop.svelte";
import { WireError, type Act, type Receipt } from "./wire/doors";
import type { WireErrorShape } from "./wire/desk";

export class Form {
  /** What is wrong, by the field's place below `body`: "limits[0].points[0].at". */
  errors = $state<Record<string, string>>({});
  /** What is wrong with no field to blame. */
  trouble = $state<WireErrorShape | null>(null);
  busy = $state(false);
  /** The same act sent again carries the same key, so that a retry appends nothing twice. */
  private key = crypto.randomUUID();

  /** `prefix` is cut from each field's place, for a form that is nested in another body ("body."). `scope` stands
   * before the names of this form's boxes where several forms on the screen have the same fields ("can."). */
  constructor(
    private readonly prefix = "",
    private readonly scope = "",
  ) {}

  async send(given: Act, said: string): Promise<Receipt | null> {
    if (this.busy) return null;
    this.busy = true;
    try {
      const receipt = await shop.tell({ key: this.key, ...given }, said);
      this.errors = {};
      this.trouble = null;
      this.key = crypto.randomUUID();
      return receipt;
    } catch (why) {
      await this.refused(why);
      return null;
    } finally {
      this.busy = false;
    }
  }

  /** The box of a place, or of what the place lies in: "marks" for "marks[3]". */
  private boxOf(full: string): [string, HTMLElement | undefined] {
    const boxes = [...document.querySelectorAll<HTMLElement>("[data-field]")];
    const of = (place: string) => boxes.find((one) => one.dataset.field === this.scope + place);
    let place = full;
    while (place && !of(place)) place = place.replace(/(?:\.|\[)?[^.[]*$/, "");
    return place ? [place, of(place)] : [full, undefined];
  }

  /** Puts a refusal beside its field; without one, at the foot of the form. */
  async refused(why: unknown) {
    const shape = why instanceof WireError ? why.shape : { code: "fault", sentence: String(why), advice: "" };
    const path = shape.field?.replace(/^body\./, "") ?? "";
    const full = path.startsWith(this.prefix) ? path.slice(this.prefix.length) : path;
    const [place, box] = this.boxOf(full);
    // A refused act was not appended; what is sent next is another act.
    if (shape.code !== "fault" && shape.code !== "disk" && shape.code !== "locked") this.key = crypto.randomUUID();
    this.errors = box ? { [place]: this.inWords(shape, labelOf(box)) } : {};
    this.trouble = box ? null : shape;
    await tick();
    box?.focus();
    if (box) box.scrollIntoView({ block: "center" });
  }

  /** The refusal's sentence with the labels of the boxes where the door says places in the body. */
  private inWords(shape: WireErrorShape, label: string): string {
    const own = shape.field ? shape.sentence.replaceAll(shape.field, label) : shape.sentence;
    const sentence = own.replace(/body\.([a-z_]+)/g, (place, name: string) => {
      const other = this.boxOf(name)[1];
      return other ? labelOf(other) : place;
    });
    // The door takes whole instants; the boxes take a time of day, or a day with one.
    const advice = shape.advice.replace(/^Write it like \d.*/, "Write it like 14:31, or 2026-11-24 14:31.");
    return advice ? `${sentence} ${advice}` : sentence;
  }
}

function labelOf(box: HTMLElement): string {
  const own = box.id ? document.querySelector(`label[for="${box.id}"]`)?.firstChild?.textContent : null;
  const legend = box.closest("fieldset")?.querySelector("legend")?.textContent;
  return own ?? box.getAttribute("aria-label") ?? legend?.replace(/ · .*/, "") ?? "This";
}

/** A typed quantity as it is sent: a bare number gets the unit that stands behind the box; empty is not sent. */
export function typed(text: string, unit?: string): string | undefined {
  const value = text.trim();
  if (value === "") return undefined;
  return unit && /\d$/.test(value) && !/[a-zA-Z%°"]/.test(value) ? `${value} ${unit}` : value;
}

/** The units that the reader chose, for the boxes. */
export const units = {
  get temperature() {
    return shop.desk?.settings.temperature === "F" ? "F" : "C";
  },
  get mass() {
    return shop.desk?.settings.measure === "us" ? "oz" : "g";
  },
  get volume() {
    return shop.desk?.settings.measure === "us" ? "fl oz" : "ml";
  },
  get length() {
    return shop.desk?.settings.measure === "us" ? "in" : "mm";
  },
  get area() {
    return shop.desk?.settings.measure === "us" ? "in2" : "cm2";
  },
  get pressure() {
    return shop.desk?.settings.measure === "us" ? "psi" : "kPa";
  },
};
