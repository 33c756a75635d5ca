// The two doors of the book as the screen sees them: `ask` never changes a byte, `act` gives a receipt or an error.
// Inside the window they go through its two commands; in a plain browser (`npm run dev`) through the stand-in host.
import { Channel, invoke, isTauri } from "@tauri-apps/api/core";
import type { DeskAct, DeskState, OnTheWay, Told, WireErrorShape } from "./desk";
import type { Question, Wire } from "./types";

export type Acts = Wire["acts"];
export type Answers = Wire["answers"];
export type QuestionWord = Question["ask"] & keyof Answers;
type Asked<Q extends QuestionWord> = Extract<Question, { ask: Q }> extends { body: infer B } ? B : never;

/** An act without its key: the door adds one, so that a double press or a retried call appends nothing twice. */
export interface Act {
  act: string;
  body?: unknown;
  person?: string;
  happened?: string;
  why?: string;
  key?: string;
}

export interface Receipt {
  log: string;
  size: number;
  root: string;
  entries: { seq: number; id: string; kind: string; leaf: string }[];
  made: Record<string, string>;
  changed: string[];
  owed: string[];
  repeat: boolean;
}

/** A refusal or a fault, with its field: `body.resin`. */
export class WireError extends Error {
  constructor(readonly shape: WireErrorShape) {
    super(shape.sentence);
  }
}

const standIn = !isTauri();

async function door<T>(command: "act" | "ask", message: Record<string, unknown>): Promise<T> {
  if (!standIn) {
    try {
      return await invoke<T>(command, message);
    } catch (why) {
      throw new WireError(shapeOf(why));
    }
  }
  const sent = command === "act" ? message.value : message;
  const response = await fetch(`/door/${command}`, { method: "POST", body: JSON.stringify(sent) });
  const line = (await response.json()) as { ok?: T; error?: WireErrorShape };
  if (line.error) throw new WireError(line.error);
  return line.ok as T;
}

function shapeOf(why: unknown): WireErrorShape {
  if (typeof why === "object" && why !== null && "sentence" in why) return why as WireErrorShape;
  return { code: "fault", sentence: `The program did not answer: ${String(why)}`, advice: "Nothing was saved by this." };
}

/** What the host put into the page before anything was asked; each answer is taken once. */
const put = JSON.parse(globalThis.document?.getElementById("ahead")?.textContent ?? "{}") as {
  age_ms?: number;
  answers?: { desk?: DeskState; bench?: Answers["bench"] };
};

/** Takes an answer that came with the page, with the instant it was asked for (performance.now(), below zero). */
export function ahead<K extends "desk" | "bench">(of: K): { answer: NonNullable<typeof put.answers>[K]; came: number } {
  const answer = put.answers?.[of];
  if (put.answers) put.answers[of] = undefined;
  return { answer, came: -(put.age_ms ?? 0) };
}

/** Asks the book; `at` judges it at an instant (RFC 3339) instead of now. */
export function ask<Q extends QuestionWord>(question: Q, body: Asked<Q>, at?: string): Promise<Answers[Q]> {
  return door("ask", { question: { ask: question, body }, at: at ?? null, known_at: null });
}

/** The same for a question that takes long: `hear` is told how far it is. In a browser nobody tells. */
export function askTelling<Q extends QuestionWord>(question: Q, body: Asked<Q>, hear: (way: OnTheWay) => void): Promise<Answers[Q]> {
  if (standIn) return ask(question, body);
  const tell = new Channel<OnTheWay>();
  tell.onmessage = hear;
  return door("ask", { question: { ask: question, body }, at: null, known_at: null, tell });
}

/** The page of a part as it would be handed out, without stating that it is. */
export function askPage(part: string): Promise<unknown> {
  return door("ask", { question: { ask: "page", body: { part } } });
}

/** Tells the book what happened. The same key again gives the same receipt. */
export function act(given: Act): Promise<Receipt> {
  return door("act", { value: { key: crypto.randomUUID(), body: {}, ...given } });
}

/** What the window's host knows of this machine. */
export function askDesk(): Promise<DeskState> {
  return door("ask", { question: { desk: "state" } });
}

/** Has the host do something on this machine. */
export function actDesk<T = unknown>(given: DeskAct): Promise<T> {
  return door("act", { value: given });
}

/** Hears what the host tells. In a browser nobody tells anything, so a slow beat stands in. */
export function follow(hear: (told: Told) => void): void {
  if (standIn) {
    setInterval(() => hear({ tell: "changed", size: 0, changed: [] }), 5000);
    return;
  }
  const tell = new Channel<Told>();
  tell.onmessage = hear;
  void door("ask", { question: { desk: "follow" }, tell });
}
