// Generated from docs/schema.json by `npm run wire`: do not edit. A check fails when it differs.

/**
 * A batch in a bond.
 */
export type BatchUse = (string | Stretch)
/**
 * A joint.
 */
export type JointName = (string | JointFull)
/**
 * One text or several.
 */
export type Texts = (string | string[])
/**
 * The lowest since the thermometer was set.
 */
export type LowestSince = (string | LowestBoth)
/**
 * Wood stored at the place.
 */
export type Wood = (string | WoodBoth)
/**
 * Every question. On the wire `{"ask":"clocks","body":{"bond":"47"}}`; a missing body is an empty one.
 */
export type Question = ({
ask: "clocks"
body: Clocks
} | {
ask: "trace"
body: Trace
} | {
ask: "where-used"
body: WhereUsed
} | {
ask: "verify"
body: Verify
} | {
ask: "owed"
body: Nothing
} | {
ask: "bonds"
body: Nothing
} | {
ask: "list"
body: List
} | {
ask: "entry"
body: EntryAsked
} | {
ask: "batch"
body: BatchAsked
} | {
ask: "amounts"
body: Amounts
} | {
ask: "head"
body: Nothing
} | {
ask: "checkpoint"
body: Nothing
} | {
ask: "bench"
body: Nothing
} | {
ask: "gate"
body: Gate
} | {
ask: "pour"
body: Pour
} | {
ask: "post-cure"
body: PostCure
} | {
ask: "figure"
body: FigureAsked
} | {
ask: "figures"
body: Nothing
} | {
ask: "session"
body: SessionAsked
} | {
ask: "work"
body: Nothing
} | {
ask: "parts"
body: Nothing
} | {
ask: "stores"
body: Nothing
} | {
ask: "entries"
body: EntriesAsked
})

export interface Wire {
acts: {
"answer-alarm": ActAnswerAlarm
bond: ActBond
card: ActCard
"checkpoint-given": ActCheckpointGiven
coat: ActCoat
"confirm-time": ActConfirmTime
container: ActContainer
correct: ActCorrect
cup: ActCup
decide: ActDecide
envelope: ActEnvelope
filler: ActFiller
forecast: ActForecast
instrument: ActInstrument
issue: ActIssue
joint: ActJoint
kind: ActKind
lot: ActLot
mix: ActMix
moved: ActMoved
part: ActPart
person: ActPerson
place: ActPlace
press: ActPress
reading: ActReading
"readings-file": ActReadingsFile
reason: ActReason
sample: ActSample
set: ActSet
surface: ActSurface
"throw-away": ActThrowAway
"top-up": ActTopUp
vouch: ActVouch
withdraw: ActWithdraw
}
answers: {
amounts: AmountsAnswer
batch: BatchAnswer
bench: BenchAnswer
bonds: BondsAnswer
checkpoint: CheckpointAnswer
clocks: ClocksAnswer
entries: EntriesAnswer
entry: EntryAnswer
figure: FigureAnswer
figures: FiguresAnswer
gate: GateAnswer
head: HeadAnswer
list: ListAnswer
owed: OwedAnswer
parts: PartsAnswer
"post-cure": PostCureAnswer
pour: PourAnswer
session: SessionAnswer
stores: StoresAnswer
trace: TraceAnswer
verify: VerifyAnswer
"where-used": WhereUsedAnswer
work: WorkAnswer
}
question: Question
}
/**
 * Somebody answers an alarm.
 */
export interface ActAnswerAlarm {
/**
 * The alarm's entry, by id or place in the log; absent: every unanswered one.
 */
alarm?: (string | null)
/**
 * True: only those that sound until answered; false: only the quiet notices. Absent: both.
 */
loud?: (boolean | null)
}
/**
 * One or many batches times one or many joints, at one stage. Name `joints`, or `parts` with or without a `stage`.
 */
export interface ActBond {
/**
 * Batches in the order they were spread: names, or objects with the stretch along the joint.
 */
batches: BatchUse[]
/**
 * Bent or sprung; absent: as the kind says.
 */
bent?: (boolean | null)
/**
 * How long setting the clamps takes.
 */
clamping?: (string | null)
/**
 * Put together dry before, clamps counted.
 */
dry_run?: (boolean | null)
/**
 * Joints: `R3-L/J2`, a mark unique in the book, or an object.
 */
joints?: JointName[]
/**
 * Bond whose layer this one is glued on.
 */
layer_below?: (string | null)
/**
 * Wood moisture, 0 to 100 %; absent: measured last within four hours.
 */
moisture?: (string | null)
/**
 * Parts: all their joints, or those of `stage`.
 */
parts?: string[]
/**
 * Where it is glued; absent: the place last named by this person within four hours.
 */
place?: (string | null)
/**
 * 6 or 2; absent: as the kind says.
 */
presses?: (number | null)
/**
 * Pressure as measured, 0.1 kPa to 20 MPa.
 */
pressure?: (string | null)
/**
 * Pressure as planned.
 */
pressure_as_planned?: (boolean | null)
/**
 * Stage of the kind.
 */
stage?: (string | null)
/**
 * Place where the wood was before.
 */
stored?: (string | null)
/**
 * Temperature of the wood, -40 to 60 °C.
 */
wood_temperature?: (string | null)
}
/**
 * With its stretch along the joint.
 */
export interface Stretch {
/**
 * Batch.
 */
batch: string
/**
 * From, along the joint.
 */
from?: (string | null)
/**
 * To, along the joint.
 */
to?: (string | null)
}
/**
 * By part and mark.
 */
export interface JointFull {
/**
 * Mark within the part.
 */
mark: string
/**
 * Part.
 */
part: string
}
/**
 * An adhesive card from the maker's sheet. A changed sheet is a new card that names the one it revises.
 */
export interface ActCard {
/**
 * Highest temperature for application.
 */
application_maximum?: (string | null)
/**
 * Lowest temperature for application.
 */
application_minimum?: (string | null)
/**
 * `resumes` or `fault`; preset: fault for resorcinol and urea.
 */
below_minimum?: (string | null)
/**
 * `epoxy`, `resorcinol`, `urea`, `casein`, or another word (then a limit with one point has no law).
 */
class: string
/**
 * Mass per reacting group: what a ratio off balance means.
 */
equivalents?: (Equivalents | null)
/**
 * Gel time of a thin film: with the pot life it tells how the pot heats itself.
 */
film_gel?: (FilmGel | null)
/**
 * Glass transition, fresh and fully cured.
 */
glass?: (Glass | null)
/**
 * Density of the hardener.
 */
hardener_density?: (string | null)
/**
 * Dampest air, 0 to 100 %.
 */
humidity_maximum?: (string | null)
/**
 * Driest air, 0 to 100 %.
 */
humidity_minimum?: (string | null)
/**
 * Largest batch, 0.05 g to 50 kg.
 */
largest_batch?: (string | null)
/**
 * The sheet's times, each for one clock.
 */
limits: Limit[]
/**
 * Highest cure temperature, -40 to 260 °C.
 */
maximum_cure?: (string | null)
/**
 * Below this no cure is credited, -40 to 260 °C.
 */
minimum_cure?: (string | null)
/**
 * Dampest wood, 0 to 100 %.
 */
moisture_maximum?: (string | null)
/**
 * Driest wood, 0 to 100 %.
 */
moisture_minimum?: (string | null)
/**
 * Unique among current cards.
 */
name: string
/**
 * Anything else the sheet says.
 */
note?: (string | null)
/**
 * `sheet` (preset), `handbook` or `class`; the last two get a spread of 10 %.
 */
origin?: (string | null)
/**
 * Greatest clamping pressure.
 */
pressure_maximum?: (string | null)
/**
 * Least clamping pressure, 0.1 kPa to 20 MPa.
 */
pressure_minimum?: (string | null)
/**
 * Resin to hardener: `"100:83"` (by weight), `"2:1 by volume"`, or an object.
 */
ratio: (string | RatioFull)
/**
 * Density of the resin, 0.5 to 3 kg/l.
 */
resin_density?: (string | null)
/**
 * The card it revises.
 */
revises?: (string | null)
/**
 * Spread on a glue line, 1 g/m2 to 5 kg/m2.
 */
spread?: (string | null)
/**
 * Standing time after stirring.
 */
standing?: (string | null)
/**
 * Stirring time.
 */
stirring?: (string | null)
/**
 * Open and closed times are used up together.
 */
together?: (boolean | null)
/**
 * Allowed deviation of the ratio, 0.01 to 50 %; absent: the sheet gives none, and no verdict is spoken.
 */
tolerance?: (string | null)
/**
 * It sets by drying: assembly times are not scaled. Preset: true for urea, casein, resorcinol and pva.
 */
water_borne?: (boolean | null)
}
/**
 * Mass per reacting group, as sheets give it: grams of resin for one epoxide, of hardener for one amine hydrogen.
 */
export interface Equivalents {
/**
 * Hydrogens of one hardener molecule, 3 to 12; absent: 4 is taken.
 */
functionality?: (number | null)
/**
 * Of the hardener, per amine hydrogen, 10 g to 10 kg.
 */
hardener: string
/**
 * Of the resin, per epoxide, 10 g to 10 kg.
 */
resin: string
}
/**
 * Gel time of a thin film, which does not heat itself.
 */
export interface FilmGel {
/**
 * Temperature of film and air, -40 to 260 °C.
 */
at: string
/**
 * `3 h` or `150-200 min`; 1 s to 365 days. Of a range the short end counts.
 */
time: string
}
/**
 * Glass transition: where the glue turns from glass to rubber.
 */
export interface Glass {
/**
 * Of the fresh mix, -40 to 260 °C.
 */
fresh?: (string | null)
/**
 * Of the fully cured glue, -40 to 260 °C.
 */
full: string
}
/**
 * One time of the sheet, for one clock.
 */
export interface Limit {
/**
 * For bent or sprung joints.
 */
bent?: (boolean | null)
/**
 * `pot`, `open`, `closed`, `fresh-surface`, `glue-again`, `clamp`, `machining` or `full-cure`.
 */
clock: string
/**
 * `mixing`, `spreading`, `closing` or `pressure`; absent: the sheet does not say.
 */
counted_from?: (string | null)
/**
 * By what it was judged.
 */
judged_by?: (string | null)
/**
 * At one or more temperatures.
 */
points: Point[]
}
/**
 * A time at a temperature.
 */
export interface Point {
/**
 * Temperature, -40 to 260 °C; absent only for unscaled times (`fresh-surface`, `glue-again`).
 */
at?: (string | null)
/**
 * Mass in the pot for which it holds, 0.05 g to 50 kg.
 */
mass?: (string | null)
/**
 * `12 h`, `45 min` or `4-6 h`; 1 s to 365 days.
 */
time: string
}
/**
 * Both, with the tolerance.
 */
