//! Nonsense in every box of every form: what was typed stays, a sentence in words stands beside the box, the keyboard
//! goes there, and nothing is saved nor shown as saved.

use super::shop;
use super::window::{Hand, Window};
use serde_json::{Value, json};

/// One thing typed wrong.
struct Wrong {
    room: &'static str,
    /// What is typed, box by box.
    typed: &'static [(&'static str, &'static str)],
    /// What sends it.
    send: &'static str,
    /// The box that has to say what is wrong.
    blamed: &'static str,
}

/// A box by its name.
fn field(name: &str) -> String {
    format!("[data-field='{name}']")
}

/// 201 characters: a mark takes 200.
const LONG: &str = "xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx";
/// Written from right to left from the unseen character on.
const TURNED: &str = "R\u{202E}L-1";

const READING: (&str, &[&str], &str) = ("bench", &["[data-press='new-reading']"], "[data-press='reading']");
const FILE: (&str, &[&str], &str) =
    ("bench", &["[data-press='new-reading']", "dialog [data-side='file']"], "[data-press='readings-file']");
const VOUCH: (&str, &[&str], &str) =
    ("bench", &["[data-press='new-reading']", "dialog [data-side='vouch']"], "[data-press='vouch']");
const FORECAST: (&str, &[&str], &str) =
    ("bench", &["[data-press='new-reading']", "dialog [data-side='forecast']"], "[data-press='forecast']");
const NIGHT: (&str, &[&str], &str) = (
    "bench",
    &["[data-press='new-reading']", "dialog [data-side='forecast']", "dialog [data-field='shape'][value='setback']"],
    "[data-press='forecast']",
);
const CARD: (&str, &[&str], &str) = ("stores", &["[data-press='new-card']"], "[data-press='card']");
const LOT: (&str, &[&str], &str) =
    ("stores", &["[data-section='lots']", "[data-press='new-lot']"], "[data-press='lot']");
const CAN: (&str, &[&str], &str) = ("stores", &["[data-section='lots']", "[data-press='can']"], "[data-press='lot']");
const KIND: (&str, &[&str], &str) =
    ("stores", &["[data-section='kinds']", "[data-press='new-kind']"], "[data-press='kind']");
const OF_KIND: (&str, &[&str], &str) =
    ("stores", &["[data-section='kinds']", "[data-press='make-parts']"], "[data-press='set']");
const PERSON: (&str, &[&str], &str) = ("stores", &["[data-section='shop']"], "[data-press='person']");
const PLACE: (&str, &[&str], &str) = ("stores", &["[data-section='shop']"], "[data-press='place']");
const INSTRUMENT: (&str, &[&str], &str) = ("stores", &["[data-section='shop']"], "[data-press='instrument']");
const MIX_PART: (&str, &[&str], &str) = ("mix", &["[data-press='new-part']"], "[data-press='part']");
const MIX: (&str, &[&str], &str) = ("mix", &["[data-press='next-batch']"], "[data-press='mix']");
const THROWN: (&str, &[&str], &str) = (
    "mix",
    &["[role=group][aria-label='Batch'] [data-row]", "[data-press='more-throw-away']"],
    "[data-press='throw-away']",
);
const PART: (&str, &[&str], &str) = ("parts", &["[data-press='new-part']"], "[data-press='part']");
const SET: (&str, &[&str], &str) = ("parts", &["[data-press='new-set']"], "[data-press='set']");
const SAMPLE: (&str, &[&str], &str) =
    ("parts", &["[data-row='R1-L']", "details:has([data-press='sample']) summary"], "[data-press='sample']");
const SETTLE: (&str, &[&str], &str) = ("owed", &["[data-press='settle-one']"], "[data-press='settle']");
const CORRECT: (&str, &[&str], &str) =
    ("record", &["main [data-row] .what", "[data-press='open-correct']"], "[data-press='correct']");
const WITHDRAW: (&str, &[&str], &str) =
    ("record", &["main [data-row] .what", "[data-press='open-withdraw']"], "[data-press='withdraw']");
