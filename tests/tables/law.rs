//! Time and temperature: what a handbook prints, and fits computed elsewhere.

use crate::table::rows;
use glue::card::{BelowMinimum, Card, Class, CountedFrom, Limit, Origin, Point};
use glue::clock::{Air, Asked, Charge, Clock, Knot, LawKind, Source, State, Stay, Told, Wood, tell};
use glue::law::curve::Form;
use glue::law::{fit, of_limit};
use glue::number::GAS;

pub const MINUTE: f64 = 60_000.0;

pub fn fahrenheit(f: f64) -> f64 {
    (f + 459.67) / 1.8
}

pub fn card(class: Class, clock: Clock, points: &[(f64, f64)]) -> Card {
    let point = |(at_k, minutes): &(f64, f64)| Point {
        at_k: Some(*at_k),
        low_ms: minutes * MINUTE,
        high_ms: minutes * MINUTE,
        mass_g: None,
    };
    let points = points.iter().map(point).collect();
    Card {
        class,
        origin: Origin::Sheet,
        limits: vec![Limit { clock, points, counted_from: None, bent: false }],
        together: false,
        minimum_cure_k: None,
        below_minimum: BelowMinimum::Resumes,
        maximum_cure_k: None,
        application_minimum_k: None,
        application_maximum_k: None,
        water_borne: false,
        film_gel: None,
        equivalents: None,
        glass: None,
    }
}

/// Points of one adhesive and criterion: kelvin, minutes.
fn group(adhesive: &str, criterion: &str) -> Vec<(f64, f64)> {
    let rows = rows(include_str!("cure_time_temperature.csv"));
    let of = rows.iter().filter(|row| row.text(0) == adhesive && row.text(4) == criterion);
    of.map(|row| (fahrenheit(row.number(1)), row.number(3))).collect()
}

#[test]
fn least_squares_over_the_handbooks_groups() {
    let setting = "300 psi dry in 3-ply 1/16 in yellow birch";
    let groups = [
        group("urea-formaldehyde room-temp-setting", setting),
        group("urea-formaldehyde room-temp-setting", "equally safe clamp removal"),
        group("casein", setting),
        group("urea or casein (rule)", "minimum pressure period"),
        group("low-temperature phenol-formaldehyde", "high joint strength"),
        group("low-temperature phenol-formaldehyde", "full dry strength of 3-ply birch"),
        group("hot-setting resin (one example)", "cure"),
    ];
    let checks = rows(include_str!("energy_of_pairs.csv"));
    assert_eq!(checks.len(), groups.len());
    for (row, group) in checks.iter().zip(groups) {
        assert_eq!(group.len() as f64, row.number(1), "{}", row.text(0));
        let spots: Vec<(f64, f64)> = group.iter().map(|(k, minutes)| (1.0 / k, libm::log(*minutes))).collect();
        let fit = fit::fit(&spots).unwrap();
        row.same(2, fit.b * GAS / 1e3);
        row.same(3, fit.a);
    }
}

#[test]
fn four_hours_at_seventy_and_two_at_ninety() {
    let rule = group("urea or casein (rule)", "minimum pressure period");
    for class in [Class::Urea, Class::Casein, Class::Epoxy] {
        let card = card(class, Clock::Clamp, &rule);
        let law = of_limit(&card, &card.limits[0], |_| 1.0).unwrap();
        assert_eq!(law.kind, LawKind::TwoPoint);
        for (f, minutes, half) in [(70.0, 240.0, 0.5), (80.0, 168.6, 0.05), (90.0, 120.0, 0.5)] {
            for curve in &law.curves {
                let ours = curve.time_ms(fahrenheit(f)) / MINUTE;
                assert!((ours - minutes).abs() <= half, "{ours} at {f} °F");
            }
        }
    }
    let card = card(Class::Epoxy, Clock::Clamp, &rule);
    let law = of_limit(&card, &card.limits[0], |_| 1.0).unwrap();
    let at_60 = [0, 1].map(|i| law.curves[i].time_ms(fahrenheit(60.0)) / MINUTE);
    assert!((at_60[0] - 400.0).abs() <= 0.5 && (at_60[1] - 346.0).abs() <= 0.5, "{at_60:?}");
}

