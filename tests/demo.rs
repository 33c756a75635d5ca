//! The made-up shop: as large as promised, the same bytes for the same T, every promised oddity really in it as the
//! questions judge it, and three clocks live at T. Driven through the program itself, as anybody would. Long because each
//! promise of the made-up shop has its own case.

use serde_json::{Value, json};
use sha2::{Digest, Sha256};
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use std::sync::OnceLock;

/// A Wednesday, 11:45 in the made-up shop.
const DAY: &str = "2026-11-25T10:45:42.123Z";
/// Half past three at night in the made-up shop, in another year.
const NIGHT: &str = "2025-02-03T02:30:00Z";

struct Demo {
    folder: tempfile::TempDir,
    until: &'static str,
}

impl Demo {
    fn lived(until: &'static str) -> Demo {
        let folder = tempfile::tempdir().expect("a folder");
        let demo = Demo { folder, until };
        let made = demo.write();
        assert!(made.status.success(), "{}{}", text(&made.stdout), text(&made.stderr));
        demo
    }

    fn book(&self) -> PathBuf {
        self.folder.path().join("demo.book")
    }

    fn write(&self) -> Output {
        run(&["demo", self.book().to_str().expect("UTF-8"), "--until", self.until])
    }

    /// Asks as at T, with what was known at T.
    fn ask(&self, question: &str, body: Value) -> Value {
        let asked = json!({ "ask": question, "body": body }).to_string();
        let book = self.book();
        let out = run(&[
            "--book",
            book.to_str().expect("UTF-8"),
            "--at",
            self.until,
            "--known-at",
            self.until,
            "ask",
            &asked,
        ]);
        let said: Value = serde_json::from_slice(&out.stdout).expect("one JSON object");
        assert!(said["error"].is_null(), "{question}: {said}");
        said["answer"].clone()
    }

    fn list(&self, noun: &str) -> Vec<String> {
        let list = self.ask("list", json!({ "of": noun }))["list"].clone();
        array(&list).iter().map(|named| named["name"].as_str().expect("a name").to_owned()).collect()
    }

    fn trace(&self, part: &str) -> Value {
        self.ask("trace", json!({ "part": part }))
    }

    /// The only bond of a part, or the one of a stage.
    fn bond(&self, part: &str, stage: &str) -> Value {
        let trace = self.trace(part);
        let bonds = array(&trace["bonds"]);
        bonds.iter().find(|bond| bond["stage"] == stage).unwrap_or_else(|| panic!("{part} has no {stage}")).clone()
    }

    /// Every entry as stored, read without the program.
    fn entries(&self) -> Vec<Value> {
        let flags = rusqlite::OpenFlags::SQLITE_OPEN_READ_ONLY;
        let uri = format!("file:{}?immutable=1", self.book().display());
        let sqlite =
            rusqlite::Connection::open_with_flags(uri, flags | rusqlite::OpenFlags::SQLITE_OPEN_URI).expect("opens");
        let mut rows = sqlite.prepare("SELECT bytes FROM entry ORDER BY seq").expect("the table entry");
        let bytes = rows.query_map([], |row| row.get::<_, Vec<u8>>(0)).expect("rows");
        bytes.map(|bytes| serde_json::from_slice(&bytes.expect("bytes")).expect("JSON")).collect()
    }
}

/// One book at T by day, shared by the tests that only read.
fn demo() -> &'static Demo {
    static DEMO: OnceLock<Demo> = OnceLock::new();
    DEMO.get_or_init(|| Demo::lived(DAY))
}

/// One book at T by night.
fn night() -> &'static Demo {
    static DEMO: OnceLock<Demo> = OnceLock::new();
    DEMO.get_or_init(|| Demo::lived(NIGHT))
}

fn program() -> &'static Path {
    static PROGRAM: OnceLock<PathBuf> = OnceLock::new();
    PROGRAM.get_or_init(|| {
        let cargo = std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into());
        let built =
            Command::new(cargo).args(["build", "--quiet", "--package", "gluewright"]).status().expect("cargo runs");
        assert!(built.success(), "gluewright does not build");
        let test = std::env::current_exe().expect("this test's own path");
        test.ancestors().nth(2).expect("target/debug").join("gluewright")
    })
}

