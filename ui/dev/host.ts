// The stand-in host of `npm run dev`: a plain browser has no window behind it, so the two doors are answered by the
// command line on the book in $GLUEWRIGHT_BOOK. Only for work on the screens; it gives no alarms and keeps no settings.
import { execFile } from "node:child_process";
import type { IncomingMessage, ServerResponse } from "node:http";
import type { Plugin } from "vite";

const program = process.env.GLUEWRIGHT ?? "../target/debug/gluewright";
let book = process.env.GLUEWRIGHT_BOOK ?? "";
let settings: Record<string, unknown> = {
  theme: "light", temperature: "C", measure: "metric", paper: "a4", night: false, autostart: false, awake: true, mm_per_css_px: null,
};

type Json = Record<string, unknown>;

export function host(): Plugin {
  return {
    name: "stand-in-host",
    apply: "serve",
    configureServer(server) {
      server.middlewares.use("/door/act", (request, response) => void answer(request, response, act));
      server.middlewares.use("/door/ask", (request, response) => void answer(request, response, ask));
    },
  };
}

async function answer(request: IncomingMessage, response: ServerResponse, door: (body: Json) => Promise<Json>) {
  let text = "";
  for await (const piece of request) text += piece;
  response.setHeader("content-type", "application/json");
  response.end(JSON.stringify(await door(JSON.parse(text) as Json)));
}

function run(args: string[]): Promise<Json> {
  const all = settings.measure === "us" ? ["--units", "us", ...args] : args;
  return new Promise((resolve) => {
    execFile(program, ["--book", book, "--json", ...all], { maxBuffer: 1 << 28 }, (why, out, err) => {
      const line = out.trim().split("\n").pop();
      if (line) resolve(JSON.parse(line) as Json);
      else resolve({ error: { code: "fault", sentence: `The command line said: ${err || String(why)}`, advice: "" } });
    });
  });
}

async function act(body: Json): Promise<Json> {
  if (!("desk" in body)) return unwrapped(await run(["act", JSON.stringify(body)]), "receipt");
  if (body.desk === "settings") settings = { ...settings, ...(body.settings as Json) };
  if (body.desk === "open" || body.desk === "start") book = String(body.path);
  if (body.desk === "page") return { error: { code: "fault", sentence: "A browser makes no pages.", advice: "The window does." } };
  return { ok: {} };
}

async function ask(body: Json): Promise<Json> {
  const question = body.question as Json;
  if (question.desk === "state") return { ok: state() };
  if (question.desk) return { ok: {} };
  if (question.ask === "page") {
    const page = await run(["page", String((question.body as Json).part)]);
    return "error" in page ? { error: page.error } : { ok: page };
  }
  return unwrapped(await run(["ask", JSON.stringify(question)]), "answer");
}

function unwrapped(line: Json, name: string): Json {
  return name in line ? { ok: line[name] } : { error: line.error };
}

function state(): Json {
  return {
    book: book || null, standing: book ? "open" : "none", sentence: null, made_up: true, settings,
    sound: { works: false, said: "A browser gives no alarms." }, alarms: { here: false, said: "A browser gives no alarms." },
    unsaved: 0, tray: false, suggested: "/tmp/shop.book", version: "dev", pages: "/tmp",
  };
}
