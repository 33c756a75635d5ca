//! Pictures hold what they say, inside their edges.

use super::*;
use glue::figure;

fn drawn(name: &str, inputs: &[(&str, &str)]) -> Vec<FigurePicture> {
    let Ok(answer) = figure::reckon(name, inputs.iter().copied()) else { panic!("{name} is refused: {inputs:?}") };
    let known = figure::find(name).unwrap_or_else(|| panic!("{name}"));
    let given = Given::read(known, inputs.iter().copied()).unwrap_or_else(|refusal| panic!("{refusal:?}"));
    pictures(&answer, &given)
}

fn looks(picture: Option<&FigurePicture>, look: &str) -> usize {
    picture.iter().flat_map(|one| &one.lines).filter(|line| line.look == look).count()
}

#[track_caller]
fn sound(one: &FigurePicture) {
    let on_lines = one.lines.iter().flat_map(|line| line.points.iter().chain(&line.word_at));
    let spots: Vec<&[i64; 2]> = on_lines.chain(one.marks.iter().map(|mark| &mark.at)).collect();
    assert!(spots.iter().flat_map(|spot| spot.iter()).all(|at| (0..=1_000_000).contains(at)), "{one:?}");
    assert!(one.across.ticks.len() > 1 && one.up.ticks.len() > 1 && one.words.ends_with('.'), "{one:?}");
}

const POINTS: (&str, &str) = ("points", "20C:10h,25C:6h,30C:4h");

#[test]
fn everything_drawn_lies_inside_and_says_what_it_is() {
    let law = drawn("cure-law", &[POINTS, ("at", "10,40")]);
    let finish = drawn("cure-finish", &[POINTS, ("trace", "0h:22C,3h:14C,7h:24C"), ("minimum", "15C")]);
    let never = drawn("cure-finish", &[POINTS, ("trace", "0h:5C"), ("minimum", "15C")]);
    let chart = drawn("individuals-chart", &[("values", "1,2,1,2,1,2,9")]);
    let count = |all: &[FigurePicture], look| looks(all.first(), look);
    assert_eq!((count(&law, "edge"), count(&law, "main"), count(&law, "beyond")), (2, 1, 2));
    assert_eq!((count(&finish, "gate"), count(&finish, "level"), count(&never, "gate")), (3, 1, 0));
    assert_eq!(chart.iter().flat_map(|one| &one.marks).filter(|mark| mark.look == "out").count(), 1);
    [law, finish, never, chart].iter().flatten().for_each(sound);
}

#[test]
fn a_law_is_straight() {
    let law = drawn("cure-law", &[("points", "75F:240min,90F:120min"), ("at", "50F")]);
    let main = law.iter().flat_map(|one| &one.lines).find(|line| line.look == "main").map(|line| line.points.clone());
    let main = main.unwrap_or_default();
    let (Some([x0, y0]), Some([x1, y1])) = (main.first(), main.last()) else { panic!("{law:?}") };
    for [x, y] in &main {
        let straight = *y0 as f64 + (y1 - y0) as f64 * (x - x0) as f64 / (x1 - x0) as f64;
        assert!((*y as f64 - straight).abs() < 3.0, "{x} {y} {straight}");
    }
}

#[test]
fn a_pot_shows_the_lines_it_crosses() {
    let hot = drawn("pot", &[("mass", "500g"), ("ambient", "25C")]);
    let tray = drawn("pot", &[("mass", "500g"), ("ambient", "25C"), ("vessel", "tray:6mm")]);
    let worded =
        |all: &[FigurePicture], word: &str| all.iter().flat_map(|one| &one.lines).any(|line| line.word == word);
    assert!(worded(&hot, "150 °C: smoke and fire") && !worded(&tray, "150 °C: smoke and fire"));
    assert!(worded(&hot, "50 °C: stop using it") && worded(&tray, "57.7 %: gel"));
    assert_eq!(looks(hot.first(), "gate"), 2);
    [hot, tray].iter().flatten().for_each(sound);
}

#[test]
fn a_cure_and_its_answer_end_together() {
    let cured = drawn("cured-state", &[("temperature", "20C"), ("time", "7d"), ("then", "60C:6h")]);
    assert_eq!(cured.len(), 2);
    for one in &cured {
        sound(one);
        let last = one.lines.iter().find(|line| line.look == "main").and_then(|line| line.points.last());
        let asked = one.marks.iter().find(|mark| mark.look == "asked").map(|mark| mark.at);
        let (Some([x, y]), Some([a, b])) = (last, asked) else { panic!("{one:?}") };
        assert!((x - a).abs() <= 2 && (y - b).abs() <= 200, "{x} {y} {a} {b}");
        assert_eq!(looks(Some(one), "gate"), 1);
    }
}

#[test]
fn progress_is_done_where_the_gate_stands() {
    let finish = drawn("cure-finish", &[POINTS, ("trace", "0h:22C,3h:14C,7h:24C"), ("minimum", "15C")]);
    let Some(progress) = finish.get(1) else { panic!("{finish:?}") };
    let expected =
        progress.lines.iter().find(|line| line.word.starts_with("expected")).and_then(|line| line.points.first());
    let main = progress.lines.iter().find(|line| line.look == "main");
    let done = main.iter().flat_map(|line| &line.points).find(|at| at[1] <= 47_700);
    let (Some(gate), Some(done)) = (expected, done) else { panic!("{progress:?}") };
    assert!((gate[0] - done[0]).abs() < 12_000, "{gate:?} {done:?}");
}