fn run(words: &[&str]) -> Output {
    Command::new(program()).args(words).output().expect("gluewright starts")
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8_lossy(bytes).into_owned()
}

fn array(value: &Value) -> &Vec<Value> {
    value.as_array().unwrap_or_else(|| panic!("not a list: {value}"))
}

fn digest(path: &Path) -> Vec<u8> {
    Sha256::digest(std::fs::read(path).expect("the book")).to_vec()
}

/// Keys of a bond's findings, each with whether it is settled.
fn findings(bond: &Value) -> Vec<(String, bool)> {
    let found = array(&bond["findings"]).iter();
    found.map(|one| (one["key"].as_str().expect("a key").to_owned(), one["settled"] == true)).collect()
}

fn has(bond: &Value, key: &str, settled: bool) -> bool {
    findings(bond).contains(&(key.to_owned(), settled))
}

/// Another book, never asked anything, so that its folder is as the demo left it.
#[test]
fn the_same_t_gives_the_same_bytes_in_one_closed_file() {
    let again = Demo::lived(DAY);
    let files = std::fs::read_dir(again.folder.path()).expect("the folder");
    let names: Vec<String> = files.map(|file| text(file.expect("a file").file_name().as_encoded_bytes())).collect();
    assert_eq!(names, ["demo.book"], "no -wal, no -shm, no logger's file, no half-made book");
    assert_eq!(digest(&demo().book()), digest(&again.book()));
    assert_ne!(digest(&demo().book()), digest(&night().book()), "another T is another book");
    assert_ne!(demo().entries()[0]["log"], night().entries()[0]["log"], "and another log");
}

#[test]
fn it_never_replaces_a_file() {
    let before = digest(&demo().book());
    let again = demo().write();
    assert_eq!(again.status.code(), Some(2), "{}{}", text(&again.stdout), text(&again.stderr));
    let said = text(&again.stdout) + &text(&again.stderr);
    assert!(said.contains("exists already"), "{said}");
    assert_eq!(digest(&demo().book()), before);
}

#[test]
fn it_is_as_large_as_promised() {
    let parts = demo().list("part");
    assert!(parts.len() >= 30, "{} parts", parts.len());
    assert!(demo().list("batch").len() >= 25, "{} batches", demo().list("batch").len());
    let bonds = demo().entries().into_iter().filter(|entry| entry["kind"] == "bond");
    let joints: BTreeSet<String> =
        bonds.flat_map(|bond| array(&bond["body"]["joints"]).clone()).map(|joint| joint.to_string()).collect();
    assert!(joints.len() >= 60, "{} joints glued", joints.len());
}

#[test]
fn two_weeks_of_minutes_at_three_places() {
    let entries = demo().entries();
    let readings = entries.iter().filter(|entry| entry["kind"] == "readings");
    let mut minutes = std::collections::BTreeMap::<String, u64>::new();
    for entry in readings {
        let place = entry["body"]["place"].as_str().expect("a place").to_owned();
        *minutes.entry(place).or_default() += entry["body"]["count"].as_u64().expect("a count");
    }
    assert_eq!(minutes.len(), 3);
    let least = 14 * 24 * 60 - 4 * 60;
    assert!(minutes.values().all(|count| *count >= least), "{minutes:?}");
}

#[test]
fn it_is_marked_as_made_up() {
    let first = &demo().entries()[0];
    assert_eq!((&first["kind"], &first["body"]["made_up"]), (&json!("log-start"), &json!(true)));
    assert!(demo().list("person").iter().all(|name| name.ends_with("Invented")));
    assert!(demo().list("card").iter().all(|name| name.starts_with("made-up ")));
    assert!(demo().list("lot").iter().all(|mark| mark.starts_with("MADE-UP-")));
    let trace = demo().trace("SPAR-L");
    assert_eq!(trace["look_at_first"][0], "everything in this book is made up (entry 0)");
    let assembly = trace["part"]["assembly"].clone();
    assert!(assembly.as_str().expect("an assembly").starts_with("made-up "));
}

