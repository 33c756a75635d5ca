// Builds the window's front end into dist/, which the window embeds. With `npm run dev` a plain browser talks to the
// command line instead of the window (dev/host.ts): the same doors, the same answers.
import { svelte } from "@sveltejs/vite-plugin-svelte";
import { defineConfig } from "vitest/config";
import { host } from "./dev/host";

export default defineConfig({
  plugins: [svelte(), host()],
  clearScreen: false,
  build: { target: "safari16", assetsInlineLimit: 0, sourcemap: false },
  test: { include: ["src/**/*.test.ts"] },
});