export interface RatioFull {
/**
 * `weight` or `volume`, for `nominal`.
 */
by?: (string | null)
/**
 * The ratio of `by`.
 */
nominal?: (string | null)
/**
 * Allowed deviation, 0.01 to 50 %.
 */
tolerance?: (string | null)
/**
 * By volume: `2:1`.
 */
volume?: (string | null)
/**
 * By weight: `100:83`.
 */
weight?: (string | null)
}
/**
 * A checkpoint handed to somebody.
 */
export interface ActCheckpointGiven {
/**
 * To whom.
 */
to?: (string | null)
}
/**
 * A wetting coat before a filled one.
 */
export interface ActCoat {
/**
 * Batch it came from.
 */
batch?: (string | null)
/**
 * Bond.
 */
bond: string
}
/**
 * The shown time is right: from now on it is the axis.
 */
export interface ActConfirmTime {

}
/**
 * A can under a lot.
 */
export interface ActContainer {
/**
 * What it held when new: `1 kg` or `500 ml`.
 */
holds?: (string | null)
/**
 * Lot.
 */
lot: string
/**
 * Unique in the shop.
 */
mark: string
/**
 * Opened: a day or an instant.
 */
opened?: (string | null)
/**
 * Place where it stands.
 */
stored?: (string | null)
}
/**
 * A full replacement body in the shape of its act.
 */
export interface ActCorrect {
/**
 * The whole body as it should have been.
 */
body: {
[k: string]: unknown | undefined
}
/**
 * The original entry, by id or by its place in the own log: `812`, as text or number.
 */
entry: string
/**
 * Why; needed here or around the body.
 */
why?: (string | null)
}
/**
 * How warm the glue in a batch's cup is, measured in it: the forecast of its pot goes on from there.
 */
export interface ActCup {
/**
 * Batch.
 */
batch: string
/**
 * In the glue, -40 to 260 °C.
 */
temperature: string
}
/**
 * A bond's broken limits decided.
 */
export interface ActDecide {
/**
 * Bond.
 */
bond: string
/**
 * `accepted`, `rejected` or `redo`.
 */
verdict: string
/**
 * Why, at most 10 kB.
 */
why: string
}
/**
 * What every act carries around its body.
 */
export interface ActEnvelope {
/**
 * Word of the act: `press`.
 */
act: string
/**
 * The act's own fields. Absent: none.
 */
body?: {
[k: string]: unknown | undefined
}
/**
 * When it happened, RFC 3339. Absent: now.
 */
happened?: (string | null)
/**
 * Key chosen by the caller: the same key again repeats the receipt and appends nothing. Absent: a fresh one.
 */
key?: (string | null)
/**
 * Who acts: a person's name or id. Absent: not recorded.
 */
person?: (string | null)
/**
 * Why it is entered late or differently, as typed.
 */
why?: (string | null)
}
/**
 * Filler added to a batch.
 */
export interface ActFiller {
/**
 * Batch.
 */
batch: string
/**
 * Lot of the filler.
 */
lot: string
/**
 * How much, 0.05 g to 50 kg.
 */
mass?: (string | null)
}
/**
 * What the air of a place is expected to do from now on; the newest forecast of a place holds. `hold` takes `at`;
 * `setback` takes `day`, `night`, `from`, `to`, `ramp`; `cooling` takes `towards`, `time_constant`; `day` takes `mean`,
 * `swing`, `warmest`. Estimates go by it; nothing is ever reached by it.
 */
export interface ActForecast {
/**
 * `hold`: the temperature, -40 to 60 °C.
 */
at?: (string | null)
/**
 * `setback`: by day, -40 to 60 °C.
 */
day?: (string | null)
/**
 * `setback`: the night begins, local time of day such as `22:00`.
 */
from?: (string | null)
/**
 * `day`: mean, -40 to 60 °C.
 */
mean?: (string | null)
/**
 * `setback`: by night, -40 to 60 °C.
 */
night?: (string | null)
/**
 * Where.
 */
place: string
/**
 * `setback`: how long each change takes, not longer than night or day; absent: 2 h.
 */
ramp?: (string | null)
/**
 * `hold`, `setback`, `cooling` or `day`.
 */
shape: string
/**
 * `day`: the warmest above the mean, 0.1 to 30 K.
 */
swing?: (string | null)
/**
 * `cooling`: until 37 % of the difference is left, 10 min to 100 h; absent: from the place's last cool-down, else 4 h.
 */
time_constant?: (string | null)
/**
 * `setback`: the day begins, local time of day such as `06:00`.
 */
to?: (string | null)
/**
 * `cooling`: where it ends, -40 to 60 °C.
 */
towards?: (string | null)
/**
 * RFC 3339; from then on the air stays as it was then. Absent: it goes on.
 */
until?: (string | null)
/**
 * `day`: when it is warmest, local time of day such as `15:00`.
 */
warmest?: (string | null)
}
/**
 * A scale, thermometer or meter. The unit of a step tells what it measures.
 */
export interface ActInstrument {
/**
 * Half-width of its error where it was calibrated, in the same units.
 */
accuracy?: (Texts | null)
/**
 * Unique in the shop.
 */
name: string
/**
 * One text or several.
 */
step: (string | string[])
}
/**
 * Counts stated before a page or bundle leaves.
 */
export interface ActIssue {
/**
 * A part by mark, or `part:R3-L`, `bond:47`, `batch:Tue 3`, `lot:R-118`, or an id.
 */
subject: string
}
/**
 * A joint of one part, beyond those of its kind.
 */
export interface ActJoint {
/**
 * Glue area, 1 mm2 to 100 m2.
 */
area?: (string | null)
/**
 * Unique in its part.
 */
mark: string
/**
 * Part.
 */
part: string
/**
 * Lap, scarf, gusset, web in slot, …
 */
sort?: (string | null)
/**
 * Total thickness of the members, 0.001 mm to 50 m.
 */
thickness?: (string | null)
}
/**
 * A described part: its stages and which joints each stage glues.
 */
export interface ActKind {
/**
 * Its joints are bent or sprung.
 */
bent?: (boolean | null)
/**
 * How long it takes to set the clamps.
 */
clamping?: (string | null)
/**
 * Unique in the shop.
 */
mark: string
/**
 * Presses per bond: 6 (preset), or 2 for nailed and stapled joints.
 */
presses?: (number | null)
/**
 * Pressure as planned, 0.1 kPa to 20 MPa.
 */
pressure?: (string | null)
/**
 * Highest temperature in service that the builder names: a dark skin in the sun. -40 to 260 C.
 */
service?: (string | null)
/**
 * What is glued at one go, in order.
 */
stages: Stage[]
}
/**
 * What is glued at one go.
 */
export interface Stage {
/**
 * Its joints.
 */
joints: JointPlan[]
/**
 * Unique in its kind.
 */
mark: string
}
/**
 * A joint as a kind describes it.
 */
export interface JointPlan {
/**
 * Glue area, 1 mm2 to 100 m2.
 */
area?: (string | null)
/**
 * Unique in its kind.
 */
mark: string
/**
 * Lap, scarf, gusset, web in slot, …
 */
sort?: (string | null)
/**
 * Total thickness of the members, 0.001 mm to 50 m.
 */
thickness?: (string | null)
}
/**
 * A lot of one component of a card.
 */
export interface ActLot {
/**
 * Card.
 */
card: string
/**
 * Good until the end of this day, or this instant.
 */
expires?: (string | null)
/**
 * Unique in the shop.
 */
mark: string
/**
 * Received: a day or an instant.
 */
received?: (string | null)
/**
 * `resin`, `hardener` or `filler`.
 */
role: string
}
/**
 * What went into a batch.
 */
export interface ActMix {
/**
 * Batch; absent: the one whose hardener went in within four hours and that has no mix, else a new one.
 */
batch?: (string | null)
/**
 * Card in force.
 */
card: string
/**
 * Cans; absent: those of this person's last mix of this card within four hours.
 */
containers?: string[]
/**
 * Hardener, net.
 */
hardener?: (string | null)
/**
 * Scale.
 */
instrument?: (string | null)
/**
 * Where the pot stands.
 */
place?: (string | null)
/**
 * Resin, net: `40.0 g` (0.05 g to 50 kg) or `50 ml` (0.05 ml to 50 l).
 */
resin?: (string | null)
/**
 * Temperature of the components, -40 to 60 °C.
 */
start_temperature?: (string | null)
/**
 * `retared` (preset), `one-cup`, or the running totals read: `12.4/52.4/60.7 g` (cup, cup and resin, all).
 */
weighing?: (string | null)
}
/**
 * A bond's parts went to another place.
 */
export interface ActMoved {
/**
 * Bond.
 */
bond: string
/**
 * To.
 */
place: string
}
/**
 * One part.
 */
export interface ActPart {
/**
 * Assembly it belongs to.
 */
assembly?: (string | null)
/**
 * Kind it is made from.
 */
kind?: (string | null)
/**
 * Unique in the shop.
 */
mark: string
/**
 * Highest temperature in service, where this part's differs from its kind's. -40 to 260 C.
 */
service?: (string | null)
}
/**
 * A name somebody entered; the program proves nobody's identity.
 */
export interface ActPerson {
/**
 * Unique in the shop, at most 200 characters.
 */
name: string
}
/**
 * A named spot with one air.
 */
export interface ActPlace {
/**
 * A feed of readings is promised: thirty minutes of silence are an alarm.
 */
feed?: (boolean | null)
/**
 * The place whose air it heats: a hot box or a tent draws the shop's.
 */
heated_from?: (string | null)
/**
 * Unique in the shop.
 */
name: string
}
/**
 * One press at the bench; it names a bond or a batch.
 */
export interface ActPress {
/**
 * Batch: `Tue 3`. Hardener in without one takes the batch just mixed, else makes one.
 */
batch?: (string | null)
/**
 * Bond: `47`.
 */
bond?: (string | null)
/**
 * Taken back: the press itself, by id or place in the log.
 */
entry?: (string | null)
/**
 * `hardener-in`, `first-glue-on`, `together`, `all-tight`, `squeeze-out`, `first-clamp-off`, `pot-done`, `clamp-lost`, `re-tightened`, `used` or `taken-back`.
 */
press: string
/**
 * Squeeze-out: `all-round`, `not-all-round`, `cannot-see`. Used: `planed`, `loaded`, `shipped`.
 */
seen?: (string | null)
}
/**
 * A reading by hand.
 */