#[test]
fn nothing_of_this_machine_is_in_it() {
    let entries = demo().entries();
    let until_ms = 1_795_603_542_123_i64;
    let begin_ms = until_ms - 14 * 86_400_000;
    for entry in &entries {
        let entered = entry["entered_ms"].as_i64().expect("an instant");
        assert!((begin_ms..=until_ms).contains(&entered), "{entry}");
        assert_eq!(entry["boot"], entries[0]["boot"]);
        assert_eq!(entry["zone_min"], 60);
    }
    let own_boot = std::fs::read_to_string("/proc/sys/kernel/random/boot_id").unwrap_or_default();
    assert_ne!(entries[0]["boot"], own_boot.trim());
    let bytes = std::fs::read(demo().book()).expect("the book");
    let folder = demo().folder.path().to_str().expect("UTF-8").as_bytes();
    assert!(!bytes.windows(folder.len()).any(|window| window == folder), "a path of this machine");
}

#[test]
fn it_verifies_at_every_depth() {
    for depth in ["bytes", "meaning", "rebuild"] {
        let verified = demo().ask("verify", json!({ "depth": depth }));
        assert_eq!(verified["ok"], true, "{depth}: {}", verified["found"]);
    }
}

/// A long check tells how far it is, and stops where it is told to; then it is no check that found nothing.
#[test]
fn a_check_tells_its_way_and_can_be_stopped() {
    use std::ops::ControlFlow;
    let ids = || uuid::Uuid::new_v4().to_string();
    let door = workshop::Workshop::new(&demo().book(), Box::new(workshop::clock::FixedClock::at(0)), Box::new(ids));
    let ask = |go: ControlFlow<()>| {
        let mut told = Vec::new();
        let question = json!({ "ask": "verify", "body": { "depth": "rebuild" } });
        let mut way = |done: u32, said: &str| {
            told.push((done, said.to_owned()));
            go
        };
        let answer = door.ask_telling(None, None, question, &mut way).expect("an answer");
        (answer, told)
    };
    let (whole, told) = ask(ControlFlow::Continue(()));
    assert_eq!(whole["ok"], true, "{}", whole["found"]);
    assert!(told.iter().all(|(done, said)| (1..1_000_000).contains(done) && said.contains(" of ")), "{told:?}");
    assert!(!told.is_empty() && told.windows(2).all(|two| two[0].0 < two[1].0), "{told:?}");
    let (stopped, told) = ask(ControlFlow::Break(()));
    assert_eq!((&stopped["ok"], told.len()), (&json!(false), 1));
    assert!(stopped["cannot_show"][0].as_str().is_some_and(|said| said.contains("stopped")), "{stopped}");
}

/// At T a pot, a clamp and a too-cold clamp are live, whatever the hour.
#[test]
fn three_clocks_are_live_at_t() {
    for demo in [demo(), night()] {
        let clocks = demo.ask("clocks", json!({}))["clocks"].clone();
        let of = |part: &str, clock: &str| {
            let found =
                array(&clocks).iter().find(|one| one["clock"] == clock && array(&one["parts"]).contains(&json!(part)));
            found.unwrap_or_else(|| panic!("no {clock} of {part} in {clocks}")).clone()
        };
        let pot = of("TIP-R", "pot");
        assert_eq!(pot["state"], "running", "{pot}");
        assert!(pot["progress_ppm"]["high"].as_i64() < Some(1_000_000), "{pot}");
        assert_eq!(of("TIP-R", "open")["state"], "running");
        let clamp = of("SKIN-R", "clamp");
        assert_eq!(clamp["state"], "running", "{clamp}");
        assert!(clamp["latest"].is_string() && clamp["used"]["readings"].as_u64() > Some(60), "{clamp}");
        let cold = of("TIP-L", "clamp");
        assert_eq!((&cold["state"], &cold["latest"]), (&json!("never"), &json!(null)), "{cold}");
        assert!(cold["used"]["no_credit_ms"].as_i64() > Some(30 * 60_000), "{cold}");
    }
}