#[test]
fn bands_of_five_points() {
    let points = [(10.0, 30.0), (15.0, 19.0), (20.0, 12.0), (25.0, 8.5), (30.0, 5.5)];
    let spots: Vec<(f64, f64)> = points.iter().map(|(c, h)| (1.0 / (c + 273.15), libm::log(*h))).collect();
    let fit = fit::fit(&spots).unwrap();
    assert!((fit.b * GAS / 1e3 - 59.935_674).abs() <= 0.5e-6);
    assert!((fit.slope_error() * GAS / 1e3 - 1.294_021).abs() <= 0.5e-6);
    assert!((fit.s - 0.028_669_202).abs() <= 0.5e-9);
    let at = |form: Form, celsius: f64| libm::exp(form.ln_t(1.0 / (celsius + 273.15)));
    for row in rows(include_str!("five_points.csv")) {
        let celsius = row.number(0);
        row.same(1, at(Form::Straight { a: fit.a, b: fit.b }, celsius));
        row.same(2, at(Form::Edge { fit, h: -fit.qs }, celsius));
        row.same(3, at(Form::Edge { fit, h: fit.qs }, celsius));
    }
}

#[test]
fn shares_by_activation_energy() {
    for row in rows(include_str!("shares_by_energy.csv")) {
        let form = Form::Straight { a: 0.0, b: row.number(0) * 1e3 / GAS };
        let faster = |from: f64, to: f64| form.rate(to + 273.15) / form.rate(from + 273.15);
        for (column, celsius) in (1..7).zip([5.0, 10.0, 15.0, 20.0, 25.0, 30.0]) {
            row.same(column, faster(celsius, celsius + 10.0));
        }
        row.same(7, faster(10.0, 25.0));
        row.same(8, faster(40.0, 25.0));
    }
}

#[test]
fn equivalent_age_is_not_quietly_renormalised() {
    let form = Form::Straight { a: 0.0, b: 4_000.0 };
    for row in rows(include_str!("age_factor.csv")) {
        row.same(1, libm::exp(13.65 - 4_000.0 / (273.0 + row.number(0))));
        row.same(2, form.rate(row.number(0) + 273.15) / form.rate(293.15));
    }
}

/// An assembly clock of a drying glue two minutes after its start, in steady air.
fn assembly(clock: Clock, card: &Card, f: f64, carried: [f64; 3]) -> Told {
    let k = fahrenheit(f);
    let knots = vec![Knot { at_ms: 0, low_k: k, mean_k: k, high_k: k }];
    let air = Air { sources: vec![Source { error_k: 1.0, knots, lowest: vec![] }], ..Air::default() };
    let path = [Stay { from_ms: 0, air: Some(&air) }];
    tell(&Asked {
        clock,
        card,
        bent: false,
        started_ms: Some(0),
        ended_ms: None,
        at_ms: 120_000,
        path: &path,
        wood: Wood::default(),
        charge: Charge::default(),
        carried,
        shorter: Default::default(),
        pending: &[],
        time_lost_ms: None,
    })
}

#[test]
fn assembly_periods_are_the_printed_ones_inside_the_printed_range() {
    for row in rows(include_str!("assembly_time.csv")) {
        let class = if row.text(0) == "casein" { Class::Casein } else { Class::Urea };
        let clock = if row.text(4) == "open" { Clock::Open } else { Clock::Closed };
        let (low, high, minutes) = (row.number(1), row.number(2), row.number(5));
        let mut card = card(class, clock, &[(fahrenheit(low), minutes), (fahrenheit(high), minutes)]);
        card.water_borne = true;
        card.limits[0].counted_from = Some(CountedFrom::Closing);
        for f in [low, 80.0, high] {
            let told = assembly(clock, &card, f, [0.0; 3]);
            assert_eq!((told.law, told.state), (LawKind::Unscaled, State::Running));
            let all = [told.earliest_ms, told.expected_ms, told.latest_ms];
            assert_eq!(all, [Some((minutes * MINUTE) as i64); 3], "at {f} °F");
        }
        for f in [low - 1.0, high + 1.0] {
            assert_eq!(assembly(clock, &card, f, [0.0; 3]).state, State::Over, "at {f} °F");
        }
        // A handbook's number is taken with ten per cent off at the safe bound.
        card.origin = Origin::Handbook;
        let told = assembly(clock, &card, 80.0, [0.0; 3]);
        assert_eq!(told.earliest_ms, Some((minutes * MINUTE * 0.9) as i64));
        assert_eq!(told.expected_ms, Some((minutes * MINUTE) as i64));
    }
}

#[test]
fn one_minute_open_uses_two_of_the_closed_time() {
    // The same table, note: 1 min open = 2 min closed. Eight of ten open minutes leave four of twenty.
    let points = [(fahrenheit(70.0), 20.0), (fahrenheit(90.0), 20.0)];
    let mut card = card(Class::Casein, Clock::Closed, &points);
    (card.water_borne, card.together) = (true, true);
    let told = assembly(Clock::Closed, &card, 80.0, [0.8; 3]);
    assert_eq!(told.expected_ms, Some(4 * 60_000));
}