export interface ActReading {
/**
 * Relative humidity, 0 to 100 %.
 */
humidity?: (string | null)
/**
 * Instrument.
 */
instrument?: (string | null)
/**
 * Min-max thermometer: an instant (then `temperature` itself is the lowest since), a temperature (lowest since the reading before here), or an object.
 */
lowest_since?: (LowestSince | null)
/**
 * Where.
 */
place: string
/**
 * Air temperature, -40 to 60 °C.
 */
temperature: string
/**
 * Of the wood stored there: `9.8 %` is moisture, `14 C` temperature, or an object with both.
 */
wood?: (Wood | null)
}
/**
 * Both.
 */
export interface LowestBoth {
/**
 * Since, RFC 3339.
 */
since: string
/**
 * Lowest, -40 to 60 °C.
 */
temperature: string
}
/**
 * Both.
 */
export interface WoodBoth {
/**
 * 0 to 100 %.
 */
moisture?: (string | null)
/**
 * -40 to 60 °C.
 */
temperature?: (string | null)
}
/**
 * Readings from a logger's file: comma, semicolon or tab separated, at most 64 MB.
 */
export interface ActReadingsFile {
/**
 * Headers of the columns; absent: guessed.
 */
columns?: (Columns | null)
/**
 * Instrument.
 */
instrument?: (string | null)
/**
 * Path of the file on this machine.
 */
path: string
/**
 * Where.
 */
place: string
}
/**
 * Headers of a readings file.
 */
export interface Columns {
/**
 * Column of the relative humidity, %.
 */
humidity?: (string | null)
/**
 * Column of the temperature; C unless the header or the value names F or K.
 */
temperature?: (string | null)
/**
 * Column of the instant: RFC 3339, or `YYYY-MM-DD HH:MM[:SS]` in the shop's zone.
 */
time?: (string | null)
}
/**
 * Why something missing cannot be known.
 */
export interface ActReason {
/**
 * The bond (all that is missing), the owed sentence itself, or `bond 47: squeeze-out`.
 */
of: string
/**
 * The reason, at most 10 kB.
 */
text: string
}
/**
 * A sample joint that was broken, glued beside a part or a bond from the same glue. Name `part` or `bond`. It settles
 * nothing by itself.
 */
export interface ActSample {
/**
 * Bond it speaks for.
 */
bond?: (string | null)
/**
 * Its length along the load.
 */
length: string
/**
 * Load at which it broke, 0.1 N to 10000 kN.
 */
load: string
/**
 * What else was seen, at most 10 kB.
 */
note?: (string | null)
/**
 * Part it speaks for.
 */
part?: (string | null)
/**
 * Width of the glued face, as lengths of a joint.
 */
width: string
/**
 * Share of the face on which the wood broke, 0 to 100 %; absent: not recorded.
 */
wood_failure?: (string | null)
}
/**
 * Parts made from a kind in one act.
 */
export interface ActSet {
/**
 * Assembly they belong to.
 */
assembly?: (string | null)
/**
 * Kind.
 */
kind: string
/**
 * Marks of the parts, each unique in the shop.
 */
marks: string[]
}
/**
 * Faces made fresh.
 */
export interface ActSurface {
/**
 * `planed`, `scraped`, …
 */
how?: (string | null)
/**
 * Joints.
 */
joints?: JointName[]
/**
 * Whole parts.
 */
parts?: string[]
}
/**
 * What was left of a batch and thrown away.
 */
export interface ActThrowAway {
/**
 * Batch.
 */
batch: string
/**
 * How much, 0.05 g to 50 kg.
 */
mass: string
}
/**
 * More of the components into a running batch.
 */
export interface ActTopUp {
/**
 * Batch.
 */
batch: string
/**
 * Card in force.
 */
card: string
/**
 * Cans; absent: those of this person's last mix of this card within four hours.
 */
containers?: string[]
/**
 * Hardener, net.
 */
hardener?: (string | null)
/**
 * Scale.
 */
instrument?: (string | null)
/**
 * Where the pot stands.
 */
place?: (string | null)
/**
 * Resin, net: `40.0 g` (0.05 g to 50 kg) or `50 ml` (0.05 ml to 50 l).
 */
resin?: (string | null)
/**
 * Temperature of the components, -40 to 60 °C.
 */
start_temperature?: (string | null)
/**
 * `retared` (preset), `one-cup`, or the running totals read: `12.4/52.4/60.7 g` (cup, cup and resin, all).
 */
weighing?: (string | null)
}
/**
 * A person vouches that a place is never below a floor.
 */
export interface ActVouch {
/**
 * Never below, -40 to 60 °C.
 */
floor: string
/**
 * From, RFC 3339; absent: the instant of the act.
 */
from?: (string | null)
/**
 * Where.
 */
place: string
/**
 * Until, RFC 3339; at most 31 days after its start.
 */
until: string
}
/**
 * An entry withdrawn.
 */
export interface ActWithdraw {
/**
 * The entry, by id or by its place in the own log, as text or number.
 */
entry: string
/**
 * Why; needed here or around the body.
 */
why?: (string | null)
}
/**
 * Amounts to weigh out.
 */
export interface AmountsAnswer {
/**
 * `weight` or `volume`.
 */
by: string
card: Named
/**
 * In mg or ul, by the same names.
 */
exact: {
[k: string]: number | undefined
}
/**
 * Hardener.
 */
hardener: string
/**
 * The least that this scale can tell the ratio of; null: by volume, no tolerance on the sheet, or no scale known.
 */
least?: (LeastAmount | null)
/**
 * "100:83".
 */
ratio: string
/**
 * Resin, "33.0 g".
 */
resin: string
/**
 * In words.
 */
said: string
/**
 * Running totals in one cup: "stop at 60.4 g".
 */
stop_at: string[]
/**
 * Total.
 */
total: string
}
/**
 * Card.
 */
export interface Named {
/**
 * Id.
 */
id: string
/**
 * Name.
 */
name: string
}
/**
 * The least amount whose ratio a scale can tell.
 */
export interface LeastAmount {
/**
 * Three times as much: what is told with ease.
 */
comfortable: string
/**
 * What is wanted is at least that least amount.
 */
enough: boolean
/**
 * "below 8.2 g in all this scale cannot tell 5 %".
 */
said: string
/**
 * Both components together, "8.2 g".
 */
total: string
/**
 * The same, mg.
 */
total_mg: number
}
/**
 * A batch.
 */
export interface BatchAnswer {
/**
 * What to ask about.
 */
asked: string[]
balance: Balance
/**
 * Bonds, by name.
 */
bonds: string[]
/**
 * Card.
 */
card?: (Named1 | null)
/**
 * Local day.
 */
day: string
/**
 * Hardener in.
 */
hardener_in?: (string | null)
/**
 * Id.
 */
id: string
/**
 * Lots.
 */
lots: LotLine[]
/**
 * Each mix and top-up.
 */
mixes: MixLine[]
/**
 * Name.
 */
name: string
/**
 * What the ratio that was mixed means for the cured glue, in one sentence; null: the card has no equivalents, or
 * not everything was weighed.
 */
off_ratio?: (string | null)
/**
 * Its pot.
 */
pot?: (ClockAnswer | null)
/**
 * Begun within a working session before the instant judged: four hours.
 */
this_session: boolean
/**
 * Worst verdict over mix and top-ups.
 */
verdict: string
}
/**
 * Balance.
 */
export interface Balance {
/**
 * Mixed, mg; null: not weighed.
 */
mixed_mg?: (number | null)
/**
 * Mixed less thrown away, mg; null: unknown.
 */
on_joints_mg?: (number | null)
/**
 * In words.
 */
said: string
/**
 * Thrown away, mg; null: not recorded.
 */
thrown_away_mg?: (number | null)
}
/**
 * A name and an id.
 */
export interface Named1 {
/**
 * Id.
 */
id: string
/**
 * Name.
 */
name: string
}
/**
 * A lot in a batch.
 */
export interface LotLine {
/**
 * Cans, by mark.
 */
containers: string[]
/**
 * Expired when mixed.
 */
expired: boolean
/**
 * Good until.
 */
expires?: (string | null)
/**
 * Id.
 */
id: string
/**
 * Mark.
 */
mark: string
/**
 * Belongs to another adhesive than the batch's card.
 */
other_adhesive: boolean
/**
 * `resin`, `hardener`, `filler`.
 */
role: string
}
/**
 * One mix or top-up.
 */
export interface MixLine {
/**
 * When.
 */
at: string
/**
 * Deviation of hardener per resin, ppm.
 */
error_ppm?: (number | null)
/**
 * Hardener as typed.
 */
hardener?: (string | null)
/**
 * `mix` or `top-up`.
 */
kind: string
/**
 * Who, by name.
 */
person?: (string | null)
/**
 * Resin as typed.
 */
resin?: (string | null)
/**
 * The verdict in words: how far off, what the scale can tell, what the sheet allows, what to do.
 */
said: string
/**
 * Entry's number.
 */
seq: number
/**
 * The inverse ratio fits.
 */
swapped: boolean
/**
 * Its expanded uncertainty, ppm.
 */
uncertainty_ppm?: (number | null)
/**
 * Verdict.
 */
verdict: string
}
/**
 * One clock.
 */
export interface ClockAnswer {
/**
 * Batch a pot belongs to, by name.
 */
batch?: (string | null)
/**
 * The bound used: "95 %, sensor ±1 K".
 */
bound: string
/**
 * `pot`, `open`, `closed`, `fresh-surface`, `glue-again`, `clamp`, `machining`, `full-cure`.
 */
clock: string
/**
 * `must-not-exceed` or `must-reach`.
 */
direction: string
/**
 * Earliest finish.
 */
earliest?: (string | null)
/**
 * End; null: it goes on.
 */
ended?: (string | null)
/**
 * Expected finish.
 */
expected?: (string | null)
/**
 * What would help a must-reach clock that is running or never: one temperature held from now on, coldest first.
 */
helps: HelpAnswer[]
/**
 * Latest finish.
 */
latest?: (string | null)
limit: LimitAnswer
/**
 * Model, name and version.
 */
model: string
/**
 * When a must-not-exceed clock counts as nearly over.
 */
nearly_over?: (string | null)
/**
 * `bond:47` or `batch:Tue 3`.
 */
of: string
/**
 * Parts it concerns, by mark.
 */
parts: string[]
progress_ppm: Progress
/**
 * In words.
 */
said: string
/**
 * Start; null: it never started.
 */
started?: (string | null)
/**
 * `running`, `over`, `reached`, `ended`, `never`, `held`.
 */
state: string
used: Used
}
/**
 * A temperature that would help.
 */
export interface HelpAnswer {
/**
 * Held from the instant asked on: "18 °C".
 */
at: string
/**
 * Then the limit is reached at the latest.
 */
finish: string
/**
 * In words: "at 18 °C: 09:40".
 */
said: string
}
/**
 * The limit.
 */
