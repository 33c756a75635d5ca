// What is being got ready in the room Mix: it stays when somebody looks into another room. Nothing of it is in the book
// until it is pressed or sent.
import { untrack } from "svelte";
import { typed, units } from "../form.svelte";
import { shop } from "../shop.svelte";
import { ask, type Answers } from "../wire/doors";

export type Batch = Answers["batch"];

class Mixing {
  /** Parts of a kind at one stage, by mark; or joints of single parts, "P7/J1". Never both. */
  kind = $state<string | null>(null);
  stage = $state<string | null>(null);
  parts = $state<string[]>([]);
  joints = $state<string[]>([]);
  total = $state("");
  dryRun = $state<string | null>(null);
  card = $state("");
  cans = $state<string[]>([]);
  confirmed = $state(false);
  /** Somebody chose the cans by hand: nothing is put in their place. */
  touched = $state(false);
  scale = $state("");
  place = $state("");
  /** Temperature of resin and hardener, as typed; empty: like the air where the cans stand. */
  start = $state("");
  /** Why that was refused with what was weighed. */
  startWrong = $state<string | null>(null);
  /** `cup`, or `tray:6 mm`. */
  vessel = $state("cup");
  oneCup = $state(false);
  cup = $state("");
  /** The batch at hand, by id; null: the next one. */
  batch = $state<string | null>(null);
  /** Somebody said that the next batch is meant, though an older one stands open. */
  next = $state(false);
  /** Further batches of the same bond, by id. */
  also = $state<string[]>([]);
  private book: string | null = null;

  /** Another book: nothing of the one before is kept. */
  enter() {
    const book = shop.desk?.book ?? null;
    if (this.book !== book) Object.assign(this, new Mixing(), { book });
    this.book = book;
  }

  get chosen(): number {
    return this.parts.length + this.joints.length;
  }

  part(mark: string, kind: string, stage: string) {
    if (this.kind !== kind || this.stage !== stage || this.joints.length) Object.assign(this, { kind, stage, parts: [], joints: [] });
    this.parts = turned(this.parts, mark);
  }

  joint(name: string) {
    if (this.parts.length) Object.assign(this, { kind: null, stage: null, parts: [] });
    this.joints = turned(this.joints, name);
  }

  can(mark: string) {
    this.cans = turned(this.cans, mark);
    this.confirmed = false;
    this.touched = true;
  }

  /** The bond's body as chosen. */
  bond(): Record<string, unknown> {
    const what = this.joints.length ? { joints: [...this.joints] } : { parts: [...this.parts], stage: this.stage ?? undefined };
    const batches = [...this.also, this.batch].filter((one) => one !== null);
    const dry_run = this.dryRun === null ? undefined : this.dryRun === "yes";
    return { batches, ...what, place: this.place || undefined, dry_run };
  }

  /** The cup that is not poured yet, as it is asked about. */
  pour(mass: string | undefined, place: string | undefined) {
    const start_temperature = typed(this.start, units.temperature);
    return { card: this.card, mass, containers: [...this.cans], place: this.place || place, start_temperature, vessel: this.vessel };
  }

  bonded() {
    Object.assign(this, { parts: [], joints: [], also: [], total: "", start: "", startWrong: null, vessel: "cup", dryRun: null });
  }
}

function turned(list: string[], one: string): string[] {
  return list.includes(one) ? list.filter((it) => it !== one) : [...list, one];
}

export const mixing = new Mixing();

/** The batches of this session, oldest first, asked again whenever the book changed. */
export class Batches {
  all = $state.raw<Batch[]>([]);
  private turn = 0;
  private drawn = 0;
  private taken = false;

  /** `wanted`: the batch somebody came for, by name; it is taken up whatever its age. */
  constructor(private wanted?: string) {
    $effect(() => {
      void shop.pulse;
      untrack(() => void this.look());
    });
  }

  async look() {
    const turn = ++this.turn;
    try {
      const { list } = await ask("list", { of: "batch" });
      const asked = await this.asked();
      const newest = list.slice(-4).map((one) => one.id);
      const ids = asked && !newest.includes(asked.id) ? [asked.id, ...newest] : newest;
      const last = await Promise.all(ids.map((id) => (id === asked?.id ? asked : ask("batch", { batch: id }))));
      if (turn < this.drawn) return;
      this.drawn = turn;
      this.all = last.filter((one) => one.id === asked?.id || one.this_session);
      if (asked && !this.taken) Object.assign(mixing, { batch: asked.id, next: false });
      this.taken = true;
      this.settle();
    } catch (why) {
      shop.fail(why);
    }
  }

  private async asked(): Promise<Batch | null> {
    return this.wanted ? await ask("batch", { batch: this.wanted }).catch(() => null) : null;
  }

  /** Takes up the newest batch that lacks its numbers or a bond, as it was begun at the bench. */
  private settle() {
    const newest = this.all[this.all.length - 1];
    if (mixing.batch && this.all.some((one) => one.id === mixing.batch)) return;
    mixing.batch = null;
    if (newest && !mixing.next && (!newest.mixes.length || !newest.bonds.length)) mixing.batch = newest.id;
  }

  get now(): Batch | null {
    return this.all.find((one) => one.id === mixing.batch) ?? null;
  }
}
