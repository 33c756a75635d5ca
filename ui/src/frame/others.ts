// Every room but the bench, which is drawn first: they are fetched when it stands.
export { default as Mix } from "../mix/Mix.svelte";
export { default as Parts } from "../part/Parts.svelte";
export { default as PartPage } from "../part/PartPage.svelte";
export { default as Stores } from "../store/Stores.svelte";
export { default as Figures } from "../figure/Figures.svelte";
export { default as Record } from "../record/Record.svelte";
export { default as Owed } from "../owed/Owed.svelte";
export { default as Machine } from "../machine/Machine.svelte";
export { default as Readings } from "../readings/Readings.svelte";
export { default as First } from "../start/First.svelte";
