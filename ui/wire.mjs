// Writes src/wire/types.ts from docs/schema.json, so that the window knows the shapes that Rust declares and no others.
// `node wire.mjs --check` writes nothing and fails when the file is not what the schema gives.
import { readFileSync, writeFileSync } from "node:fs";
import { compile } from "json-schema-to-typescript";

const schema = JSON.parse(readFileSync(new URL("../docs/schema.json", import.meta.url), "utf8"));
const target = new URL("src/wire/types.ts", import.meta.url);
const defs = {};

/** Moves the shared shapes of one schema to the root; the same name must mean the same shape. */
function lifted(one, where) {
  const { $defs = {}, $schema, ...rest } = one;
  for (const [name, shape] of Object.entries($defs)) put(name, shape, where);
  return rest;
}

function put(name, { title, ...shape }, where) {
  if (name in defs && JSON.stringify(defs[name]) !== JSON.stringify(shape)) {
    throw new Error(`${where}: the shape ${name} differs from another of that name`);
  }
  defs[name] = shape;
}

/** An object whose fields are the words of one door. */
function byWord(all, prefix) {
  const properties = {};
  for (const [word, one] of Object.entries(all)) {
    const { title, ...rest } = lifted(one, word);
    const name = title in defs || prefix ? `${prefix}${title}` : title;
    put(name, rest, word);
    properties[word] = { $ref: `#/$defs/${name}` };
  }
  return { type: "object", additionalProperties: false, properties, required: Object.keys(properties) };
}

const root = {
  title: "Wire",
  type: "object",
  additionalProperties: false,
  properties: {
    acts: byWord(schema.acts, "Act"),
    answers: byWord(schema.answers, ""),
    question: lifted(schema.questions, "questions"),
  },
  required: ["acts", "answers", "question"],
  $defs: defs,
};

const banner = "// Generated from docs/schema.json by `npm run wire`: do not edit. A check fails when it differs.";
const text = await compile(root, "Wire", {
  bannerComment: banner,
  additionalProperties: false,
  format: false,
  strictIndexSignatures: true,
  ignoreMinAndMaxItems: true,
});

if (process.argv.includes("--check")) {
  if (readFileSync(target, "utf8") !== text) {
    console.error("src/wire/types.ts is not what docs/schema.json gives: run `npm run wire`");
    process.exit(1);
  }
} else {
  writeFileSync(target, text);
}
