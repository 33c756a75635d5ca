// Svelte with type-checked scripts; styles go to files, since the window's policy allows no inline ones.
import { vitePreprocess } from "@sveltejs/vite-plugin-svelte";

export default { preprocess: vitePreprocess(), compilerOptions: { runes: true } };
