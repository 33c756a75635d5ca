//! What stands in an alarm's way: a program that stood still (T16), no service and no device (T19, T20), the answer
//! (T22), a disk that is full or a book that is held (T23).

use crate::rig::{HOUR, MIN, Rig, SEC};
use crate::voice::Desk;
use logbook::store::{Book, Error, Mode};
use serde_json::json;
use std::path::Path;
use std::process::Command;
use workshop::alarm::POLL_MS;
use workshop::alarm::voice::Pattern;
use workshop::clock::Clock;

#[test]
fn t16_a_program_that_stood_still_says_how_late_it_is() {
    let mut rig = Rig::new();
    let batch = rig.pot();
    rig.step();
    let left = rig.pot_left(&batch);
    // Stopped and continued: awake time goes on, no step is made.
    rig.clock.advance(left + 10 * MIN);
    let step = rig.step();
    assert_eq!(step.rung.len(), 1);
    let line = &step.rung[0].lines[0];
    assert!(line.contains("10 min ago") && line.contains("stood still"), "{line}");
    assert_eq!(rig.alarms("over")[0].late.as_deref(), Some("the program stood still"));
    assert!(rig.run(MIN, SEC).iter().all(|step| step.rung.is_empty()), "no burst");
    assert_eq!(rig.ear.heard().notes.len(), 1);
}

#[test]
fn t19_no_service_and_a_silent_one_leave_sound_and_screen() {
    for (desk, why) in [(Desk::None, "no notification service"), (Desk::Silent, "does not answer")] {
        let mut rig = Rig::new();
        rig.ear.heard().desk = desk;
        let batch = rig.pot();
        let first = rig.step();
        let left = rig.pot_left(&batch);
        let mut steps = rig.run(left + 10 * SEC, SEC);
        steps.insert(0, first);
        let lines: Vec<&String> = steps.iter().flat_map(|step| &step.rung).flat_map(|rung| &rung.lines).collect();
        assert_eq!(lines.len(), 2, "nearly over and over are on the screen: {lines:?}");
        let said: Vec<&String> = steps.iter().flat_map(|step| &step.trouble).collect();
        assert!(said.len() == 1 && said[0].contains(why), "said once: {said:?}");
        let over = rig.alarms("over");
        assert_eq!(over.len(), 1);
        assert!(!over[0].notified && over[0].sounded, "no error shown as success");
        assert!(over[0].trouble.as_deref().is_some_and(|trouble| trouble.contains(why)), "{:?}", over[0].trouble);
        assert_eq!(rig.ear.heard().sounds.last(), Some(&Pattern::High));
    }
}

#[test]
fn t20_no_device_is_an_alarm_of_its_own_and_recovers() {
    let mut rig = Rig::new();
    rig.ear.heard().no_device = Some("no sound device".to_owned());
    let batch = rig.pot();
    let step = rig.step();
    let rung: Vec<&String> = step.rung.iter().flat_map(|rung| &rung.lines).collect();
    assert!(rung.iter().any(|line| line.contains("make no sound")), "{rung:?}");
    let silent = rig.alarms("cannot-sound");
    assert_eq!(silent.len(), 1, "recorded once a boot");
    assert!(silent[0].notified && !silent[0].sounded);
    let left = rig.pot_left(&batch);
    rig.run(left + SEC, 10 * SEC);
    assert_eq!(rig.alarms("cannot-sound").len(), 1);
    let over = rig.alarms("over");
    assert!(over[0].notified && !over[0].sounded && over[0].trouble.is_some(), "{over:?}");
    let heard = rig.ear.heard().notes.clone();
    assert!(heard.iter().any(|note| note.body.contains("pot life is over") && note.loud), "{heard:?}");
    rig.ear.heard().no_device = None;
    let steps = rig.run(4 * SEC, SEC);
    assert!(steps.iter().flat_map(|step| &step.trouble).any(|said| said.contains("sound again")));
    rig.ear.heard().no_device = Some("unplugged".to_owned());
    let steps = rig.run(4 * SEC, SEC);
    assert!(steps.iter().flat_map(|step| &step.trouble).any(|said| said.contains("unplugged")), "seen while it sounds");
}

#[test]
fn t22_an_answer_stops_the_sound_within_one_poll_and_is_recorded_once() {
    let mut rig = Rig::new();
    let batch = rig.pot();
    rig.step();
    let left = rig.pot_left(&batch);
    let mut ids: Vec<String> = rig.run(left + SEC, 10 * SEC).into_iter().flat_map(|step| step.saved).collect();
    ids.sort();
    assert_eq!(ids.len(), 2);
    assert!(rig.ear.heard().sounding);
    let step = rig.step();
    assert!(step.sounding && step.next_wake_ms <= POLL_MS && POLL_MS <= 200, "looked at again within 200 ms");
    rig.act("answer-alarm", json!({ "alarm": ids[0] }));
    assert!(rig.step().sounding, "the other one is not answered");
    rig.act("answer-alarm", json!({ "alarm": ids[1] }));
    let step = rig.step();
    assert_eq!(step.answered, [ids[1].clone()]);
    assert!(!step.sounding && !rig.ear.heard().sounding, "silent in the next step");
    let answers = rig.of_kind("alarm-answered");
    assert_eq!(answers.len(), 2);
    assert!(answers.iter().all(|answer| answer.person.is_some()), "who and when");
    let size = rig.entries().len();
    let again = rig.shop.act(json!({ "act": "answer-alarm", "body": { "alarm": ids[1] } }));
    assert_eq!(rig.entries().len(), size, "a second press does nothing: {again:?}");
    assert!(rig.run(HOUR, MIN).iter().all(|step| step.rung.is_empty() && !step.sounding));
}

