//! A simulated week through the doors, and small made-up shops, against an oracle that shares no code with the
//! clocks (tests/oracle, Python). Every estimate within a second, every state and end the same.

#[path = "flow/bench.rs"]
mod bench;
#[path = "flow/compare.rs"]
mod compare;
#[path = "flow/random.rs"]
mod random;
#[path = "flow/week.rs"]
mod week;

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
    let measured = compare::with_oracle(&[week]);
    measured.print("week");
    assert!(measured.wrong.is_empty(), "{} differences\n{}", measured.wrong.len(), measured.wrong.join("\n"));
}

#[test]
fn made_up_shops_agree_with_the_oracle() {
    let shops: Vec<_> = (0..200).map(random::shop).collect();
    let measured = compare::with_oracle(&shops);
    measured.print("made-up shops");
    assert!(measured.wrong.is_empty(), "{} differences\n{}", measured.wrong.len(), measured.wrong.join("\n"));
}