export interface LimitAnswer {
/**
 * How sure it is: `class interval`, `fitted pair`, `95 % band of a new batch`, `plain time`. Null: no law.
 */
band?: (string | null)
/**
 * Card entry in force; null: no mix is recorded.
 */
card?: (string | null)
/**
 * `mixing`, `spreading`, `closing`, `pressure`; null: the sheet does not say.
 */
counted_from?: (string | null)
/**
 * Activation energy, lowest, middle, highest, kJ/mol: of the class for one point, by two points, by the slope's 95 %
 * interval for three and more. Null: plain time or no law.
 * 
 * @minItems 3
 * @maxItems 3
 */
energy_kj_mol?: (number[] | null)
/**
 * `one-point`, `two-point`, `fitted`, `unscaled`, `none`.
 */
law: string
/**
 * Card's name.
 */
name?: (string | null)
/**
 * Where they come from: `sheet`, `handbook`, `class`.
 */
origin?: (string | null)
/**
 * Temperatures of the sheet that the law goes through; of plain times, points.
 */
points: number
/**
 * The sheet's numbers: "12 h at 20 °C".
 */
stated: string[]
}
/**
 * Progress in millionths of the limit.
 */
export interface Progress {
/**
 * Expected.
 */
expected: number
/**
 * High.
 */
high: number
/**
 * Low.
 */
low: number
}
/**
 * What it rests on.
 */
export interface Used {
/**
 * Taken for granted, in sentences.
 */
assumed: string[]
/**
 * Stretch in gaps longer than two hours, ms.
 */
gap_ms: number
/**
 * Stretch without credit, ms.
 */
no_credit_ms: number
/**
 * Readings used.
 */
readings: number
}
/**
 * What the bench shows.
 */
export interface BenchAnswer {
/**
 * Alarms not answered.
 */
alarms: AlarmLine[]
/**
 * Instant judged.
 */
at: string
/**
 * Must-not-exceed first, the next instant on top.
 */
clocks: ClockAnswer[]
/**
 * What comes next; null: nothing waits for anybody.
 */
next?: (BenchNext | null)
/**
 * What is owed on live bonds.
 */
owed: string[]
primary: BenchPress
/**
 * Last reading of each place.
 */
readings: LastReading[]
/**
 * One row a live bond, and a batch whose pot is open and has no bond in assembly.
 */
rows: BenchRow[]
saved: Saved
/**
 * Size of the own log.
 */
size: number
/**
 * The air of each place, the place worked at first.
 */
strip: StripPlace[]
}
/**
 * An alarm.
 */
export interface AlarmLine {
/**
 * Kind of alarm.
 */
alarm: string
/**
 * Answered by, by name; null: not answered.
 */
answered_by?: (string | null)
/**
 * Clock.
 */
clock?: (string | null)
/**
 * When it fell due.
 */
due: string
/**
 * Entry id.
 */
id: string
/**
 * Given with its sound until answered; else a quiet notice.
 */
loud: boolean
/**
 * `bond:47` or `batch:Tue 3`.
 */
of?: (string | null)
/**
 * What was said.
 */
said: string
/**
 * Entry's number.
 */
seq: number
}
/**
 * The next instant that somebody has to keep.
 */
export interface BenchNext {
/**
 * "14:47: ribs R1-L, R2-L must be tight".
 */
headline: string
/**
 * What comes after it: "14:52: batch Tue 3 is past its pot life"; null: nothing.
 */
then?: (string | null)
}
/**
 * The press that begins: *Hardener in*.
 */
export interface BenchPress {
/**
 * What is sent; null: one of `choices` is, or without any it is said in the room Mix.
 */
act?: (PressAct | null)
/**
 * What can be chosen; empty: `act` is sent at once.
 */
choices: BenchPress1[]
/**
 * On the button: "All tight".
 */
word: string
}
/**
 * An act without key and person.
 */
export interface PressAct {
/**
 * Its word: "press".
 */
act: string
/**
 * Its body.
 */
body: {
[k: string]: unknown | undefined
}
}
/**
 * A press with its act as it is sent; whoever sends it adds `key` and `person`.
 */
export interface BenchPress1 {
/**
 * What is sent; null: one of `choices` is, or without any it is said in the room Mix.
 */
act?: (PressAct | null)
/**
 * What can be chosen; empty: `act` is sent at once.
 */
choices: BenchPress1[]
/**
 * On the button: "All tight".
 */
word: string
}
/**
 * Last reading of a place.
 */
export interface LastReading {
/**
 * Age, ms.
 */
age_ms?: (number | null)
/**
 * When; null: none in the last 30 days.
 */
at?: (string | null)
/**
 * Humidity, ppm.
 */
humidity_ppm?: (number | null)
/**
 * Place.
 */
place: string
/**
 * Temperature, mk.
 */
temperature_mk?: (number | null)
}
/**
 * One bond, or one open pot.
 */
export interface BenchRow {
/**
 * "first face, 42 joints · batch Tue 3 · together 14:31".
 */
about: string
/**
 * What the number rests on, shown on request.
 */
basis: string[]
/**
 * Under the digits: "to all tight, at most".
 */
caption: string
/**
 * The clock the row counts: `pot`, `open`, `closed`, `fresh-surface`, `glue-again`, `clamp`, `machining`,
 * `full-cure`; empty: none has started.
 */
clock: string
/**
 * `must-not-exceed` or `must-reach`.
 */
direction: string
/**
 * A word instead of digits: "over", "waiting", "off".
 */
headline?: (string | null)
/**
 * What holds it, in short.
 */
held: string[]
/**
 * What warmth from now on would bring, where it would bring an hour or more: "kept at 18 °C from now on: 09:40"; null:
 * nothing, or the row waits for something else.
 */
helps?: (string | null)
/**
 * `bond:47` or `batch:Tue 3`.
 */
id: string
/**
 * What comes after: "no planing or turning until Thu 26 Nov 11:31".
 */
later: string[]
line: GlueLine
/**
 * Other acts of one press.
 */
more: BenchPress1[]
/**
 * Parts, by mark; none for a pot.
 */
parts: string[]
/**
 * The next press; null: none is left.
 */
press?: (BenchPress1 | null)
/**
 * The clock's whole sentence.
 */
said: string
/**
 * Its parts: "R1-L, R2-L, R3-L"; a pot's batch.
 */
title: string
/**
 * `exceed`, `over`, `reach`, `waiting`, `passed` or `doubt`.
 */
tone: string
/**
 * What the digits count down to: the earliest estimate of a must-not-exceed clock, the latest of a must-reach
 * one; null: `headline` stands instead.
 */
until?: (string | null)
}
/**
 * The picture.
 */
export interface GlueLine {
/**
 * The band from left to right: sorted, without overlap, without gap.
 */
boxes: LineBox[]
/**
 * Instant at the left edge.
 */
from: string
/**
 * Walls, gates and presses, from left to right.
 */
marks: LineMark[]
/**
 * Now; null: outside the drawing.
 */
now?: (number | null)
/**
 * `assembly`: hardener in to all tight. `cure`: all tight to the next gate or gates.
 */
stage: string
/**
 * Temperatures of the place over the same axis; null: not asked for, or none recorded.
 */
temperature?: (LineTemperature | null)
/**
 * Instant at the right edge.
 */
to: string
/**
 * The whole meaning in one or two sentences.
 */
words: string
}
/**
 * A stretch of the band.
 */
export interface LineBox {
/**
 * `glue-1`, `glue-2`, `glue-3` (deepening as it cures, the oldest deepest), `chill` (no credit), `hatch` (between
 * the earliest and the latest estimate), `over` (beyond a wall), `rest` (not yet).
 */
fill: string
/**
 * Left edge, millionths.
 */
from: number
/**
 * Right edge, millionths.
 */
to: number
}
/**
 * Something that stands at an instant.
 */
export interface LineMark {
/**
 * `start`: the label begins at the mark; `middle`; `end`: it ends there.
 */
anchor: string
/**
 * Where, millionths.
 */
at: number
/**
 * The clock it belongs to; null: a press.
 */
clock?: (string | null)
/**
 * Row of its label, 0 to 2: labels of one row do not meet at a width of 560 pixels and 7 pixels a character.
 */
lane: number
/**
 * Now lies past it; a gate is passed only once its limit is reached.
 */
passed: boolean
/**
 * `wall` (must not be passed), `gate` (must be reached), `press`.
 */
sort: string
/**
 * What stands there: "tight by 14:47".
 */
word: string
}
/**
 * Temperatures over the axis of a glue line; y 0 is the top, 1 000 000 the bottom.
 */
export interface LineTemperature {
/**
 * Temperature at the bottom edge.
 */
bottom_word: string
/**
 * Stretches without readings: no line is drawn across `[x, x]`.
 */
breaks: number[][]
/**
 * Height of the greatest cure temperature; null: the card states none, or it lies outside.
 */
high_line?: (number | null)
/**
 * "15 °C least".
 */
least_word?: (string | null)
/**
 * Height of the least cure temperature; null: the card states none, or it lies outside.
 */
low_line?: (number | null)
/**
 * At most 400 points, from left to right: `[x, y]`.
 */
points: number[][]
/**
 * Temperature at the top edge.
 */
top_word: string
}
/**
 * How far the record reaches.
 */
export interface Saved {
/**
 * In words: "813 entries, the last at 14:31".
 */
said: string
/**
 * Entries in the own log.
 */
size: number
}
/**
 * The air of one place.
 */
export interface StripPlace {
/**
 * Temperature, humidity, wood, dew point, age of the reading.
 */
cells: StripCell[]
/**
 * Place.
 */
place: string
}
/**
 * One value of a place.
 */
export interface StripCell {
/**
 * What: "Temperature".
 */
label: string
/**
 * `plain`, `doubt`, `heat` or `chill`.
 */
tone: string
/**
 * How much, in the reader's units; "not recorded".
 */
value: string
}
/**
 * All bonds.
 */
export interface BondsAnswer {
/**
 * Instant judged.
 */
at: string
/**
 * Bonds, in the order they were made.
 */
bonds: BondLine[]
}
/**
 * One bond in a list.
 */
export interface BondLine {
/**
 * Batches, by name.
 */
batches: string[]
/**
 * Entry.
 */
entry: string
/**
 * Name.
 */
id: string
/**
 * Last press.
 */
last_press?: (string | null)
/**
 * What is owed.
 */
owed: string[]
/**
 * Parts, by mark.
 */
parts: string[]
/**
 * State.
 */
state: string
}
/**
 * The own log's size and root.
 */
