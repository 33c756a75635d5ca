//! Kinetics at one temperature, glass, ratios off balance, wood warming through.

use super::{asked, near, number};
use crate::table::{Row, half_digit, rows};
use glue::cure::kinetics::GEL;
use glue::figure::Out;

fn isothermal(row: &Row, [k1, k2]: [f64; 2], conversion: f64) -> String {
    let [m, n, r] = [4, 5, 6].map(|column| row.text(column));
    format!("isothermal-cure k1={k1} k2={k2} m={m} n={n} plateau={r} conversion={conversion}")
}

#[test]
fn published_constants() {
    for row in rows(include_str!("../published_kinetics.csv")) {
        let constants = [row.number(2), row.number(3)];
        for (column, share) in [(7, 0.1), (8, 0.25), (9, 0.5), (10, 0.75), (11, 0.9)] {
            let line = isothermal(&row, constants, share * row.number(6).min(1.0));
            // A conversion typed with a plateau's digits is exact to a double's last ones only.
            near(number(&line, "time_min") / row.number(column), 1.0, 1e-8);
        }
        near(number(&isothermal(&row, constants, GEL), "time_min") / row.number(12), 1.0, 1e-8);
    }
}

#[test]
fn published_constants_at_room_temperature() {
    // The constants are printed rounded: half their last digit is up to 1e-4 of the time.
    let close = |row: &Row, column: usize, minutes: f64| near(minutes / row.number(column), 1.0, 1e-4);
    for row in rows(include_str!("../published_kinetics_rooms.csv")) {
        let constants = [row.number(2) * 1e-6, row.number(3) * 1e-3];
        close(&row, 7, number(&isothermal(&row, constants, 0.25 * row.number(6)), "time_min"));
        let gel = asked(&isothermal(&row, constants, GEL)).unwrap();
        match row.text(8) {
            "never" => assert_eq!(gel.get("time_min"), Some(&Out::Nothing)),
            _ => close(&row, 8, gel.number("time_min").unwrap()),
        }
    }
}

#[test]
fn the_generic_set_at_seven_temperatures() {
    let shares = [0.193_886_927, 0.3, 0.5, 0.577_350_269, 0.7, 0.8, 0.9];
    for row in rows(include_str!("../isothermal.csv")) {
        let (k1, k2) = glue::cure::kinetics::GENERIC.constants(row.number(0) + 273.15);
        near(k1 / row.number(1), 1.0, 1e-9);
        near(k2 / row.number(2), 1.0, 1e-9);
        for (column, share) in (3..).zip(shares) {
            let line = format!("isothermal-cure k1={k1} k2={k2} m=1 n=2 conversion={share}");
            // The two conversions are printed with nine digits.
            near(number(&line, "time_min") / 60.0 / row.number(column), 1.0, 1e-8);
        }
    }
}

#[test]
fn glass_that_grows() {
    for row in rows(include_str!("../glass.csv")) {
        let celsius = row.number(0);
        row.same(1, glue::cure::glass::GENERIC.conversion(celsius + 273.15));
        for (column, days) in [(2, 1), (4, 3), (6, 7), (8, 30), (10, 90)] {
            let line = format!("cured-state temperature={celsius}C time={days}d");
            // The table's own solver ran to a relative 1e-9.
            near(number(&line, "conversion"), row.number(column), 2e-8);
            near(number(&line, "glass_transition_c"), row.number(column + 1), 5e-6);
            assert_eq!(asked(&line).unwrap().get("stalled"), Some(&Out::Flag(true)), "{line}");
        }
        let line = format!("cured-state temperature={celsius}C time=7d then=60C:6h");
        near(number(&line, "conversion"), row.number(12), 2e-8);
        near(number(&line, "glass_transition_c"), row.number(13), 5e-6);
    }
    let young = asked("cured-state temperature=20C time=4h").unwrap();
    assert_eq!(young.get("stalled"), Some(&Out::Flag(false)));
}

#[test]
fn ratios_off_balance() {
    for row in rows(include_str!("../off_balance.csv")) {
        let line = format!("off-ratio equivalents={}:1", row.text(0));
        row.same(1, number(&line, "gel_conversion"));
        row.same(3, number(&line, "limit_conversion"));
        let of_scarcer = number(&line, "gel_conversion") / number(&line, "limit_conversion");
        row.same(2, of_scarcer);
        let share = |line: &str| number(line, "sol_pct") / 100.0;
        near(share(&line), row.number(5), half_digit(row.text(5)).max(1e-14));
        row.same(6, share(&format!("{line} conversion=90%")));
    }
    // Prime's 58 % (read): a tetrafunctional amine and a diepoxide in balance.
    near(number("off-ratio equivalents=1", "gel_conversion"), 0.58, 0.005);
    for far in ["1:3.01", "3.01:1"] {
        let answer = asked(&format!("off-ratio equivalents={far}")).unwrap();
        assert_eq!(answer.get("gel_conversion"), Some(&Out::Nothing));
        near(answer.number("sol_pct").unwrap(), 100.0, 1e-9);
    }
}

#[test]
fn wood_warming_through() {
    for row in rows(include_str!("../heat_up.csv")) {
        for (column, share) in [(3, 0.5), (4, 0.9), (5, 0.95)] {
            let line = format!("glue-line-warmup thickness={}mm film={} share={share}", row.text(0), row.text(1));
            row.same(column, number(&line, "time_min"));
        }
        let half = row.number(0) / 2.0;
        row.same(4, number(&format!("glue-line-warmup thickness={half}mm film={} sides=1", row.text(1)), "time_min"));
    }
}
