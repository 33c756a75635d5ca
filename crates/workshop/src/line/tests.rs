//! Whatever a bond went through, its glue line can be drawn: sorted, without overlap, inside, labels apart. Made-up
//! stages of a seeded generator; each failure names its seed.

use super::draw::FULL;
use super::label::Laid;
use super::sketch::{Drawn, Sketch, Stage};
use super::temperature::{Read, temperature};
use super::{GlueLine, LineMark, draw};
use crate::reader::Reader;
use glue::clock::{Clock, Direction, State};

const BEGIN_MS: i64 = 1_795_478_400_000;
const MIN: i64 = 60_000;

/// SplitMix64.
struct Dice(u64);

impl Dice {
    fn upto(&mut self, most: i64) -> i64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) % (most as u64 + 1)) as i64
    }

    fn maybe(&mut self, value: i64) -> Option<i64> {
        (self.upto(3) > 0).then_some(value)
    }
}

fn limit(dice: &mut Dice, clock: Clock, from_ms: i64, at_ms: i64) -> Drawn {
    let earliest = from_ms + dice.upto(3000) * MIN;
    let expected = earliest + dice.upto(200) * MIN;
    let latest = expected + dice.upto(2000) * MIN;
    let earliest_ms = dice.maybe(earliest);
    let latest_ms = dice.maybe(latest).filter(|_| earliest_ms.is_some());
    let end = from_ms + dice.upto(2000) * MIN;
    let ended_ms = (end <= at_ms && dice.upto(2) == 0).then_some(end);
    let until = ended_ms.unwrap_or(at_ms);
    let state = match clock.direction() {
        Direction::MustNotExceed if earliest_ms.is_some_and(|limit| limit <= until) => State::Over,
        Direction::MustReach if latest_ms.is_some_and(|limit| limit <= until) => State::Reached,
        _ if ended_ms.is_some() => State::Ended,
        _ if latest_ms.is_none() => State::Never,
        _ => State::Running,
    };
    let word = "x".repeat(dice.upto(30) as usize);
    Drawn { clock, state, earliest_ms, expected_ms: dice.maybe(expected), latest_ms, ended_ms, word }
}

fn sketch(seed: u64) -> Sketch {
    let mut dice = Dice(seed);
    let from_ms = BEGIN_MS + dice.upto(1000);
    let at_ms = from_ms + dice.upto(4000) * MIN;
    let stage = if dice.upto(1) == 0 { Stage::Assembly } else { Stage::Cure };
    let clocks: &[Clock] = match stage {
        Stage::Assembly => &[Clock::Pot, Clock::Open, Clock::Closed, Clock::FreshSurface, Clock::GlueAgain],
        Stage::Cure => &[Clock::Clamp, Clock::Machining, Clock::FullCure],
    };
    let count = dice.upto(clocks.len() as i64) as usize;
    let limits = clocks.iter().take(count).map(|clock| limit(&mut dice, *clock, from_ms, at_ms)).collect();
    let mut presses: Vec<(i64, String)> = (0..dice.upto(7))
        .map(|_| (from_ms + dice.upto((at_ms - from_ms).max(1)), "y".repeat(dice.upto(26) as usize)))
        .collect();
    presses.sort();
    let mut chill = Vec::new();
    let mut next = from_ms;
    for _ in 0..dice.upto(4) {
        let start = next + dice.upto(300) * MIN;
        next = start + dice.upto(300) * MIN;
        chill.push((start, next));
    }
    let end = from_ms + dice.upto(3000) * MIN;
    let ended_ms = (dice.upto(2) == 0).then_some(end);
    Sketch { stage, from_ms, at_ms, ended_ms, limits, presses, chill, words: "All of it.".to_owned() }
}

fn inside(x: i64) -> bool {
    (0..=FULL).contains(&x)
}

/// Left and right edge of a label, pixels, worked out from row and anchor alone.
fn edges(mark: &LineMark) -> (i64, i64) {
    let (x, width) = (mark.at * 560 / FULL, mark.word.chars().count() as i64 * 7);
    match mark.anchor.as_str() {
        "start" => (x, x + width),
        "end" => (x - width, x),
        _ => (x - width / 2, x - width / 2 + width),
    }
}

fn band(line: &GlueLine, seed: u64) {
    assert_eq!((line.boxes[0].from, line.boxes[line.boxes.len() - 1].to), (0, FULL), "seed {seed}");
    for pair in line.boxes.windows(2) {
        assert_eq!(pair[0].to, pair[1].from, "seed {seed}: no gap and no overlap");
        assert_ne!(pair[0].fill, pair[1].fill, "seed {seed}: neighbours of one fill are one");
    }
    let fills = ["glue-1", "glue-2", "glue-3", "chill", "hatch", "over", "rest"];
    for one in &line.boxes {
        assert!(inside(one.from) && inside(one.to) && one.from < one.to, "seed {seed}: {one:?}");
        assert!(fills.contains(&one.fill.as_str()), "seed {seed}: {one:?}");
    }
}

fn labels(line: &GlueLine, seed: u64) {
    assert!(line.marks.is_sorted_by_key(|mark| mark.at), "seed {seed}");
    let worded: Vec<&LineMark> = line.marks.iter().filter(|mark| !mark.word.is_empty()).collect();
    for (index, one) in worded.iter().enumerate() {
        let (left, right) = edges(one);
        assert!(inside(one.at) && one.lane < 3 && left >= 0 && right <= 560, "seed {seed}: {one:?}");
        for other in &worded[index + 1..] {
            let (from, to) = edges(other);
            assert!(one.lane != other.lane || right < from || to < left, "seed {seed}: {one:?} meets {other:?}");
        }
    }
}