#[test]
fn t22_what_nobody_answered_sounds_again_after_a_restart_of_the_program() {
    let mut rig = Rig::new();
    let batch = rig.pot();
    rig.step();
    let left = rig.pot_left(&batch);
    rig.run(left + SEC, 10 * SEC);
    rig.stop();
    rig.ear.heard().sounding = false;
    let step = rig.step();
    assert!(step.sounding && rig.ear.heard().sounding);
    assert_eq!(step.rung[0].title, "Not answered yet");
    assert_eq!((rig.alarms("over").len(), rig.alarms("nearly-over").len()), (1, 1), "and is not recorded again");
}

/// A file system of 2 MB that can be filled; None where none can be mounted.
struct Small(tempfile::TempDir);

impl Small {
    fn mount() -> Option<Small> {
        let folder = tempfile::tempdir().expect("a folder");
        let mounted = Command::new("mount").args(["-t", "tmpfs", "-o", "size=2m", "tmpfs"]).arg(folder.path()).output();
        mounted.is_ok_and(|done| done.status.success()).then_some(Small(folder))
    }

    fn fill(&self) {
        let mut block = 1 << 20;
        let mut at = 0;
        while block >= 4096 {
            let path = self.0.path().join(format!("filler-{at}"));
            if std::fs::write(path, vec![0_u8; block]).is_err() {
                block /= 2;
            }
            at += 1;
        }
    }

    fn empty(&self) {
        for file in std::fs::read_dir(self.0.path()).expect("a folder").flatten() {
            if file.file_name().to_string_lossy().starts_with("filler") {
                std::fs::remove_file(file.path()).expect("removed");
            }
        }
    }
}

impl Drop for Small {
    fn drop(&mut self) {
        let _ = Command::new("umount").arg(self.0.path()).status();
    }
}

fn full(book: &Path) -> bool {
    std::fs::write(book.with_file_name("probe"), [0_u8; 4096]).is_err()
}

#[test]
fn t23_a_full_disk_does_not_silence_an_alarm_and_it_is_saved_later() {
    let Some(small) = Small::mount() else {
        eprintln!("t23 on a full disk: SKIPPED, no file system can be mounted here (needs root)");
        return;
    };
    let book = small.0.path().join("shop.book");
    let clock = workshop::clock::FixedClock::at(crate::rig::MORNING);
    let mut rig = Rig::on(tempfile::tempdir().expect("a folder"), book.clone(), clock);
    let batch = rig.pot();
    rig.step();
    let left = rig.pot_left(&batch);
    small.fill();
    assert!(full(&book), "the lever: the disk is full");
    let steps = rig.run(left + 2 * SEC, SEC);
    let rung: Vec<&String> = steps.iter().flat_map(|step| &step.rung).flat_map(|rung| &rung.lines).collect();
    assert!(rung.iter().any(|line| line.contains("pot life is over")), "it rings regardless: {rung:?}");
    assert!(rung.iter().any(|line| line.starts_with("Not saved")), "and says that it is not saved: {rung:?}");
    assert!(steps.last().is_some_and(|step| step.unsaved >= 2 && step.sounding), "{:?}", steps.last());
    assert!(rig.alarms("over").is_empty());
    let expired = rig.clock.now().wall_ms;
    rig.run(5 * MIN, 10 * SEC);
    small.empty();
    let steps = rig.run(3 * SEC, SEC);
    assert!(steps.iter().any(|step| !step.saved.is_empty()), "{:?}", steps.last());
    let over = rig.alarms("over");
    assert_eq!(over.len(), 1);
    assert!(over[0].noticed_ms <= expired && over[0].sounded, "the instant it was noticed: {over:?}");
    let entry = rig.of_kind("alarm").pop().expect("an alarm");
    assert!(entry.entered_ms - over[0].noticed_ms >= 5 * MIN, "and the instant it was saved");
    assert_eq!(rig.alarms("not-saved").len(), 1);
    assert_eq!(steps.last().map(|step| step.unsaved), Some(0));
}

#[test]
fn t23_a_book_that_somebody_holds_is_waited_for_and_then_said() {
    let mut rig = Rig::new();
    let batch = rig.pot();
    rig.step();
    let left = rig.pot_left(&batch);
    let (book, start) = (rig.book.clone(), rig.clock.now().boot_ms);
    let mut holder = Book::open(&book, Mode::Write).expect("opens");
    let held = holder.transact(|_| {
        let steps = rig.run(left + SEC, left + SEC);
        assert!(steps[0].rung[0].lines[0].contains("pot life is over"));
        assert_eq!((steps[0].rung.len(), steps[0].unsaved), (1, 1), "not yet an alarm of its own");
        rig.clock.advance(6 * SEC);
        let step = rig.step();
        assert!(step.rung.iter().any(|rung| rung.title == "NOT SAVED"), "{:?}", step.rung);
        Ok::<_, Error>(())
    });
    held.expect("nothing was written");
    assert!(rig.clock.now().boot_ms > start, "time went on meanwhile");
    rig.run(2 * SEC, SEC);
    assert_eq!((rig.alarms("over").len(), rig.alarms("not-saved").len()), (1, 1));
}

#[test]
fn one_owner_of_a_books_alarms() {
    let mut rig = Rig::new();
    rig.start();
    let clock = Box::new(rig.clock.clone());
    let judged = Box::new(workshop::alarm::judged::Judged::default());
    let second = workshop::alarm::Alarms::new(&rig.book, clock, judged, Box::new(rig.ear.clone()), Default::default());
    let said = second.err().map(|refused| refused.to_string()).unwrap_or_default();
    assert!(said.contains(&format!("process {}", std::process::id())), "{said}");
    rig.stop();
    rig.start();
}