export interface CheckpointAnswer {
/**
 * Log.
 */
log: string
/**
 * Root, base64.
 */
root: string
/**
 * Entries.
 */
size: number
}
/**
 * Clocks at an instant.
 */
export interface ClocksAnswer {
/**
 * Instant judged.
 */
at: string
/**
 * Clocks.
 */
clocks: ClockAnswer[]
/**
 * Size of the own log.
 */
size: number
}
/**
 * Entries, newest first.
 */
export interface EntriesAnswer {
/**
 * Entries.
 */
entries: EntryRow[]
/**
 * Log they are of; null: the book is empty.
 */
log?: (string | null)
/**
 * `before` of the next page; null: this was the last. A page may be short, or empty, and yet have a next one.
 */
next_before?: (number | null)
/**
 * Log the next page is of, when this log is done; null: none.
 */
next_log?: (string | null)
/**
 * Entries in that log.
 */
total: number
}
/**
 * One entry in words.
 */
export interface EntryRow {
/**
 * The act `correct` takes it.
 */
can_correct: boolean
/**
 * Numbers of its corrections.
 */
corrected_by: number[]
/**
 * Number of the entry it corrects or withdraws; null: none.
 */
corrects?: (number | null)
/**
 * When it was entered, in this computer's zone.
 */
entered: string
/**
 * When it happened, in this computer's zone.
 */
happened: string
/**
 * Id.
 */
id: string
/**
 * Kind.
 */
kind: string
/**
 * Entered more than a minute after it happened.
 */
late: boolean
/**
 * Log.
 */
log: string
/**
 * Who, by name; null: not recorded.
 */
person?: (string | null)
/**
 * In a sentence.
 */
said: string
/**
 * Number.
 */
seq: number
/**
 * Why, as typed.
 */
why?: (string | null)
/**
 * Withdrawn.
 */
withdrawn: boolean
}
/**
 * One entry.
 */
export interface EntryAnswer {
/**
 * The act that corrects it, with the body in force as typed; null: it is not corrected by hand, or withdrawn.
 */
act?: (EntryAct | null)
/**
 * Corrections and withdrawals of it, by id, in order.
 */
amended_by: string[]
/**
 * As stored.
 */
entry: {
[k: string]: unknown | undefined
}
/**
 * Its fields in words: those of that act, else as stored.
 */
fields: EntryField[]
/**
 * In a sentence.
 */
said: string
}
/**
 * The act whose body, changed, corrects an entry.
 */
export interface EntryAct {
/**
 * Its word.
 */
act: string
/**
 * Its body, as typed.
 */
body: {
[k: string]: unknown | undefined
}
}
/**
 * One field of an entry.
 */
export interface EntryField {
/**
 * In words: "Limit 1, point 2, time".
 */
label: string
/**
 * Where it stands in the act's body: `limits[0].points[1].time`.
 */
path: string
/**
 * As typed.
 */
value: string
}
/**
 * A calculation with what it stands on.
 */
export interface FigureAnswer {
basis: FigureBasis
/**
 * Its name.
 */
figure: string
/**
 * Its fields; null means what the field's help says.
 */
result: {
[k: string]: unknown | undefined
}
/**
 * How to show it; only where that was asked for.
 */
shown?: (FigureShown | null)
}
/**
 * What it stands on.
 */
export interface FigureBasis {
/**
 * What was taken for granted.
 */
assumptions: string[]
/**
 * Formula.
 */
formula: string
/**
 * Inputs as used, presets among them, each with its unit.
 */
inputs: {
[k: string]: string | undefined
}
/**
 * Source.
 */
source: string
}
/**
 * A calculation as shown.
 */
export interface FigureShown {
/**
 * Single results, the most wanted first.
 */
fields: FigureSaid[]
/**
 * What wants a picture.
 */
pictures: FigurePicture[]
/**
 * Where it can be taken from here.
 */
sends: FigureSend[]
/**
 * Results that are lists.
 */
table?: (FigureTable | null)
}
/**
 * One result in words.
 */
export interface FigureSaid {
/**
 * A longer stretch of time in days, hours and minutes, a share in per cent.
 */
also?: (string | null)
/**
 * What it is; empty where the label says it all.
 */
help: string
/**
 * What stands before it.
 */
label: string
/**
 * Its name on the wire.
 */
name: string
/**
 * `plain`, `moss`, `heat` or `doubt`.
 */
tone: string
/**
 * What stands behind it; empty: no unit.
 */
unit: string
/**
 * The value; null: nothing, which `help` explains.
 */
value?: (string | null)
}
/**
 * A picture: 0 is the left and the top edge, 1 000 000 the right and the bottom one.
 */
export interface FigurePicture {
across: PictureAxis
/**
 * Lines, the lower ones first.
 */
lines: PictureLine[]
/**
 * Points that stand out.
 */
marks: PictureMark[]
up: PictureAxis1
/**
 * The whole meaning in words.
 */
words: string
}
/**
 * Left to right.
 */
export interface PictureAxis {
/**
 * What it measures, with its unit.
 */
label: string
/**
 * Ticks in order.
 */
ticks: PictureTick[]
}
/**
 * A tick of an axis.
 */
export interface PictureTick {
/**
 * Where.
 */
at: number
/**
 * Its number.
 */
word: string
}
/**
 * A line through points.
 */
export interface PictureLine {
/**
 * `main`, `second`, `third`, `beyond` (not spoken for), `edge` (of a band), `level` (across), `limit` (across, not to
 * be passed), `gate` (upright), `outline` (of a thing).
 */
look: string
/**
 * Its points.
 */
points: number[][]
/**
 * What it is; empty: nothing stands beside it.
 */
word: string
/**
 * Where the word stands; absent: at the line's last point.
 * 
 * @minItems 2
 * @maxItems 2
 */
word_at?: (number[] | null)
}
/**
 * A point that stands out.
 */
export interface PictureMark {
/**
 * Where.
 * 
 * @minItems 2
 * @maxItems 2
 */
at: number[]
/**
 * `point` (given), `asked` (answered), `out` (does not belong).
 */
look: string
/**
 * The word stands beside it; else it is told when pointed at.
 */
shown: boolean
/**
 * What it is.
 */
word: string
}
/**
 * Top to bottom.
 */
export interface PictureAxis1 {
/**
 * What it measures, with its unit.
 */
label: string
/**
 * Ticks in order.
 */
ticks: PictureTick[]
}
/**
 * A send: one press.
 */
export interface FigureSend {
/**
 * The boxes it fills.
 */
fields: FigureSent[]
/**
 * The room with the form.
 */
room: string
/**
 * What the form says of them: `From Figures, …`.
 */
said: string
/**
 * What in the room; empty: the room itself.
 */
thing: string
/**
 * The form that it opens: `card`, `mix`, `kind` or `sample`.
 */
to: string
/**
 * What stands on the press.
 */
word: string
}
/**
 * A box and what is put into it.
 */
export interface FigureSent {
/**
 * The box, by its place in the act's body: `ratio.weight`; of a card's times `limits.clamp.points[0].at`.
 */
field: string
/**
 * As it would be typed, with its unit.
 */
value: string
}
/**
 * Results that are lists, side by side.
 */
export interface FigureTable {
/**
 * Heads of the columns.
 */
heads: string[]
/**
 * Rows of texts; null: there is none.
 */
rows: (string | null)[][]
}
/**
 * Every calculation.
 */
export interface FiguresAnswer {
/**
 * In the order in which they are best read.
 */
figures: FigureListed[]
}
/**
 * A calculation as listed.
 */
export interface FigureListed {
/**
 * What it is for.
 */
about: string
/**
 * The family it stands in; families follow each other.
 */
family: string
/**
 * Formula.
 */
formula: string
/**
 * What it wants.
 */
inputs: FigureInput[]
/**
 * Its name.
 */
name: string
/**
 * What it gives.
 */
result: FigureField[]
/**
 * Source.
 */
source: string
/**
 * Its name as a heading.
 */
title: string
}
/**
 * An input as listed.
 */
export interface FigureInput {
/**
 * The same, with other inputs called as their boxes are; empty if it is needed.
 */
empty: string
/**
 * What it means.
 */
help: string
/**
 * What stands before its box.
 */
label: string
/**
 * Its name.
 */
name: string
/**
 * It has to be given.
 */
needed: boolean
/**
 * What may be given.
 */
range: string
/**
 * That unit as it is read: `°F`.
 */
sign: string
/**
 * What it is: `amount`, `count`, `list`, `word` or `shape`.
 */
sort: string
/**
 * What may be typed, in that unit; empty for words.
 */
takes: string
/**
 * The unit in which the reader types it, to be written behind a bare number; empty: none.
 */
typed_in: string
/**
 * The unit a bare number stands in; empty: none.
 */
unit: string
/**
 * What is used without it; empty if it is needed.
 */
without: string
/**
 * The words to choose from; empty where it is no word.
 */
words: string[]
}
/**
 * A field of a result as listed.
 */
export interface FigureField {
/**
 * What it is.
 */
help: string
/**
 * What stands before it.
 */
label: string
/**
 * Its name.
 */
name: string
/**
 * Its unit; empty: none.
 */
unit: string
}
/**
 * What would hold a mix.
 */
export interface GateAnswer {
/**
 * What would hold it and what would open it, in sentences.
 */
held_by: GateLine[]
/**
 * What wood and air say besides; it holds nothing.
 */
notes: GateNote[]
/**
 * Nothing would hold it.
 */
open: boolean
/**
 * What cannot be told, in sentences.
 */
unknown: string[]
}
/**
 * One bar of the gate.
 */
export interface GateLine {
/**
 * What would open it.
 */
opens: string
/**
 * What stands in the way.
 */
sentence: string
/**
 * `lot`, `moisture`, `temperature`, `humidity`.
 */
what: string
}
/**
 * What wood and air say before glue goes on.
 */
export interface GateNote {
/**
 * In words.
 */
sentence: string
/**
 * In a few words: "parts differ by 3.1 points".
 */
short: string
/**
 * Where the rule comes from.
 */
source: string
/**
 * `doubt`, `chill` or `plain`.
 */
tone: string
/**
 * `wood`, `dew-point` or `heated-air`.
 */
what: string
}
/**
 * Size and root of every log.
 */
export interface HeadAnswer {
/**
 * Logs; the own one first.
 */
logs: HeadLine[]
}
/**
 * One log.
 */
export interface HeadLine {
/**
 * Log.
 */
log: string
/**
 * Root, base64.
 */
root: string
/**
 * Entries.
 */
size: number
/**
 * `own`, `bench`, `foreign`.
 */
standing: string
}
/**
 * Names and ids.
 */
export interface ListAnswer {
/**
 * In order of making.
 */
list: Named1[]
/**
 * Noun.
 */
of: string
}
/**
 * What is owed.
 */
