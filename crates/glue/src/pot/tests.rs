//! Pots against closed forms, in changing air, and what is said of them.

use super::advice::{warning, ways};
use super::lumped::{self, TOLERANCE};
use super::resolved::{self, GRID, Grid};
use super::*;

fn cup(grams: f64, celsius: f64) -> Pot {
    Pot::fresh(GLUE, grams / 1e3, Vessel::Cup, celsius + 273.15, celsius + 273.15)
}

#[test]
fn without_heat_a_pot_is_a_film() {
    let pot = Pot { glue: Glue { heat: 0.0, ..GLUE }, ..cup(100.0, 25.0) };
    let course = lumped::run(&pot, &TOLERANCE).unwrap();
    let film = GLUE.kinetics.isothermal_s(GLUE.work, 298.15);
    let off = (course.work.unwrap() / film - 1.0).abs();
    // The solver holds each step to 1e-8; as in the matrix, the whole way is held to 5e-8.
    assert!(off < 5e-8, "{off:e} {course:?}");
    let inside = resolved::run(&pot, Grid { cells: 4, relative: 1e-6 }).unwrap();
    assert!((inside.work.unwrap() / film - 1.0).abs() < 2e-4, "{inside:?}");
    assert!((inside.mean_work.unwrap() - inside.work.unwrap()).abs() < 1e-6);
}

#[test]
fn without_a_way_out_all_heat_is_temperature() {
    // A very large mass loses nothing in its time: T = start + heat a / capacity.
    let course = lumped::run(&cup(1e12, 25.0), &TOLERANCE).unwrap();
    let wanted = 298.15 + GLUE.heat * GLUE.work / GLUE.capacity;
    assert!((course.work_k.unwrap() - wanted).abs() < 0.02, "{course:?}");
}

#[test]
fn knots_on_a_straight_line_change_nothing_and_cold_air_does() {
    let plain = lumped::run(&cup(100.0, 25.0), &TOLERANCE).unwrap();
    let knots = (0..7).map(|k| (f64::from(k) * 900.0, 298.15)).collect();
    let same = lumped::run(&Pot { air: knots, ..cup(100.0, 25.0) }, &TOLERANCE).unwrap();
    assert!((same.work.unwrap() / plain.work.unwrap() - 1.0).abs() < 1e-7);
    assert!((same.gel.unwrap() / plain.gel.unwrap() - 1.0).abs() < 1e-7);
    let colder = Pot { air: vec![(0.0, 298.15), (1_800.0, 298.15), (2_400.0, 288.15)], ..cup(100.0, 25.0) };
    assert!(lumped::run(&colder, &TOLERANCE).unwrap().work.unwrap() > 1.05 * plain.work.unwrap());
    assert!(resolved::run(&colder, GRID).unwrap().work.unwrap() > 1.02 * plain.work.unwrap() * 0.9);
}

#[test]
fn warmed_resin_in_a_cold_shop() {
    let cold = lumped::run(&cup(500.0, 5.0), &TOLERANCE).unwrap();
    let warmed = lumped::run(&Pot { start: 318.15, ..cup(500.0, 5.0) }, &TOLERANCE).unwrap();
    assert!(warmed.work.unwrap() < 0.2 * cold.work.unwrap(), "{cold:?} {warmed:?}");
}

#[test]
fn work_is_bounded() {
    let lumped = lumped::run(&cup(100.0, 25.0), &TOLERANCE).unwrap().done;
    let inside = resolved::run(&cup(100.0, 25.0), GRID).unwrap().done;
    assert!(lumped.calls < 700 && inside.calls < 700, "{lumped:?} {inside:?}");
}

#[test]
fn splitting_helps_a_little_and_a_tray_more() {
    let all = ways(&cup(150.0, 25.0)).unwrap();
    let [now, tray, halves] = [all.as_is, all.tray, all.halves].map(|course| course.advised().unwrap());
    assert!(halves > now && halves < 1.12 * now && tray > 1.2 * now, "{now} {halves} {tray}");
    assert!(all.said().unwrap().contains("in two cups"), "{:?}", all.said());
}

#[test]
fn plain_words() {
    assert_eq!(warning(273.15 + 59.9), "");
    assert!(warning(273.15 + 60.1).contains("60 °C") && warning(273.15 + 150.1).contains("150 °C"));
}

#[test]
fn after_goes_through_what_a_run_finds() {
    let pot = cup(100.0, 25.0);
    let course = lumped::run(&pot, &TOLERANCE).unwrap();
    let (conversion, kelvin) = lumped::after(&pot, course.work.unwrap(), &TOLERANCE).unwrap();
    assert!(
        (conversion - WORK).abs() < 1e-7 && (kelvin - course.work_k.unwrap()).abs() < 1e-4,
        "{conversion} {kelvin}"
    );
    assert_eq!(lumped::after(&pot, 0.0, &TOLERANCE), Ok((0.0, 298.15)));
}

#[test]
fn a_pot_life_alone_is_met() {
    let glue = calibrate::by_life(&GLUE, 0.1, 298.15, 3_600.0).unwrap();
    assert!((glue.kinetics.k1 / glue.kinetics.k2 - 0.05).abs() < 1e-12);
    let course = lumped::run(&Pot { glue, ..cup(100.0, 25.0) }, &TOLERANCE).unwrap();
    assert!((course.work.unwrap() / 3_600.0 - 1.0).abs() < 1e-7, "{course:?}");
}
