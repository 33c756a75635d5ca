//! Pots: the whole matrix, the resolved cup, rates from a sheet, and a plain oracle of another kind.

use super::{asked, near, number};
use crate::table::rows;
use glue::figure::Out;
use glue::pot::calibrate::{Sheet, calibrate};
use glue::pot::lumped::{Course, TOLERANCE, run};
use glue::pot::resolved::{self, Grid};
use glue::pot::{GLUE, Pot, Vessel};

const GRAMS: [f64; 5] = [25.0, 50.0, 100.0, 200.0, 500.0];
const CELSIUS: [f64; 5] = [15.0, 20.0, 25.0, 30.0, 35.0];

fn vessel(word: &str) -> Vessel {
    match word {
        "cup" => Vessel::Cup,
        "tray6mm" => Vessel::Tray(0.006),
        "tray12mm" => Vessel::Tray(0.012),
        other => panic!("{other}"),
    }
}

fn pot(word: &str, grams: f64, celsius: f64) -> Pot {
    Pot::fresh(GLUE, grams / 1e3, vessel(word), celsius + 273.15, celsius + 273.15)
}

fn forecast(word: &str, grams: f64, celsius: f64) -> Course {
    run(&pot(word, grams, celsius), &TOLERANCE).unwrap()
}

#[test]
fn the_matrix_as_printed() {
    let (mut times, mut kelvins, mut peaks): (f64, f64, f64) = (0.0, 0.0, 0.0);
    for row in rows(include_str!("../pot_matrix.csv")) {
        let course = forecast(row.text(0), row.number(1), row.number(2));
        let mut off = |s: f64, column: usize| times = times.max((s / 60.0 / row.number(column) - 1.0).abs());
        off(course.work.unwrap(), 5);
        off(course.gel.unwrap(), 8);
        match row.text(11) {
            "nan" => assert_eq!(course.warned, None),
            _ => off(course.warned.unwrap(), 11),
        }
        kelvins = kelvins.max((course.work_k.unwrap() - 273.15 - row.number(7)).abs());
        kelvins = kelvins.max((course.peak_k - 273.15 - row.number(9)).abs());
        peaks = peaks.max((course.peak / 60.0 / row.number(10) - 1.0).abs());
    }
    println!("matrix: times {times:e}, temperatures {kelvins:e} K, instants of the peak {peaks:e}");
    assert!(times < 5e-8 && kelvins < 2e-5 && peaks < 2e-6, "{times:e} {kelvins:e} {peaks:e}");
}

#[test]
fn the_matrix_through_the_figure() {
    for row in rows(include_str!("../pot_matrix.csv")).iter().step_by(4) {
        let vessel = row.text(0).replace("tray", "tray:");
        let line = format!("pot mass={}g ambient={}C vessel={vessel}", row.text(1), row.text(2));
        near(number(&line, "work_limit_min") / row.number(5), 1.0, 5e-8);
        near(number(&line, "gel_min") / row.number(8), 1.0, 5e-8);
        near(number(&line, "peak_c"), row.number(9), 2e-5);
        near(number(&line, "peak_min") / row.number(10), 1.0, 2e-6);
        assert!(number(&line, "advised_min") <= 0.90 * row.number(5) * (1.0 + 1e-7));
        let warned = asked(&line).unwrap().get("warning").cloned().unwrap();
        match warned {
            Out::Nothing => assert!(row.number(9) <= 60.0),
            Out::Word(words) => assert_eq!(words.contains("150 °C"), row.number(9) > 150.0, "{words}"),
            other => panic!("{other:?}"),
        }
    }
}

/// Conversion limit and gel, s, by the classical rule of order four in steps of a second, straight between two steps.
fn plainly(word: &str, grams: f64, celsius: f64) -> [f64; 2] {
    let volume = grams / 1e3 / 1_100.0;
    let (area, inside) = match word {
        "cup" => {
            let width = libm::cbrt(4.0 * volume / std::f64::consts::PI);
            let area = 1.5 * std::f64::consts::PI * width * width;
            (area, 0.6 * volume / (area * 0.2))
        }
        _ => {
            let depth = if word == "tray6mm" { 0.006 } else { 0.012 };
            (2.0 * volume / depth, depth / 6.0 / 0.2)
        }
    };
    let air = celsius + 273.15;
    let loss = area / (0.125 + 0.005 + inside) / (grams / 1e3 * 2_000.0);
    let slope = |(a, t): (f64, f64)| {
        let k = |at25: f64, e: f64| at25 * libm::exp(e / 8.314_462_618 * (1.0 / 298.15 - 1.0 / t));
        let rate = (k(1e-5, 60e3) + k(2e-4, 55e3) * a) * (1.0 - a) * (1.0 - a);
        (rate, 200.0 * rate - loss * (t - air))
    };
    let ahead = |y: (f64, f64), h: f64, k: (f64, f64)| (y.0 + h * k.0, y.1 + h * k.1);
    let (mut y, mut s) = ((0.0, air), 0.0);
    let mut found = [f64::NAN; 2];
    while found[1].is_nan() {
        let k1 = slope(y);
        let k2 = slope(ahead(y, 0.5, k1));
        let k3 = slope(ahead(y, 0.5, k2));
        let k4 = slope(ahead(y, 1.0, k3));
        let sum = |a: f64, b: f64, c: f64, d: f64| (a + 2.0 * b + 2.0 * c + d) / 6.0;
        let end = ahead(y, 1.0, (sum(k1.0, k2.0, k3.0, k4.0), sum(k1.1, k2.1, k3.1, k4.1)));
        for (found, level) in found.iter_mut().zip([0.193_886_927_3, 0.577_350_269_2]) {
            if found.is_nan() && end.0 >= level {
                *found = s + (level - y.0) / (end.0 - y.0);
            }
        }
        (y, s) = (end, s + 1.0);
    }
    found
}