#[test]
fn the_asked_air_lies_between_its_lines() {
    let map = drawn("wood-moisture", &[("temperature", "20C"), ("humidity", "65%")]);
    let Some(one) = map.first() else { panic!("no map") };
    sound(one);
    let Some([x, y]) = one.marks.iter().find(|mark| mark.look == "asked").map(|mark| mark.at) else {
        panic!("{one:?}")
    };
    let height = |word: &str| {
        let points =
            one.lines.iter().find(|line| line.word == word).map(|line| line.points.as_slice()).unwrap_or_default();
        points.iter().min_by_key(|at| (at[0] - x).abs()).map(|at| at[1]).unwrap_or_default()
    };
    // 12 % is drawn, and 20 °C with 65 % settles at 12.0.
    assert!((height("12 %") - y).abs() < 5_000 && height("10 %") > y && height("15 %") < y, "{y} {one:?}");
}

#[test]
fn every_drawn_figure_is_sound_in_an_everyday_case() {
    let all: &[(&str, &[(&str, &str)])] = &[
        ("heated-air", &[("outdoor-temperature", "-10C"), ("outdoor-humidity", "80%"), ("indoor-temperature", "20C")]),
        ("dew-point", &[("temperature", "20C"), ("humidity", "65%"), ("surface", "12C")]),
        ("off-ratio", &[("equivalents", "0.9:1")]),
        ("off-ratio", &[("equivalents", "100:1")]),
        (
            "isothermal-cure",
            &[("k1", "1e-5"), ("k2", "2e-4"), ("m", "1"), ("n", "2"), ("conversion", "0.9"), ("plateau", "0.8")],
        ),
        ("glue-line-warmup", &[("thickness", "20mm"), ("film", "10"), ("sides", "1")]),
        ("spring-back", &[("laminae", "6"), ("radius", "600mm")]),
        ("spring-back", &[("laminae", "1000"), ("form-radius", "600mm")]),
        ("bend-radius", &[("thickness", "3mm"), ("kind", "plywood-dry-45")]),
        ("bend-radius", &[("thickness", "3mm"), ("kind", "breaking")]),
        ("lamination", &[("radius", "1.5m"), ("thickness", "24mm")]),
        ("lamination", &[("radius", "300mm"), ("thickness", "15mm"), ("use", "former"), ("bend", "wet-then-dry")]),
        ("lamination", &[("radius", "60m"), ("thickness", "100mm"), ("laminae", "900")]),
        ("joint-age", &[("length", "5m"), ("spread-time", "12min"), ("clamp-time", "10min"), ("clamp", "back")]),
        ("joint-age", &[("length", "5m"), ("spread-time", "0min"), ("clamp-time", "0min")]),
        ("scarf", &[("slope", "12"), ("thickness", "20mm"), ("width", "40mm")]),
        (
            "lap-stress",
            &[
                ("load-per-width", "100N/mm"),
                ("overlap", "30mm"),
                ("e1", "10000MPa"),
                ("t1", "5mm"),
                ("e2", "12000MPa"),
                ("t2", "3mm"),
                ("glue-shear-modulus", "900MPa"),
                ("glue-thickness", "0.2mm"),
            ],
        ),
        ("basis-value", &[("values", "10,10.5,9.7,11,10.2")]),
    ];
    for (name, inputs) in all {
        let drawn = drawn(name, inputs);
        assert!(!drawn.is_empty(), "{name} {inputs:?}");
        drawn.iter().for_each(sound);
    }
}

#[test]
fn a_schedule_and_an_age_lie_on_their_lines() {
    let bow = drawn("lamination", &[("radius", "1.5m"), ("thickness", "24mm")]);
    let age = drawn("joint-age", &[("length", "5m"), ("spread-time", "12"), ("clamp-time", "10"), ("clamp", "back")]);
    assert_eq!((looks(age.first(), "edge"), looks(age.first(), "main")), (1, 1));
    for one in [bow, age].iter().flatten() {
        // Eight strips of 3 mm are just thin enough for 1.5 m; what was spread first is clamped last.
        let main =
            one.lines.iter().find(|line| line.look == "main").map(|line| line.points.clone()).unwrap_or_default();
        let asked = one.marks.iter().find(|mark| mark.look == "asked").map(|mark| mark.at).unwrap_or_default();
        assert!(main.contains(&asked), "{asked:?} {main:?}");
    }
    let wet =
        drawn("lamination", &[("radius", "300mm"), ("thickness", "15mm"), ("use", "former"), ("bend", "wet-then-dry")]);
    assert!(wet.iter().flat_map(|one| &one.lines).any(|line| line.word == "bending form"));
    assert!(!wet.iter().flat_map(|one| &one.lines).any(|line| line.word.contains("80 t")));
}
