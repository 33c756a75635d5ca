//! A simulated week through the doors, and small made-up shops, against an oracle that shares no code with the
//! clocks (tests/oracle, Python). Every estimate within a second, every state and end the same.

#[path = "flow/bench.rs"]
mod bench;
#[path = "flow/compare.rs"]
mod compare;
#[path = "flow/dice.rs"]
mod dice;
#[path = "flow/random.rs"]
mod random;
#[path = "flow/rest.rs"]
mod rest;
#[path = "flow/typed.rs"]
mod typed;
#[path = "flow/week.rs"]
mod week;

/// Made-up shops that live on for weeks.
const RESTING: u64 = 6;

/// Made-up shops in one run of the suite.
const SHOPS: u64 = 60;

#[test]
fn the_oracle_agrees_with_the_printed_numbers() {
    let oracle = concat!(env!("CARGO_MANIFEST_DIR"), "/oracle/oracle.py");
    let run = std::process::Command::new("python3").args(["-B", oracle, "--check"]).output().expect("python3 runs");
    let told = String::from_utf8_lossy(&run.stdout);
    assert!(run.status.success() && told.lines().count() >= 30, "{told}");
}

#[test]
fn the_lived_week_agrees_with_the_oracle() {
    let mut week = week::lived();
    for at in week::instants() {
        week.ask(at, None);
    }
    // The same instants before the loggers' files had come.
    let (night, annex) = (week::MONDAY + 25 * bench::H, week::ANNEX_FILE - 7 * bench::H);
    for at in [night, night + bench::H, annex, annex + 3 * bench::H] {
        week.ask(at, Some(at));
    }
    let measured = compare::with_oracle(&[week]);
    measured.print("week");
    assert!(measured.wrong.is_empty(), "{} differences\n{}", measured.wrong.len(), measured.wrong.join("\n"));
    for state in ["running", "over", "reached", "ended", "never", "held"] {
        assert!(measured.states.contains_key(state), "the week never shows {state}: {:?}", measured.states);
    }
}

#[test]
fn a_week_typed_in_late_judges_as_the_lived_one() {
    let lived = week::lived();
    typed::judges_as(&lived);
}

#[test]
fn of_several_corrections_the_last_entered_counts() {
    let mut bench = bench::Bench::at(week::MONDAY, 7);
    week::one_clamp(&mut bench);
    let wrong = bench.reading_to_correct(week::MONDAY + 70 * bench::MIN, "21.5 C");
    for (minutes, celsius) in [(90, "26.0 C"), (91, "17.0 C"), (92, "22.0 C")] {
        bench.until(week::MONDAY + minutes * bench::MIN);
        bench.correct(&wrong, celsius);
    }
    for (after, known) in [(80, Some(85)), (80, Some(90)), (95, Some(91)), (95, None), (150, None)] {
        let known_ms = known.map(|known| week::MONDAY + known * bench::MIN);
        bench.ask(week::MONDAY + after * bench::MIN + 500, known_ms);
    }
    let measured = compare::with_oracle(&[bench]);
    assert!(measured.wrong.is_empty(), "{}", measured.wrong.join("\n"));
    assert!(measured.instants >= 10, "{measured:?}");
}

#[test]
fn hindsight_judges_a_release_anew_and_keeps_what_was_said() {
    let week = week::lived();
    let asked = |known_ms: Option<i64>| week.question(week::MONDAY + 6 * 24 * bench::H, known_ms, &week::trace_of_r4());
    let before = week::release_in_annex(&asked(Some(week::ANNEX_FILE - 1)));
    let after = week::release_in_annex(&asked(None));
    assert_eq!(before.clamp, "reached");
    assert!(!before.findings.contains(&"early:clamp".to_owned()), "{before:?}");
    assert_eq!(after.clamp, "ended");
    assert!(after.findings.contains(&"early:clamp".to_owned()), "{after:?}");
    assert_eq!(after.state, "held");
    assert_ne!(before.said_then, serde_json::json!([]));
    assert_eq!(before.said_then, after.said_then, "what was said at the release stays");
}

#[test]
fn what_is_at_rest_answers_as_if_judged_anew() {
    let mut seen = rest::Seen::default();
    (0..RESTING).for_each(|seed| rest::lives_on(seed, &mut seen));
    println!("{} comparisons with something at rest, {} acts, {} woke", seen.rested, seen.acts, seen.woke);
    assert!(seen.wrong.is_empty(), "{} differences\n{}", seen.wrong.len(), seen.wrong.join("\n"));
    assert!(seen.rested > 40 && seen.woke > 15, "{seen:?}");
}

#[test]
fn made_up_shops_agree_with_the_oracle() {
    let shops: Vec<_> = (0..SHOPS).map(random::shop).collect();
    let measured = compare::with_oracle(&shops);
    measured.print("made-up shops");
    assert!(measured.wrong.is_empty(), "{} differences\n{}", measured.wrong.len(), measured.wrong.join("\n"));
    for (what, least) in [("forecast stated", 100), ("of its own heat", 10), ("old when spread", 50)] {
        assert!(measured.rests.get(what).is_some_and(|n| *n >= least), "too little rests on {what}: {measured:?}");
    }
    assert!(measured.helps >= 200, "{measured:?}");
}