export interface OwedAnswer {
/**
 * Instant judged.
 */
at: string
/**
 * The same with keys.
 */
bonds: OwedBond[]
/**
 * Sentences, bond by bond.
 */
owed: string[]
}
/**
 * What one bond owes.
 */
export interface OwedBond {
/**
 * Bond, by name.
 */
bond: string
/**
 * Unsettled findings, with what settles each.
 */
findings: OwedFinding[]
}
/**
 * Something owed, with what settles it.
 */
export interface OwedFinding {
/**
 * Where the missing value itself is entered; null: nowhere, it is settled only as `settled_by` says.
 */
enter?: (EnterMissing | null)
/**
 * Stable key: `over:pot`.
 */
key: string
/**
 * What `reason` takes as `of`, or `decide` as `bond`.
 */
of: string
/**
 * In words.
 */
sentence: string
/**
 * Settled by a value, a reason or a decision: never, in a list of what is owed.
 */
settled: boolean
/**
 * `value`: enter what is missing, or say why it cannot be known with `reason`. `reason`: act `reason`.
 * `decide`: act `decide`.
 */
settled_by: string
}
/**
 * Where a missing value is entered: the act, and what of it is known.
 */
export interface EnterMissing {
/**
 * `press`, `mix`, or `correct` of the bond's own entry.
 */
act: string
/**
 * Batch, by id.
 */
batch?: (string | null)
/**
 * Bond, by name.
 */
bond?: (string | null)
/**
 * Entry to be corrected, by id.
 */
entry?: (string | null)
/**
 * Its field that is missing.
 */
field?: (string | null)
/**
 * Press that was not made.
 */
press?: (string | null)
}
/**
 * Parts by assembly.
 */
export interface PartsAnswer {
/**
 * Assemblies by name; parts of none stand last.
 */
assemblies: PartsAssembly[]
/**
 * Instant judged.
 */
at: string
/**
 * "35 parts: 2 held, 3 running".
 */
said: string
}
/**
 * An assembly.
 */
export interface PartsAssembly {
/**
 * Name; null: parts of no assembly.
 */
assembly?: (string | null)
/**
 * Parts, in order of making.
 */
parts: PartLine[]
}
/**
 * A part.
 */
export interface PartLine {
/**
 * Bonds, by name.
 */
bonds: string[]
/**
 * Id.
 */
id: string
/**
 * Kind, by mark; null: none.
 */
kind?: (string | null)
/**
 * Mark.
 */
mark: string
/**
 * "2 of 3 stages glued; bond 12 held".
 */
said: string
/**
 * `held`: a bond of it is held. `running`: none is, but one is not clear yet. `not glued`: something of it is in
 * no bond. `clear`: all of it is in bonds and every bond is clear.
 */
state: string
}
/**
 * A post-cure before it is done.
 */
export interface PostCureAnswer {
/**
 * Instant judged.
 */
at: string
/**
 * Bond, by name.
 */
bond: string
/**
 * What to mind.
 */
cautions: string[]
/**
 * Share reacted now, whole per cent.
 */
conversion_pct: number
/**
 * Glass transition now.
 */
glass: string
/**
 * The card's highest temperature for curing; null: it states none.
 */
maximum_cure?: (string | null)
/**
 * What it rests on; first who decides.
 */
rests_on: string[]
/**
 * In words.
 */
said: string[]
/**
 * Hottest in service; null: not recorded and not asked with.
 */
service?: (string | null)
/**
 * Soak from then on, ms; null: no service is known, or it is not reached within a week.
 */
soak_ms?: (number | null)
/**
 * Soaks and what they give, the shortest first.
 */
steps: PostCureStep[]
/**
 * Temperature of the tent, in the reader's units.
 */
to: string
/**
 * Both together, ms.
 */
total_ms?: (number | null)
/**
 * Until the glue line is within 2 K of the tent, ms.
 */
warm_up_ms: number
}
/**
 * One soak.
 */
export interface PostCureStep {
/**
 * Share reacted after it, whole per cent, 99 at most.
 */
conversion_pct: number
/**
 * Enough for the service; null: no service is known.
 */
enough?: (boolean | null)
/**
 * Glass transition after it.
 */
glass: string
/**
 * How long the glue line is at the temperature: "4 h".
 */
soak: string
/**
 * The same, ms.
 */
soak_ms: number
/**
 * With the way up.
 */
total: string
}
/**
 * What a cup of glue will do.
 */
export interface PourAnswer {
/**
 * Instant judged.
 */
at: string
/**
 * What the number comes from, in sentences.
 */
because: string[]
/**
 * By what the heat model was set: "two numbers of the sheet …"; or why none is used.
 */
calibration: string
card: Named2
/**
 * By its clock, from the sheet; null: the sheet gives nothing for it.
 */
clock_minutes?: (number | null)
/**
 * The shorter of clock and model, whole minutes, rounded down; null: neither knows.
 */
minutes?: (number | null)
/**
 * By the heat model; null: none is used, or it never gets there.
 */
model_minutes?: (number | null)
/**
 * What it would reach if it were forgotten; null: no heat model is used.
 */
peak?: (PourPeak | null)
/**
 * What temperatures and masses were taken, in sentences.
 */
rests_on: string[]
/**
 * In one sentence: "Use it up within 62 min".
 */
said: string
/**
 * What to beware of, the worst first.
 */
warnings: PourWarning[]
/**
 * The same glue put otherwise; empty: no heat model is used.
 */
ways: PourWay[]
/**
 * What the ways are worth, in one sentence.
 */
ways_said?: (string | null)
/**
 * "150 g in a cup".
 */
what: string
}
/**
 * A name and an id.
 */
export interface Named2 {
/**
 * Id.
 */
id: string
/**
 * Name.
 */
name: string
}
/**
 * Where a forgotten cup goes.
 */
export interface PourPeak {
/**
 * When, whole minutes after the hardener went in.
 */
minutes: number
/**
 * Hottest, millikelvin.
 */
mk: number
/**
 * In words.
 */
said: string
}
/**
 * One warning.
 */
export interface PourWarning {
/**
 * In words.
 */
said: string
/**
 * In a few words: "left standing: smoke, foam and fire".
 */
short: string
/**
 * `heat` or `doubt`.
 */
tone: string
}
/**
 * The same glue put otherwise.
 */
export interface PourWay {
/**
 * Longer or shorter than as it stands, whole per cent; null: one of the two never gets there.
 */
gain_percent?: (number | null)
/**
 * By the model, whole minutes; null: it never gets there.
 */
minutes?: (number | null)
/**
 * In words.
 */
said: string
/**
 * `tray`, `two-cups` or `cup`.
 */
way: string
}
/**
 * What the next act would inherit, and the names it may use.
 */
export interface SessionAnswer {
/**
 * Card of this person's last mix within four hours; null: none.
 */
card?: (Named1 | null)
/**
 * Cans, those confirmed in this session first.
 */
containers: SessionCan[]
/**
 * Names of instruments.
 */
instruments: string[]
/**
 * Wood moisture a bond without one gets; null: none measured within four hours.
 */
moisture?: (SessionMoisture | null)
/**
 * Names of people.
 */
people: string[]
/**
 * Who acts: the one asked for, else who acted last within four hours; null: nobody.
 */
person?: (Named1 | null)
/**
 * Place an act without one gets; null: none.
 */
place?: (Named1 | null)
/**
 * In words where the place comes from.
 */
place_said?: (string | null)
/**
 * Names of places.
 */
places: string[]
}
/**
 * A can that may be mixed from.
 */
export interface SessionCan {
/**
 * Card, by name.
 */
card: string
/**
 * The card's id.
 */
card_id: string
/**
 * Used by this person within four hours, so that a mix of this card without cans takes it.
 */
confirmed: boolean
/**
 * Id.
 */
id: string
/**
 * Lot, by mark.
 */
lot: string
/**
 * Mark.
 */
mark: string
/**
 * `resin`, `hardener`, `filler`.
 */
role: string
/**
 * In words.
 */
said: string
}
/**
 * Wood moisture that is inherited.
 */
export interface SessionMoisture {
/**
 * Age, ms.
 */
age_ms: number
/**
 * "measured 3 h ago on pile 4".
 */
said: string
/**
 * As typed: "9.8 %".
 */
value: string
}
/**
 * Everything in the stores.
 */
export interface StoresAnswer {
/**
 * Instant judged.
 */
at: string
/**
 * Cards; a revised one stands after the one that revises it.
 */
cards: StoreCard[]
/**
 * Instruments.
 */
instruments: StoreInstrument[]
/**
 * Kinds.
 */
kinds: StoreKind[]
/**
 * Lots, in order of making.
 */
lots: StoreLot[]
/**
 * People.
 */
people: Named1[]
/**
 * Places.
 */
places: StorePlace[]
}
/**
 * An adhesive card in words.
 */
export interface StoreCard {
/**
 * What to mind with this card, in sentences.
 */
cautions: string[]
/**
 * Class.
 */
class: string
/**
 * What else the sheet says, and what is taken where it says nothing.
 */
facts: StoreFact[]
/**
 * Id.
 */
id: string
/**
 * Its times, clock by clock.
 */
limits: StoreLimit[]
/**
 * Name.
 */
name: string
/**
 * `sheet`, `handbook`, `class`.
 */
origin: string
/**
 * "100:44 by weight ±5 %".
 */
ratio: string
/**
 * Id of the card that revises it; null: it is the newest.
 */
revised_by?: (string | null)
/**
 * From 1: how many cards stand in its chain of revisions up to it.
 */
revision: number
/**
 * Its entry's number.
 */
seq: number
}
/**
 * One fact of a card.
 */
export interface StoreFact {
/**
 * The sheet does not say it: a preset of the class, or the safe reading of nothing.
 */
assumed: boolean
/**
 * What.
 */
label: string
/**
 * Value; null: not recorded.
 */
value?: (string | null)
}
/**
 * The times of a card for one clock.
 */
export interface StoreLimit {
/**
 * The sheet does not say what they are counted from.
 */
assumed: boolean
/**
 * For bent or sprung joints.
 */
bent: boolean
/**
 * Clock.
 */
clock: string
/**
 * In words what they are counted from.
 */
counted_from: string
/**
 * By what it was judged; null: not recorded.
 */
judged_by?: (string | null)
/**
 * The sheet's numbers: "10 h at 20 °C".
 */
stated: string[]
/**
 * In a word: "Clamps".
 */
word: string
}
/**
 * An instrument.
 */
export interface StoreInstrument {
/**
 * Id.
 */
id: string
/**
 * Name.
 */
name: string
/**
 * "step 0.1 g; accuracy not recorded".
 */
said: string
/**
 * It is a scale.
 */
weighs: boolean
}
/**
 * A kind of part.
 */
