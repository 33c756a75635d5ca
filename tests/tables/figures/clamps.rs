//! Clamps, straps, vacuum, laminations.

use super::{near, number};
use crate::table::rows;

#[test]
fn pressures_to_forces() {
    for row in rows(include_str!("../pressure.csv")) {
        for (psi, kpa) in [(0, 2), (1, 3)] {
            let line = format!("clamp-force area=1m2 pressure={}psi clamps=4", row.text(psi));
            row.same(kpa, number(&line, "force_n") / 1e3);
            near(number(&line, "per_clamp_n") * 4.0, number(&line, "force_n"), 1e-6);
        }
    }
}

#[test]
fn screws_give_the_printed_load() {
    for row in rows(include_str!("../screw_clamp.csv")) {
        let line = format!(
            "screw-clamp hand-force={}lbf lever={}in diameter={}in pitch={}in friction={}",
            row.text(1),
            row.text(2),
            row.text(4),
            row.text(3),
            row.text(5)
        );
        let pounds = number(&line, "load_n") / 4.448_221_615_260_5;
        // Printed to 10 or 50 lb, friction to four digits: half a thousandth of the load.
        near(pounds / row.number(6), 1.0, 5e-4);
        near(pounds, row.number(7), 0.6);
    }
}

#[test]
fn straps() {
    let line = "strap-pressure tension=1000lb/in radius=10in";
    near(number(line, "pressure_kpa") / 6.894_757_293_168, 100.0, 1e-9);
}

#[test]
fn vacuum_thins_with_altitude() {
    for row in rows(include_str!("../vacuum.csv")) {
        let at = |pct: u32| number(&format!("vacuum altitude={}m vacuum={pct}%", row.text(0)), "pressure_kpa");
        row.same(1, at(100) * 1e3);
        let psi = 6.894_757_293_168;
        row.same(2, at(100) / psi);
        row.same(3, at(70) / psi);
        row.same(4, at(85) / psi);
    }
}

#[test]
fn laminations_spring_back() {
    for row in rows(include_str!("../spring_back.csv")) {
        let made = format!("spring-back laminae={} form-radius=20in", row.text(0));
        row.same(1, number(&made, "radius_mm") / number(&made, "form_radius_mm"));
        row.same(2, number(&made, "radius_mm") / 25.4);
    }
    // Three inches of camber in four laminae lose 3/16 in: curvature and camber go together.
    let line = "spring-back laminae=4 form-radius=1000mm";
    near(3.0 * (1.0 - 1000.0 / number(line, "radius_mm")), 3.0 / 16.0, 1e-9);
}

#[test]
fn plywood_bends_as_far_as_the_table_says() {
    let kinds = [
        (1, "plywood-dry-90"),
        (2, "plywood-dry-0"),
        (2, "plywood-dry-45"),
        (3, "plywood-soaked-90"),
        (4, "plywood-soaked-0"),
        (4, "plywood-soaked-45"),
    ];
    for row in rows(include_str!("../plywood_bend.csv")) {
        for (column, kind) in kinds {
            let line = format!("bend-radius thickness={}in kind={kind}", row.text(0));
            near(number(&line, "least_radius_mm") / 25.4, row.number(column), 1e-9);
        }
    }
    near(number("bend-radius thickness=1/8in kind=stressed-lamination", "least_radius_mm") / 25.4, 62.5, 1e-9);
    near(number("bend-radius thickness=1in kind=breaking", "least_radius_mm") / 25.4, 80.0, 1e-9);
}
