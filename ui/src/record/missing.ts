// What is most often missing from an entry, by the word of its act, so that a correction can add it. The book knows
// every field; these are the ones that somebody leaves out at the bench.

type Missing = { path: string; label: string }[];

const ALL: Record<string, Missing> = {
  mix: amounts(),
  "top-up": amounts(),
  bond: [
    { path: "moisture", label: "Wood moisture" },
    { path: "wood_temperature", label: "Wood temperature" },
    { path: "stored", label: "Place where the wood was stored" },
    { path: "place", label: "Place" },
    { path: "pressure", label: "Pressure as measured" },
  ],
  press: [{ path: "seen", label: "What was seen" }],
  lot: [
    { path: "expires", label: "Good until" },
    { path: "received", label: "Received" },
  ],
  container: [
    { path: "holds", label: "What it held when new" },
    { path: "opened", label: "Opened" },
    { path: "stored", label: "Place where it stands" },
  ],
  part: [{ path: "assembly", label: "Assembly" }],
  set: [{ path: "assembly", label: "Assembly" }],
  joint: [
    { path: "sort", label: "Sort" },
    { path: "area", label: "Glue area" },
    { path: "thickness", label: "Thickness of all members" },
  ],
  reading: [
    { path: "temperature", label: "Temperature" },
    { path: "humidity", label: "Humidity" },
  ],
};

function amounts(): Missing {
  return [
    { path: "resin", label: "Resin" },
    { path: "hardener", label: "Hardener" },
    { path: "place", label: "Place" },
  ];
}

export function missingOf(act: string): Missing {
  return ALL[act] ?? [];
}