/// The end of what is filled, and what lies over a wall.
fn meaning(sketch: &Sketch, line: &GlueLine, seed: u64) {
    let filled = line.boxes.iter().filter(|one| one.fill.starts_with("glue") || one.fill == "chill");
    let filled = filled.map(|one| one.to).max().unwrap_or(0);
    for (limit, gate) in sketch.limits.iter().flat_map(|limit| {
        line.marks
            .iter()
            .filter(|mark| mark.clock.as_deref() == Some(limit.clock.word()))
            .map(move |mark| (limit, mark))
    }) {
        let reached = limit.state == State::Reached;
        if gate.sort == "gate" {
            assert_eq!(gate.passed, reached, "seed {seed}");
            let early = sketch.filled_ms() < limit.latest_ms.unwrap_or(i64::MAX);
            assert!(!early || filled <= gate.at, "seed {seed}: the fill is past a gate that is not reached");
        } else {
            assert_eq!((gate.sort.as_str(), gate.passed), ("wall", limit.state == State::Over), "seed {seed}");
        }
    }
    let over = sketch.limits.iter().any(|limit| limit.state == State::Over);
    assert!(over || line.boxes.iter().all(|one| one.fill != "over"), "seed {seed}: nothing is over");
    if let Some(now) = line.now {
        assert!(inside(now), "seed {seed}");
    }
}

#[test]
fn every_stage_can_be_drawn() {
    for seed in 0..20_000 {
        let sketch = sketch(seed);
        let line = draw(&sketch);
        band(&line, seed);
        labels(&line, seed);
        meaning(&sketch, &line, seed);
        assert_eq!(line, draw(&sketch), "seed {seed}: the same twice");
    }
}

/// Half of two hours run, the gate at its latest estimate: 110 min of 120 and 8 per cent of room.
#[test]
fn a_clamp_half_way() {
    let at = |min: i64| BEGIN_MS + min * MIN;
    let clamp = Drawn {
        clock: Clock::Clamp,
        state: State::Running,
        earliest_ms: Some(at(100)),
        expected_ms: Some(at(110)),
        latest_ms: Some(at(120)),
        ended_ms: None,
        word: "clamps off from 02:00".to_owned(),
    };
    let sketch = Sketch {
        stage: Stage::Cure,
        from_ms: at(0),
        at_ms: at(60),
        ended_ms: None,
        limits: vec![clamp],
        presses: vec![(at(0), "all tight 00:00".to_owned())],
        chill: vec![(at(20), at(40))],
        words: String::new(),
    };
    let line = draw(&sketch);
    // The axis is 120 min and 8 % (129.6 min): 60 min lie at 60/129.6 = 462 962, 100 at 771 604, 120 at 925 925.
    let boxes: Vec<(&str, i64, i64)> = line.boxes.iter().map(|one| (one.fill.as_str(), one.from, one.to)).collect();
    let expected = [
        ("glue-3", 0, 154_320),
        ("chill", 154_320, 308_641),
        ("glue-1", 308_641, 462_962),
        ("rest", 462_962, 771_604),
        ("hatch", 771_604, 925_925),
        ("rest", 925_925, 1_000_000),
    ];
    assert_eq!(boxes, expected);
    assert_eq!(line.now, Some(462_962));
    let gate = line.marks.iter().find(|mark| mark.sort == "gate").unwrap();
    assert_eq!((gate.at, gate.passed, gate.anchor.as_str()), (925_925, false, "end"));
}

#[test]
fn labels_without_room_are_left_out() {
    let mut laid = Laid::default();
    let wide = "x".repeat(60);
    assert!((0..3).all(|_| laid.place(FULL / 2, &wide).is_some()), "three rows");
    assert_eq!(laid.place(FULL / 2, &wide), None, "and no fourth");
}

#[test]
fn temperatures_are_thinned_to_what_is_seen() {
    let reads: Vec<Read> = (0..20_000)
        .map(|minute| {
            let k = 288.15 + f64::from(minute % 600) / 100.0;
            Read { at_ms: BEGIN_MS + i64::from(minute) * MIN, low_k: k, high_k: k }
        })
        .filter(|read| !(5_000..5_200).contains(&((read.at_ms - BEGIN_MS) / MIN)))
        .collect();
    let axis = super::draw::Axis { from_ms: BEGIN_MS, to_ms: BEGIN_MS + 20_000 * MIN };
    let drawn = temperature(&reads, axis, Some(288.15), Some(400.0), Reader::default()).unwrap();
    assert!(drawn.points.len() <= 400 && drawn.points.len() > 300, "{}", drawn.points.len());
    assert!(drawn.points.is_sorted_by_key(|point| point[0]));
    assert!(drawn.points.iter().all(|[x, y]| inside(*x) && inside(*y)));
    // 15 to 20.99 °C with half a kelvin of room: highest at 0.5/6.99, lowest and the least line at 6.49/6.99.
    assert_eq!(drawn.points.iter().map(|point| point[1]).min(), Some(71_530));
    assert_eq!((drawn.low_line, drawn.high_line), (Some(928_469), None), "a limit far above is not drawn");
    assert_eq!(drawn.breaks, [[249_950, 260_000]], "minutes 4999 to 5200 of 20 000");
    assert_eq!(drawn.least_word.as_deref(), Some("15 °C least"));
    assert_eq!(temperature(&[], axis, None, None, Reader::default()), None);
}