export interface StoreKind {
/**
 * Presses, planned pressure, clamping time, bent, hottest in service.
 */
facts: StoreFact[]
/**
 * Id.
 */
id: string
/**
 * Mark.
 */
mark: string
/**
 * Its entry's number.
 */
seq: number
/**
 * "first face: 21 joints, 252 cm²".
 */
stages: string[]
}
/**
 * A lot.
 */
export interface StoreLot {
/**
 * Card, by name.
 */
card: string
/**
 * Cans.
 */
containers: StoreCan[]
/**
 * Good until; null: not recorded.
 */
expires?: (string | null)
/**
 * Given in all mixes.
 */
given: string
/**
 * Id.
 */
id: string
/**
 * What its cans held less what they gave; null: not known.
 */
left?: (string | null)
/**
 * Mark.
 */
mark: string
/**
 * Parts it went into.
 */
parts: number
/**
 * Received; null: not recorded.
 */
received?: (string | null)
/**
 * `resin`, `hardener`, `filler`.
 */
role: string
/**
 * In words.
 */
said: string
/**
 * Its entry's number.
 */
seq: number
/**
 * "in use", "expired", "expires in 12 days", "no expiry recorded".
 */
state: string
/**
 * `plain`, `doubt` (no date, or within 30 days), `heat` (expired).
 */
tone: string
}
/**
 * A can.
 */
export interface StoreCan {
/**
 * Given in mixes where it was the only can of its role.
 */
given: string
/**
 * What it held when new; null: not recorded.
 */
holds?: (string | null)
/**
 * Id.
 */
id: string
/**
 * What it held less what it gave; null: not known.
 */
left?: (string | null)
/**
 * Mark.
 */
mark: string
/**
 * Opened; null: not recorded.
 */
opened?: (string | null)
/**
 * Its entry's number.
 */
seq: number
/**
 * Place where it stands; null: not recorded.
 */
stored?: (string | null)
}
/**
 * A place.
 */
export interface StorePlace {
/**
 * A feed of readings is promised.
 */
feed: boolean
/**
 * The place whose air it heats, by name.
 */
heated_from?: (string | null)
/**
 * Id.
 */
id: string
/**
 * Name.
 */
name: string
}
/**
 * Everything recorded about one part.
 */
export interface TraceAnswer {
/**
 * Its bonds, in the order they were made.
 */
bonds: BondAnswer[]
checkpoint: CheckpointAnswer1
/**
 * Entries about the part that belong to none of its bonds.
 */
entries: EntryLine[]
/**
 * What to look at first, heaviest first; each names its entry.
 */
look_at_first: string[]
/**
 * What is not recorded: "bond 47: squeeze-out".
 */
not_recorded: string[]
part: PartAnswer
}
/**
 * One bond of a part.
 */
export interface BondAnswer {
/**
 * Alarms recorded.
 */
alarms: AlarmLine[]
/**
 * Batches, in the order they were spread.
 */
batches: BatchLine[]
/**
 * Clocks.
 */
clocks: ClockAnswer[]
cured: CuredAnswer
/**
 * What was decided.
 */
decisions: DecisionLine[]
/**
 * What the air of a heated place did to the wood, stay by stay.
 */
dried: DriedAnswer[]
/**
 * Put together dry before, clamps counted; null: not recorded.
 */
dry_run?: (boolean | null)
/**
 * Every entry about it, its batches and its lots, in order.
 */
entries: EntryLine[]
/**
 * Its entry.
 */
entry: string
/**
 * Everything found, settled or not.
 */
findings: FindingAnswer[]
/**
 * Its name.
 */
id: string
/**
 * Joints, "R3-L/gusset 4".
 */
joints: string[]
/**
 * Its assembly and its cure as glue lines, with the temperature; what never began has none.
 */
lines: GlueLine1[]
/**
 * Moisture of the wood.
 */
moisture?: (TakenAnswer | null)
/**
 * What is owed, in sentences.
 */
owed: string[]
/**
 * People, by name, sorted.
 */
people: string[]
/**
 * Where it stood: place, from when.
 */
places: PlaceLine[]
/**
 * Presses, in time.
 */
presses: PressLine[]
/**
 * Pressure as planned or measured.
 */
pressure?: (PressureAnswer | null)
readings: ReadingsAnswer
/**
 * Reasons given.
 */
reasons: ReasonLine[]
/**
 * `all-round`, `not-all-round`, `cannot-see`; null: not recorded.
 */
squeeze_out?: (string | null)
/**
 * Stage.
 */
stage?: (string | null)
/**
 * `clear`, `held`, `running`.
 */
state: string
/**
 * Faces made fresh.
 */
surfaces: SurfaceLine[]
}
/**
 * A batch in a bond.
 */
export interface BatchLine {
/**
 * Local day.
 */
day: string
/**
 * Taken from, along the joint.
 */
from?: (string | null)
/**
 * Its entry's id.
 */
id: string
/**
 * Lots.
 */
lots: LotLine[]
/**
 * Its name, "Tue 3".
 */
name: string
/**
 * What the ratio that was mixed means for the cured glue, in one sentence; null: the card has no equivalents, or
 * not everything was weighed.
 */
off_ratio?: (string | null)
/**
 * To, along the joint.
 */
to?: (string | null)
/**
 * Ratio verdict: `within`, `outside`, `cannot-tell`, `none`.
 */
verdict: string
}
/**
 * How cured, by model and not by test; it changes no state.
 */
export interface CuredAnswer {
/**
 * Counted until; null: it cannot be told.
 */
at?: (string | null)
/**
 * What the service asks for and this does not give; null: nothing.
 */
caution?: (string | null)
/**
 * Share reacted in whole per cent, 99 at most; null: it cannot be told.
 */
conversion_pct?: (number | null)
/**
 * In the reader's units: "29 °C".
 */
glass?: (string | null)
/**
 * Glass transition, greatest, mk.
 */
glass_high_mk?: (number | null)
/**
 * Glass transition, least, mk.
 */
glass_low_mk?: (number | null)
/**
 * What it rests on; first who decides.
 */
rests_on: string[]
/**
 * In words, or why it cannot be told.
 */
said: string
/**
 * The hottest in service that was named for any of its parts, in the reader's units; null: none was.
 */
service?: (string | null)
/**
 * Only warmth takes it further.
 */
stalled: boolean
/**
 * The warmest the glue line was, in the reader's units.
 */
warmest?: (string | null)
}
/**
 * A decision.
 */
export interface DecisionLine {
/**
 * When.
 */
at: string
/**
 * Findings it settled.
 */
found: string[]
/**
 * Who, by name.
 */
person?: (string | null)
/**
 * Entry's number.
 */
seq: number
/**
 * `accepted`, `rejected`, `redo`.
 */
verdict: string
/**
 * Why.
 */
why?: (string | null)
}
/**
 * What the air of a heated place did to the wood.
 */
export interface DriedAnswer {
/**
 * That is far drier than the wood, or than the card allows; null: it is not.
 */
caution?: (string | null)
/**
 * The place whose air it heats.
 */
heated_from: string
/**
 * How long it was there.
 */
hours: string
/**
 * Humidity there, %; null: the humidity of the air outside is not recorded.
 */
humidity_pct?: (number | null)
/**
 * The heated place.
 */
place: string
/**
 * In words.
 */
said: string
/**
 * What wood would settle at there, ppm.
 */
settles_ppm?: (number | null)
}
/**
 * One entry in a trace.
 */
export interface EntryLine {
/**
 * Original it replaces.
 */
corrects?: (string | null)
/**
 * When it was entered.
 */
entered: string
/**
 * When it happened.
 */
happened: string
/**
 * Id.
 */
id: string
/**
 * Kind.
 */
kind: string
/**
 * Entered more than a minute after it happened.
 */
late: boolean
/**
 * Log.
 */
log: string
/**
 * Who, by name.
 */
person?: (string | null)
/**
 * Number.
 */
seq: number
/**
 * Why.
 */
why?: (string | null)
/**
 * Withdrawn later.
 */
withdrawn: boolean
}
/**
 * A finding.
 */
export interface FindingAnswer {
/**
 * Stable key: `over:pot`.
 */
key: string
/**
 * In words.
 */
sentence: string
/**
 * Settled by a value, a reason or a decision.
 */
settled: boolean
}
/**
 * Clocks of one stage drawn as a band of glue that fills from the left. Every `x` is a whole number of millionths of
 * the drawn width, 0 to 1 000 000; the time axis is linear.
 */
export interface GlueLine1 {
/**
 * The band from left to right: sorted, without overlap, without gap.
 */
boxes: LineBox[]
/**
 * Instant at the left edge.
 */
from: string
/**
 * Walls, gates and presses, from left to right.
 */
marks: LineMark[]
/**
 * Now; null: outside the drawing.
 */
now?: (number | null)
/**
 * `assembly`: hardener in to all tight. `cure`: all tight to the next gate or gates.
 */
stage: string
/**
 * Temperatures of the place over the same axis; null: not asked for, or none recorded.
 */
temperature?: (LineTemperature | null)
/**
 * Instant at the right edge.
 */
to: string
/**
 * The whole meaning in one or two sentences.
 */
words: string
}
/**
 * A value with its source and age.
 */
export interface TakenAnswer {
/**
 * Age when taken, ms.
 */
age_ms?: (number | null)
/**
 * ppm.
 */
ppm: number
/**
 * In words: "moisture 9.8 %, measured 3 h ago".
 */
said: string
/**
 * Source entry, when inherited.
 */
source?: (string | null)
/**
 * As typed.
 */
value: string
}
/**
 * A stay at a place.
 */
export interface PlaceLine {
/**
 * From; null: from the start.
 */
from?: (string | null)
/**
 * Place.
 */
place: string
/**
 * Where the value came from: "said 20 min before in entry 12".
 */
source?: (string | null)
}
/**
 * A press.
 */
export interface PressLine {
/**
 * When.
 */
at: string
/**
 * Entered late.
 */
late: boolean
/**
 * Who, by name.
 */
person?: (string | null)
/**
 * Press.
 */
press: string
/**
 * What the clocks said then: "clamp: running, 41.2 %".
 */
said_then: string[]
/**
 * Seen.
 */
seen?: (string | null)
/**
 * Entry's number.
 */
seq: number
}
/**
 * Pressure.
 */
export interface PressureAnswer {
/**
 * Planned pressure confirmed by a press.
 */
as_planned: boolean
/**
 * As measured.
 */
measured?: (string | null)
/**
 * As planned by the kind.
 */
planned?: (string | null)
}
/**
 * Readings used.
 */