const ENTRIES: (&str, &[&str], &str) = ("record", &[], "[data-press='show-entries']");
const FORGOTTEN: (&str, &[&str], &str) = ("record", &["[data-side='forgotten']"], "[data-press='late']");
const CHECKPOINT: (&str, &[&str], &str) = ("record", &["[data-side='checks']"], "[data-press='checkpoint-file']");
const GIVEN: (&str, &[&str], &str) = ("record", &["[data-side='checks']"], "[data-press='checkpoint-given']");
const VERIFY: (&str, &[&str], &str) = ("record", &["[data-side='checks']"], "[data-press='verify']");
const FIGURE: (&str, &[&str], &str) = ("figures", &["main [data-row='dew-point']"], "[data-press='figure']");
const NAME: (&str, &[&str], &str) = ("machine", &[], "[data-press='person']");

type Form = (&'static str, &'static [&'static str], &'static str);
type Typed = &'static [(&'static str, &'static str)];

/// A form, what is typed into its boxes, and the box to blame.
const ALL: &[(Form, Typed, &str)] = &[
    (READING, &[("temperature", "warm")], "temperature"),
    (READING, &[("temperature", "20 kg")], "temperature"),
    (READING, &[("temperature", "😀")], "temperature"),
    (READING, &[], "temperature"),
    (READING, &[("temperature", "20"), ("humidity", "140")], "humidity"),
    (READING, &[("temperature", "20"), ("wood", "-3")], "wood"),
    (READING, &[("temperature", "20"), ("lowest_since", "hot")], "lowest_since"),
    (FILE, &[], "path"),
    (FILE, &[("path", "/nowhere/logger.csv")], "path"),
    (FILE, &[("path", "/")], "path"),
    (VOUCH, &[], "floor"),
    (VOUCH, &[("floor", "warm"), ("until", "06:00")], "floor"),
    (VOUCH, &[("floor", "16"), ("until", "someday")], "until"),
    (VOUCH, &[("floor", "16"), ("until", "06:00"), ("from", "31:00")], "from"),
    (FORECAST, &[], "at"),
    (FORECAST, &[("at", "warm")], "at"),
    (FORECAST, &[("at", "20"), ("until", "someday")], "until"),
    (NIGHT, &[("day", "20"), ("night", "12"), ("from", "late"), ("to", "06:00")], "from"),
    (NIGHT, &[("day", "20"), ("night", "12"), ("from", "22:00"), ("to", "06:00"), ("ramp", "9 h")], "ramp"),
    (CARD, &[], "name"),
    (CARD, &[("name", LONG)], "name"),
    (CARD, &[("name", "nonsense")], "class"),
    (LOT, &[], "mark"),
    (LOT, &[("mark", "MADE-UP-ER-7")], "mark"),
    (LOT, &[("mark", TURNED)], "mark"),
    (LOT, &[("mark", "N-1"), ("expires", "someday")], "expires"),
    (LOT, &[("mark", "N-1"), ("expires", "2027-02-30")], "expires"),
    (LOT, &[("mark", "N-1"), ("received", "2199-01-01")], "received"),
    (CAN, &[("can.mark", "can ER-1")], "can.mark"),
    (CAN, &[("can.mark", "can N"), ("can.holds", "1 km")], "can.holds"),
    (CAN, &[("can.mark", "can N"), ("can.holds", "-5")], "can.holds"),
    (KIND, &[], "mark"),
    (KIND, &[("mark", "rib")], "mark"),
    (KIND, &[("mark", "N kind")], "stages[0].mark"),
    (KIND, &[("mark", "N kind"), ("stages[0].mark", "all")], "stages[0].joints"),
    (
        KIND,
        &[("mark", "N kind"), ("stages[0].mark", "all"), ("stages[0].joints", "j"), ("clamping", "soon")],
        "clamping",
    ),
    (KIND, &[("mark", "N kind"), ("stages[0].mark", "all"), ("stages[0].joints", "j"), ("pressure", "-3")], "pressure"),
    (
        KIND,
        &[
            ("mark", "N kind"),
            ("stages[0].mark", "all"),
            ("stages[0].joints", "j"),
            ("stages[0].joints[0].area", "20 kg"),
        ],
        "stages[0].joints[0].area",
    ),
    (OF_KIND, &[], "marks"),
    (OF_KIND, &[("marks", "N1, R1-L")], "marks"),
    (OF_KIND, &[("marks", "N1, N1")], "marks"),
    (PERSON, &[("person.name", "Ada Invented")], "person.name"),
    (PERSON, &[], "person.name"),
    (PLACE, &[("place.name", TURNED)], "place.name"),
    (INSTRUMENT, &[("instrument.name", "scale N")], "instrument.step"),
    (INSTRUMENT, &[("instrument.name", "scale N"), ("instrument.step", "wide")], "instrument.step"),
    (
        INSTRUMENT,
        &[("instrument.name", "scale N"), ("instrument.step", "0.1 g"), ("instrument.accuracy", "-1 g")],
        "instrument.accuracy",
    ),
    (MIX_PART, &[("part.mark", "R1-L")], "part.mark"),
    (MIX_PART, &[("part.mark", LONG)], "part.mark"),
    (MIX, &[("resin", "-41")], "resin"),
    (MIX, &[("resin", "41.7"), ("hardener", "18 C")], "hardener"),
    (MIX, &[("resin", "41.7"), ("hardener", "18,3,1")], "hardener"),
    (MIX, &[("start_temperature", "warm")], "start_temperature"),
    (THROWN, &[("mass", "lots")], "mass"),
    (THROWN, &[], "mass"),
    (PART, &[("mark", "R1-L")], "mark"),
    (PART, &[("mark", LONG)], "mark"),
    (PART, &[], "mark"),
    (SET, &[("marks", "N1, N2")], "kind"),
    (SETTLE, &[], "verdict"),
    (ENTRIES, &[("about", "nonsense:thing")], "about"),
    (FORGOTTEN, &[("happened", "")], "happened"),
    (FORGOTTEN, &[("happened", "yesterday")], "happened"),
    (CORRECT, &[("was.happened", "2199-01-01 12:00"), ("was.why", "a test")], "was.happened"),
    (CORRECT, &[("was.happened", "00:00")], "was.why"),
    (WITHDRAW, &[], "why"),
    (CHECKPOINT, &[("path", "nonsense.txt")], "path"),
    (GIVEN, &[], "given.to"),
    (VERIFY, &[("checkpoint", "nonsense")], "checkpoint"),
    (SAMPLE, &[], "sample.load"),
    (SAMPLE, &[("sample.load", "hard"), ("sample.width", "20"), ("sample.length", "25")], "sample.load"),
    (SAMPLE, &[("sample.load", "3500"), ("sample.width", "-2"), ("sample.length", "25")], "sample.width"),
    (FIGURE, &[("temperature", "warm"), ("humidity", "50")], "temperature"),
    (FIGURE, &[("temperature", "20"), ("humidity", "140")], "humidity"),
    (FIGURE, &[("temperature", "20"), ("humidity", "50 kg")], "humidity"),
    (NAME, &[("person.name", "Ada Invented")], "person.name"),
    (NAME, &[("person.name", TURNED)], "person.name"),
];

/// What the page says about a box: its value, whether it has the keyboard, the sentence and how far it stands, px.
fn said(window: &Window, name: &str) -> Value {
    window.js(
        "const all = [...document.querySelectorAll('[data-field]')].filter(e => e.dataset.field === arguments[0] && e.getClientRects().length); \
         const e = all.find(one => one.getAttribute('aria-invalid') === 'true') ?? all[0]; if (!e) return { box: false }; \
         const marked = e.getAttribute('aria-invalid') === 'true' ? e : e.closest('[aria-invalid=true]'); \
         if (!marked) return { box: true, told: '' }; \
         const told = (marked.getAttribute('aria-describedby') ?? '').split(' ').map(id => document.getElementById(id)).find(one => one?.classList.contains('error')); \
         const [a, b] = [marked.getBoundingClientRect(), told?.getBoundingClientRect()]; \
         return { box: true, value: e.type === 'radio' ? '' : e.value, focus: all.includes(document.activeElement), told: told?.textContent ?? '', \
           apart: b ? Math.max(0, b.top - a.bottom, a.top - b.bottom) : 9999 }",
        vec![json!(name)],
    )
}

/// Size of the log, and what the foot says was saved.
fn kept(window: &Window) -> (Value, Value) {
    let script = "const done = arguments[arguments.length - 1]; \
        window.__TAURI_INTERNALS__.invoke('ask', { question: { ask: 'head', body: {} } }).then(head => done(head.logs[0].size), why => done(JSON.stringify(why)))";
    (
        window.js_later(script, vec![]),
        window.js("return document.querySelector('[data-saved] [role=status]')?.textContent", vec![]),
    )
}

/// Sends what stands in the form and gives what is amiss with how it is refused.
fn refused(window: &mut Window, wrong: &Wrong) -> Option<String> {
    let before = kept(window);
    for (name, text) in wrong.typed {
        window.put(&format!("main {0}, dialog {0}", field(name)), text);
    }
    window.press(wrong.send);
    let start = std::time::Instant::now();
    let mut now = said(window, wrong.blamed);
    while now["told"].as_str().unwrap_or_default().is_empty() && start.elapsed().as_secs() < 5 {
        std::thread::sleep(std::time::Duration::from_millis(40));
        now = said(window, wrong.blamed);
    }
    let typed = wrong.typed.iter().find(|(name, _)| *name == wrong.blamed).map_or("", |(_, text)| *text);
    let told = now["told"].as_str().unwrap_or_default();
    let words = told.trim_start_matches('▲').trim();
    let plain = words.len() > 12
        && words.ends_with('.')
        && !["body.", "limits[", "undefined", "null", "desk."].iter().any(|raw| words.contains(raw));
    let after = kept(window);
    let checks = [
        (plain, "a sentence in words stands beside it"),
        (now["value"] == typed, "what was typed stays"),
        (now["focus"] == true, "the keyboard goes there"),
        (now["apart"].as_f64().is_some_and(|px| px < 90.0), "the sentence stands near"),
        (before == after, "nothing is saved"),
    ];
    let missed: Vec<&str> = checks.iter().filter(|(held, _)| !held).map(|(_, what)| *what).collect();
    (!missed.is_empty()).then(|| {
        format!(
            "{}, {} blamed for {:?}: not so: {missed:?}; {now} {before:?} {after:?}",
            wrong.room, wrong.blamed, wrong.typed
        )
    })
}

/// Every case of a table in one window; a room is entered anew for each.
fn all_refused(window: &mut Window, cases: &[(Form, Typed, &'static str)]) {
    let mut amiss = Vec::new();
    for ((room, way, send), typed, blamed) in cases {
        window.enter(if *room == "machine" { "owed" } else { "machine" });
        window.enter(room);
        for step in *way {
            window.press(step);
            window.settle();
        }
        let found = refused(window, &Wrong { room, typed, send, blamed });
        found.iter().for_each(|one| eprintln!("{one}"));
        amiss.extend(found);
        window.js("document.querySelector('dialog[open]')?.close()", vec![]);
    }
    assert!(amiss.is_empty(), "{}", amiss.join("\n"));
}

#[test]
fn nonsense_in_a_box_is_refused_beside_it_and_stays() {
    let mut window = Window::open(Hand::Pointer, (1280, 800), shop::busy);
    window.see("[data-press='answer-alarm']");
    window.press("[data-press='answer-alarm']");
    window.see_words("Alarm answered");
    // An entry that can be corrected, on top of the record.
    shop::act(window.home.path(), &json!([{ "act": "joint", "body": { "part": "R1-L", "mark": "N joint" } }]));
    all_refused(&mut window, ALL);
}
