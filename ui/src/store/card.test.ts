// The form of a card: what is empty is not sent, a refusal finds its box, and a revision begins with what the card said.
import { expect, test } from "vitest";
import { bodyOf, boxesOf, boxName, empty, fill } from "./card";
import { areaInputs, clampInputs, jointName, kindBody, stage } from "./kind";

function filled() {
  const boxes = empty();
  Object.assign(boxes, { name: " Tern ", class: "epoxy", weight: "100:44", tolerance: "5" });
  const clamp = boxes.rows.find((row) => row.clock === "clamp" && row.bent);
  if (clamp) Object.assign(clamp, { counted: "pressure", points: [{ time: "20", at: "20", mass: "" }, { time: "10-12", at: "86 F", mass: "" }] });
  boxes.more.moisture_minimum = "8";
  boxes.more.together = "yes";
  Object.assign(boxes.more, { "film_gel.time": "2.4 h", "film_gel.at": "25", "equivalents.resin": "187", "equivalents.hardener": "60" });
  Object.assign(boxes.more, { "equivalents.functionality": "5", "glass.full": "75" });
  return boxes;
}

test("only what was typed is sent, with the unit behind the box", () => {
  const body = bodyOf(filled());
  expect(body).toEqual({
    name: "Tern",
    class: "epoxy",
    ratio: { weight: "100:44", volume: undefined, tolerance: "5 %" },
    limits: [
      {
        clock: "clamp",
        bent: true,
        counted_from: "pressure",
        points: [
          { time: "20 h", at: "20 C", mass: undefined },
          { time: "10-12 h", at: "86 F", mass: undefined },
        ],
      },
    ],
    moisture_minimum: "8 %",
    together: true,
    film_gel: { at: "25 C", time: "2.4 h" },
    equivalents: { resin: "187 g", hardener: "60 g", functionality: 5 },
    glass: { full: "75 C" },
  });
});

test("a box of the table is named as a refusal names it", () => {
  const boxes = filled();
  const bent = boxes.rows.find((row) => row.bent);
  const pot = boxes.rows[0];
  if (!bent || !pot) throw new Error("rows are missing");
  expect(boxName(boxes, bent, bent.points[1]!, "at")).toBe("limits[0].points[1].at");
  pot.points[0]!.time = "40";
  expect(boxName(boxes, bent, bent.points[1]!, "at")).toBe("limits[1].points[1].at");
  const fresh = empty();
  expect(boxName(fresh, fresh.rows[0]!, fresh.rows[0]!.points[0]!, "time")).toBe("limits");
});

test("a revision begins with everything the card said", () => {
  const body = bodyOf(filled());
  expect(bodyOf(boxesOf(body), "Tern")).toEqual({ ...body, revises: "Tern" });
});

test("an empty line at the foot of a kind is not sent and shifts no name", () => {
  const first = stage();
  first.mark = "face";
  first.joints = [{ mark: "", sort: "", area: "", thickness: "" }, { mark: "J1", sort: "lap", area: "12", thickness: "" }];
  const body = kindBody("rib", [first], { presses: "6", pressure: "", clamping: "5", bent: false, service: "55" });
  expect(body.stages[0]?.joints).toEqual([{ mark: "J1", sort: "lap", area: "12 cm2", thickness: undefined }]);
  expect(body.clamping).toBe("5 min");
  expect(jointName([first], 0, first.joints[1]!, "area")).toBe("stages[0].joints[0].area");
});

test("a joint's measures are asked for once all of them stand there", () => {
  expect(areaInputs("web-in-cap", { length: "1 m", thickness: "3" })).toBeNull();
  expect(areaInputs("web-in-cap", { length: "1 m", thickness: "3", depth: "6", width: "9" })).toEqual({ sort: "web-in-cap", length: "1 m", thickness: "3 mm", depth: "6 mm" });
  expect(areaInputs("gusset-pair", { length: "60", width: "40" })).toEqual({ sort: "gusset-pair", length: "60 mm", width: "40 mm" });
  expect(areaInputs("scarf", { width: "20", thickness: "10", slope: "12" })).toMatchObject({ slope: "12" });
  expect(areaInputs("", {})).toBeNull();
});

test("clamps want an area and a pressure; without the force of one only the whole is asked for", () => {
  expect(clampInputs("12", "", "")).toBeNull();
  expect(clampInputs("12", "700", "")).toEqual({ area: "12 cm2", pressure: "700 kPa", clamps: "1" });
  expect(clampInputs("12", "100 psi", "600")).toEqual({ area: "12 cm2", pressure: "100 psi", each: "600 N" });
});

test("what a figure sends fills its boxes and adds to the note", () => {
  const boxes = filled();
  boxes.more.note = "from the sheet of May";
  const straight = boxes.rows.find((row) => row.clock === "clamp" && !row.bent);
  if (straight) straight.points = [{ time: "9", at: "9", mass: "" }, { time: "8", at: "8", mass: "" }];
  const fields = [
    { field: "limits.clamp.points[0].time", value: "12 h" },
    { field: "limits.clamp.points[0].at", value: "20 °C" },
    { field: "ratio.weight", value: "100:32.09" },
    { field: "equivalents.resin", value: "187 g" },
    { field: "note", value: "computed" },
  ];
  const body = bodyOf(fill(boxes, fields));
  expect(body.ratio).toEqual({ weight: "100:32.09", volume: undefined, tolerance: "5 %" });
  expect(body.limits.find((limit) => limit.clock === "clamp" && !limit.bent)?.points).toEqual([{ time: "12 h", at: "20 °C", mass: undefined }]);
  expect(body.equivalents?.resin).toBe("187 g");
  expect(body.note).toBe("from the sheet of May\ncomputed");
});