#[test]
fn estimates_go_by_the_night_that_was_stated() {
    let of_kind = |kind: &str| -> Vec<Value> {
        demo().entries().into_iter().filter(|entry| entry["kind"] == kind).map(|entry| entry["body"].clone()).collect()
    };
    assert!(of_kind("forecast").iter().any(|body| body["shape"]["setback"]["night"]["as"] == "17.5 C"));
    assert!(of_kind("card").iter().any(|body| body["film_gel"]["as"] == "150 min"));
    let clocks = demo().ask("clocks", json!({}))["clocks"].clone();
    let clamp = array(&clocks)
        .iter()
        .find(|one| one["clock"] == "clamp" && array(&one["parts"]).contains(&json!("SKIN-R")))
        .expect("the skin's clamp");
    let assumed = array(&clamp["used"]["assumed"]);
    assert!(assumed.iter().any(|said| said.as_str().is_some_and(|said| said.contains("forecast"))), "{clamp}");
    assert!(!array(&clamp["helps"]).is_empty(), "{clamp}");
}

#[test]
fn a_spar_from_three_pots() {
    let web = demo().bond("SPAR-L", "web");
    let batches = array(&web["batches"]);
    assert_eq!(batches.len(), 3);
    assert!(
        batches
            .iter()
            .all(|batch| batch["verdict"] == "within" && batch["from"].is_string() && batch["to"].is_string())
    );
    let lots: BTreeSet<&str> = batches
        .iter()
        .flat_map(|batch| array(&batch["lots"]))
        .map(|lot| lot["mark"].as_str().expect("a mark"))
        .collect();
    assert_eq!(lots, BTreeSet::from(["MADE-UP-RH-2", "MADE-UP-RR-2"]));
    assert_eq!(web["state"], "clear", "{:?}", findings(&web));
}

#[test]
fn the_cold_night_rejects_one_bond_and_delays_another() {
    let rejected = demo().bond("REAR-R", "web");
    assert_eq!(rejected["state"], "held");
    assert!(has(&rejected, "decided:rejected", false), "{:?}", findings(&rejected));
    assert!(findings(&rejected).iter().any(|(key, _)| key == "fault:cold"), "{:?}", findings(&rejected));
    assert_eq!(array(&rejected["decisions"])[0]["verdict"], "rejected");
    assert!(rejected["readings"]["lowest_mk"].as_i64() < Some(283_150), "below 10 °C: {}", rejected["readings"]);
    assert_eq!(demo().bond("REAR-R2", "web")["state"], "clear");
    let bow = demo().bond("BOW-L", "lamination");
    assert_eq!(bow["state"], "clear", "{:?}", findings(&bow));
    let clamp = array(&bow["clocks"]).iter().find(|one| one["clock"] == "clamp").expect("a clamp clock");
    assert!(clamp["used"]["no_credit_ms"].as_i64() > Some(8 * 3_600_000), "the cold hours give no credit: {clamp}");
}

#[test]
fn a_batch_out_of_ratio_holds_its_bond() {
    let bond = demo().bond("ROOT-L", "block");
    assert_eq!(array(&bond["batches"])[0]["verdict"], "outside");
    assert_eq!(bond["state"], "held");
    assert!(has(&bond, "ratio:outside", false), "{:?}", findings(&bond));
    let owed = demo().ask("owed", json!({}));
    let name = bond["id"].as_str().expect("a name");
    assert!(array(&owed["bonds"]).iter().any(|one| one["bond"] == name), "{owed}");
}

#[test]
fn an_expired_lot_and_exactly_its_parts() {
    let used = demo().ask("where-used", json!({ "lot": "MADE-UP-EH-3" }));
    let parts: BTreeSet<&str> =
        array(&used["parts"]).iter().map(|part| part["mark"].as_str().expect("a mark")).collect();
    assert_eq!(parts, BTreeSet::from(["R10-L", "R10-R", "R9-L", "R9-R", "TE-R"]));
    let accepted = demo().bond("R9-L", "second face");
    assert!(has(&accepted, "lot:expired", true), "{:?}", findings(&accepted));
    assert_eq!(accepted["state"], "clear");
    let held = demo().bond("TE-R", "gussets");
    assert!(has(&held, "lot:expired", false), "{:?}", findings(&held));
    assert_eq!(held["state"], "held");
    let expired = array(&array(&held["batches"])[0]["lots"]).iter().filter(|lot| lot["expired"] == true).count();
    assert_eq!(expired, 1);
}