export interface ReadingsAnswer {
/**
 * Digests of the blocks, hex, sorted.
 */
blocks: string[]
/**
 * Hand readings, by entry id, in time.
 */
by_hand: string[]
/**
 * Stretches of more than two hours without a reading.
 */
gaps: Gap[]
/**
 * Highest met in the reader's units.
 */
highest?: (string | null)
/**
 * Highest met, mk; null: no readings.
 */
highest_mk?: (number | null)
/**
 * Lowest met in the reader's units: "18.2 °C".
 */
lowest?: (string | null)
/**
 * Lowest met, mk; null: no readings.
 */
lowest_mk?: (number | null)
}
/**
 * A stretch without readings.
 */
export interface Gap {
/**
 * From.
 */
from: string
/**
 * To.
 */
to: string
}
/**
 * A reason.
 */
export interface ReasonLine {
/**
 * When.
 */
at: string
/**
 * Findings it settles.
 */
of: string[]
/**
 * Who, by name.
 */
person?: (string | null)
/**
 * Entry's number.
 */
seq: number
/**
 * Text.
 */
text: string
}
/**
 * Faces made fresh.
 */
export interface SurfaceLine {
/**
 * When.
 */
at: string
/**
 * How.
 */
how?: (string | null)
/**
 * Joints or parts.
 */
of: string[]
/**
 * Entry's number.
 */
seq: number
}
/**
 * The own log's size and root.
 */
export interface CheckpointAnswer1 {
/**
 * Log.
 */
log: string
/**
 * Root, base64.
 */
root: string
/**
 * Entries.
 */
size: number
}
/**
 * The part.
 */
export interface PartAnswer {
/**
 * Assembly.
 */
assembly?: (string | null)
/**
 * Id.
 */
id: string
/**
 * Kind, by mark.
 */
kind?: (string | null)
/**
 * Mark.
 */
mark: string
}
/**
 * What verify found.
 */
export interface VerifyAnswer {
/**
 * What it cannot show.
 */
cannot_show: string[]
/**
 * Depth.
 */
depth: string
/**
 * Findings.
 */
found: VerifyFound[]
/**
 * Logs.
 */
logs: HeadLine[]
/**
 * Nothing found.
 */
ok: boolean
}
/**
 * One thing verify found.
 */
export interface VerifyFound {
/**
 * Log; null: the file itself.
 */
log?: (string | null)
/**
 * In words.
 */
sentence: string
/**
 * Entry's number; null: not about one entry.
 */
seq?: (number | null)
/**
 * What.
 */
what: string
}
/**
 * Every part a lot went into.
 */
export interface WhereUsedAnswer {
/**
 * Batches it went into, with those that reached no part.
 */
batches: UsedBatch[]
/**
 * Its id.
 */
id: string
/**
 * Lot, by mark.
 */
lot: string
/**
 * Parts, by mark.
 */
parts: UsedPart[]
}
/**
 * A batch a lot went into.
 */
export interface UsedBatch {
/**
 * Bonds, by name.
 */
bonds: string[]
/**
 * `mix`, `top-up`, `filler`.
 */
by: string[]
/**
 * Day.
 */
day: string
/**
 * Id.
 */
id: string
/**
 * Name.
 */
name: string
}
/**
 * A part a lot went into.
 */
export interface UsedPart {
/**
 * Bonds, by name.
 */
bonds: string[]
/**
 * Id.
 */
id: string
/**
 * Mark.
 */
mark: string
/**
 * In words: "joints a, b; batch Tue 3 (hardener)".
 */
where: string
}
/**
 * What can be glued next.
 */
export interface WorkAnswer {
/**
 * Instant judged.
 */
at: string
/**
 * Kinds with their stages, in order of making.
 */
kinds: WorkKind[]
/**
 * Parts with joints of their own, beyond their kind.
 */
loose: WorkLoose[]
}
/**
 * A kind of part.
 */
export interface WorkKind {
/**
 * Id.
 */
id: string
/**
 * Mark.
 */
kind: string
/**
 * Stages, in order.
 */
stages: WorkStage[]
}
/**
 * A stage of a kind.
 */
export interface WorkStage {
/**
 * Parts still open.
 */
open: number
/**
 * Parts of the kind, in order of making.
 */
parts: WorkPart[]
/**
 * "6 of 18 parts to glue, 22 joints each".
 */
said: string
/**
 * Mark.
 */
stage: string
}
/**
 * A part at a stage.
 */
export interface WorkPart {
/**
 * Their area; null: an area is not recorded.
 */
area?: (string | null)
/**
 * The same in mm².
 */
area_mm2?: (number | null)
/**
 * Those bonds, by name.
 */
bonds: string[]
/**
 * Id.
 */
id: string
/**
 * Joints of this stage that are in no bond yet; when glued, all of the stage.
 */
joints: number
/**
 * Mark.
 */
mark: string
/**
 * `glued`: every joint of the stage is in a bond that was not rejected. Else `open`.
 */
state: string
}
/**
 * A part with joints of its own.
 */
export interface WorkLoose {
/**
 * Id.
 */
id: string
/**
 * Joints, in order of making.
 */
joints: WorkJoint[]
/**
 * Mark.
 */
mark: string
}
/**
 * A joint of a part's own.
 */
export interface WorkJoint {
/**
 * Area; null: not recorded.
 */
area?: (string | null)
/**
 * Bonds it is in, by name.
 */
bonds: string[]
/**
 * Mark.
 */
mark: string
/**
 * Sort; null: not recorded.
 */
sort?: (string | null)
/**
 * `open` or `glued`.
 */
state: string
/**
 * Total thickness; null: not recorded.
 */
thickness?: (string | null)
}
/**
 * At most one of the three.
 */
export interface Clocks {
/**
 * Batch, by name or id: its pot alone.
 */
batch?: (string | null)
/**
 * Bond, by number or id.
 */
bond?: (string | null)
/**
 * Part, by mark or id: clocks of all its bonds.
 */
part?: (string | null)
}
/**
 * A part.
 */
export interface Trace {
/**
 * By mark or id.
 */
part: string
}
/**
 * A lot.
 */
export interface WhereUsed {
/**
 * By mark or id.
 */
lot: string
}
/**
 * How deep, and against what.
 */
export interface Verify {
/**
 * Text of a checkpoint file held outside: log, size, base64 root, one a line.
 */
checkpoint?: (string | null)
/**
 * `bytes` (preset), `meaning`, `rebuild`.
 */
depth?: (string | null)
}
/**
 * No fields.
 */
export interface Nothing {

}
/**
 * Which noun.
 */
export interface List {
/**
 * `person`, `place`, `instrument`, `card`, `lot`, `container`, `kind`, `set`, `part`, `batch`, `bond`.
 */
of: string
}
/**
 * One entry: by id, or by its number in a log.
 */
export interface EntryAsked {
/**
 * Id.
 */
id?: (string | null)
/**
 * Log; absent: the own one.
 */
log?: (string | null)
/**
 * Number, from 0.
 */
seq?: (number | null)
}
/**
 * A batch.
 */
export interface BatchAsked {
/**
 * By name ("Tue 3", "Tue 3 2026-11-24") or id.
 */
batch: string
}
/**
 * Exactly one of total, resin and hardener, as typed with its unit ("60 g", "100 ml").
 */
export interface Amounts {
/**
 * Card, by name or id.
 */
card: string
/**
 * Empty cup on the scale: running totals start there.
 */
cup?: (string | null)
/**
 * Hardener at hand.
 */
hardener?: (string | null)
/**
 * Scale, by name or id; absent: the book's only one.
 */
instrument?: (string | null)
/**
 * Resin at hand.
 */
resin?: (string | null)
/**
 * Both together.
 */
total?: (string | null)
}
/**
 * A mix that has not happened.
 */
export interface Gate {
/**
 * Card, by name or id; absent: the lots'.
 */
card?: (string | null)
/**
 * Cans, by mark or id.
 */
containers?: string[]
/**
 * Lots, by mark or id.
 */
lots?: string[]
/**
 * Place, by name or id; absent: the book's only place.
 */
place?: (string | null)
}
/**
 * A cup that is not poured yet: `card` with `mass`, or with resin and hardener, as typed with their units; or one that
 * stands: `batch`, with the temperature of the glue in it where somebody measured it.
 */
export interface Pour {
/**
 * A batch that stands, by name or id.
 */
batch?: (string | null)
/**
 * Card, by name or id.
 */
card?: (string | null)
/**
 * Cans, by mark or id: how warm they stand.
 */
containers?: string[]
/**
 * Hardener.
 */
hardener?: (string | null)
/**
 * Both together: "150 g".
 */
mass?: (string | null)
/**
 * Temperature of the glue in it now: "38 C".
 */
measured?: (string | null)
/**
 * Place, by name or id; absent: the book's only place.
 */
place?: (string | null)
/**
 * Resin.
 */
resin?: (string | null)
/**
 * Temperature of the components; absent: the air where the cans stand, else the air of the place.
 */
start_temperature?: (string | null)
/**
 * `cup` (preset), or `tray:6mm`, 1 to 100 mm.
 */
vessel?: (string | null)
}
/**
 * A post-cure that has not happened.
 */
export interface PostCure {
/**
 * Bond, by number or id.
 */
bond: string
/**
 * Faces of the wood in the warm air: 2 (preset), or 1.
 */
faces?: (number | null)
/**
 * Hottest in service, "55 C"; absent: what its parts or their kinds name.
 */
service?: (string | null)
/**
 * Temperature of the tent or box, "60 C".
 */
to: string
}
/**
 * A calculation and its inputs.
 */
export interface FigureAsked {
/**
 * Its name: `dew-point`.
 */
figure: string
/**
 * Inputs by name, each as typed with its unit ("70F"), a number in the unit its help names, or a list of such.
 */
inputs?: {
[k: string]: unknown | undefined
}
/**
 * Also how to show it: in words, as a table, as a picture.
 */
show?: boolean
}
/**
 * Whose session.
 */
export interface SessionAsked {
/**
 * Person, by name or id; absent: who acted last within four hours.
 */
person?: (string | null)
}
/**
 * Which page of the entries.
 */
export interface EntriesAsked {
/**
 * Only entries that name this: a part by mark, `bond:47`, `batch:Tue 3`, `lot:R-118`, `place:bench`, or an id.
 */
about?: (string | null)
/**
 * Only entries with a smaller number; absent: from the newest.
 */
before?: (number | null)
/**
 * Only entries of this kind: `press`.
 */
kind?: (string | null)
/**
 * Most entries on the page, 1 to 500; absent: 50.
 */
limit?: (number | null)
/**
 * Log; absent: the own one.
 */
log?: (string | null)
}