#[test]
fn all_seventy_five_agree_with_a_plain_rule() {
    let (mut calls, mut worst) = (0, 0.0f64);
    for word in ["cup", "tray6mm", "tray12mm"] {
        for celsius in CELSIUS {
            let of_tray = forecast(word, 100.0, celsius);
            for grams in GRAMS {
                let course = forecast(word, grams, celsius);
                calls += course.done.calls;
                if word != "cup" {
                    near(course.gel.unwrap() / of_tray.gel.unwrap(), 1.0, 1e-9);
                    continue;
                }
                let [work, gel] = plainly(word, grams, celsius);
                worst = worst.max((course.work.unwrap() / work - 1.0).abs());
                worst = worst.max((course.gel.unwrap() / gel - 1.0).abs());
            }
            let [work, gel] = plainly(word, 100.0, celsius);
            worst = worst.max((of_tray.work.unwrap() / work - 1.0).abs());
            worst = worst.max((of_tray.gel.unwrap() / gel - 1.0).abs());
        }
    }
    println!("75 pots: {calls} values of the right-hand side, worst against the plain rule {worst:e}");
    // Straight between two seconds costs an eighth of a second squared times the bend, below 5e-6 of these times.
    assert!(worst < 1e-5 && calls < 50_000, "{worst:e} {calls}");
}

#[test]
fn the_hottest_point_of_a_cup() {
    for row in rows(include_str!("../pot_resolved.csv")) {
        let pot = pot("cup", row.number(0), 25.0);
        let grid = Grid { cells: row.number(1) as usize, relative: 1e-6 };
        let inside = resolved::run(&pot, grid).unwrap();
        // The published grid keeps its cells another way: held to 0.2 %.
        for (seconds, column) in [(inside.mean_work, 4), (inside.work, 5), (inside.mean_gel, 7)] {
            near(seconds.unwrap() / 60.0 / row.number(column), 1.0, 2e-3);
        }
    }
    let inside = resolved::run(&pot("cup", 100.0, 25.0), resolved::GRID).unwrap();
    near(inside.mean_work.unwrap() / 60.0 / 79.6, 1.0, 0.01);
    near(inside.work.unwrap() / 60.0 / 74.4, 1.0, 0.01);
}

#[test]
fn the_lumped_pot_of_the_same_cups() {
    for row in rows(include_str!("../pot_resolved.csv")) {
        let lumped = forecast("cup", row.number(0), 25.0);
        for (seconds, column) in [(lumped.work, 2), (lumped.gel, 6)] {
            near(seconds.unwrap() / 60.0 / row.number(column), 1.0, 5e-8);
        }
        near(lumped.peak_k - 273.15, row.number(9), 2e-5);
        // The lumped pot is late at the middle of the cup by 7 to 9 %: what is advised takes a tenth off.
        let late = row.number(2) / row.number(5) - 1.0;
        assert!((0.06..0.10).contains(&late), "{late}");
        assert!(lumped.advised().unwrap() / 60.0 <= row.number(5), "{} g", row.number(0));
    }
}

#[test]
fn half_the_cell_a_quarter_of_the_error() {
    let pot = pot("cup", 100.0, 25.0);
    let at = |cells: usize| {
        let inside = resolved::run(&pot, Grid { cells, relative: 1e-6 }).unwrap();
        [inside.work.unwrap(), inside.mean_work.unwrap()]
    };
    let (eight, sixteen, fine) = (at(8), at(16), at(64));
    for ((eight, sixteen), fine) in eight.into_iter().zip(sixteen).zip(fine) {
        let ratio = (eight - fine) / (sixteen - fine);
        println!("8: {:.3} s, 16: {:.3} s, ratio {ratio:.2}", eight - fine, sixteen - fine);
        assert!((3.5..5.0).contains(&ratio), "{ratio}");
    }
}

#[test]
fn rates_from_a_sheet() {
    for row in rows(include_str!("../pot_calibration.csv")) {
        let at = 298.15;
        let sheet =
            Sheet { mass: 0.1, pot_k: at, pot_life: row.number(0) * 60.0, film_k: at, film_gel: row.number(1) * 60.0 };
        let found = calibrate(&GLUE, &sheet).unwrap();
        assert_eq!(found.film_instead, None);
        near(found.glue.kinetics.k2 / row.number(2), 1.0, 1e-6);
        near(found.glue.kinetics.k1 / row.number(3), 1.0, 1e-6);
        println!("{} pots, {} calls", found.pots, found.calls);
        let line =
            format!("pot mass=100g ambient=25C pot-life=100g@25C:{}min film-gel=25C:{}min", row.text(0), row.text(1));
        near(number(&line, "work_limit_min") / row.number(0), 1.0, 1e-7);
    }
    // A film that gels before the pot is through: no rates do both, and the answer says so.
    let answer = asked("pot mass=100g ambient=25C pot-life=100g@25C:45min film-gel=25C:46min").unwrap();
    near(answer.number("work_limit_min").unwrap(), 45.0, 1e-5);
    assert!(answer.basis.assumptions.iter().any(|said| said.contains("disagree")), "{:?}", answer.basis.assumptions);
}