#[test]
fn a_late_entry_shows_and_says_why() {
    let bond = demo().bond("R10-R", "first face");
    let presses = array(&bond["presses"]);
    assert!(presses.iter().any(|press| press["press"] == "all-tight" && press["late"] == true), "{presses:?}");
    let late = array(&bond["entries"]).iter().filter(|entry| entry["late"] == true);
    assert!(late.clone().count() >= 6 && late.clone().all(|entry| entry["why"].is_string()));
    assert_eq!(bond["state"], "clear", "{:?}", findings(&bond));
}

#[test]
fn a_correction_replaces_what_was_mistyped() {
    let bond = demo().bond("R5-L", "first face");
    let corrections = array(&bond["entries"]).iter().filter(|entry| entry["corrects"].is_string());
    assert_eq!(corrections.clone().count(), 1);
    assert_eq!(array(&bond["batches"])[0]["verdict"], "within");
    let before = run(&[
        "--book",
        demo().book().to_str().expect("UTF-8"),
        "--at",
        DAY,
        "--known-at",
        "2026-11-14T10:00:00Z",
        "--json",
        "trace",
        "R5-L",
    ]);
    let before: Value = serde_json::from_slice(&before.stdout).expect("one JSON object");
    assert_eq!(before["bonds"][0]["batches"][0]["verdict"], "outside", "as it was known before: {before}");
}

#[test]
fn other_things_that_happen() {
    let reason = demo().bond("R3-L", "first face");
    assert!(has(&reason, "missing:squeeze-out", true), "{:?}", findings(&reason));
    let nailed = demo().bond("TE-L", "gussets");
    assert_eq!(nailed["state"], "clear", "{:?}", findings(&nailed));
    assert!(!array(&nailed["presses"]).iter().any(|press| press["press"] == "together"));
    let gap = demo().bond("R7-L", "first face");
    assert_eq!(array(&gap["readings"]["gaps"]).len(), 1, "{}", gap["readings"]);
    assert_eq!(gap["state"], "clear", "vouched for: {:?}", findings(&gap));
    let first = demo().trace("R7-L")["look_at_first"].to_string();
    assert!(first.contains("vouched for"), "credit on somebody's word is looked at first: {first}");
    let kinds: BTreeSet<String> =
        demo().entries().iter().map(|entry| entry["kind"].as_str().expect("a kind").to_owned()).collect();
    for kind in ["vouch", "top-up", "filler", "coat", "surface", "moved", "withdrawn", "reason", "decide", "throw-away"]
    {
        assert!(kinds.contains(kind), "no {kind}");
    }
}

/// Somebody answered the alarm of the cold morning; the one of the cold tip block still waits.
#[test]
fn alarms_were_given() {
    let of = |part: &str, stage: &str| {
        let alarms = array(&demo().bond(part, stage)["alarms"]).clone();
        let found = alarms.into_iter().find(|alarm| alarm["alarm"] == "conditions-lost");
        found.unwrap_or_else(|| panic!("{part} was not too cold for anybody"))
    };
    assert_eq!(of("REAR-R", "web")["answered_by"], "Ada Invented");
    assert_eq!(of("TIP-L", "block")["answered_by"], Value::Null);
    let first = demo().trace("TIP-L")["look_at_first"].to_string();
    assert!(first.contains("bond 25: Clamps stay on"), "a clamp time that never comes is looked at first: {first}");
    let waiting = demo().ask("bench", json!({}))["alarms"].clone();
    assert_eq!(array(&waiting).len(), 1, "{waiting}");
}

/// Held are those the story holds, and no others.
#[test]
fn only_the_promised_bonds_are_held() {
    let bonds = demo().ask("bonds", json!({}))["bonds"].clone();
    let of = |state: &str| -> BTreeSet<String> {
        let found = array(&bonds).iter().filter(|bond| bond["state"] == state);
        found.map(|bond| array(&bond["parts"])[0].as_str().expect("a part").to_owned()).collect()
    };
    let words = |marks: &[&str]| marks.iter().map(|mark| (*mark).to_owned()).collect::<BTreeSet<String>>();
    assert_eq!(of("held"), words(&["REAR-R", "ROOT-L", "TE-R"]), "{bonds}");
    assert_eq!(of("running"), words(&["SKIN-R", "TIP-L", "TIP-R"]), "{bonds}");
}
