//! Clamps, straps, vacuum, laminations.

use super::{asked, near, number, word};
use crate::table::rows;
use glue::figure::Out;

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

#[test]
fn schedules_of_laminations() {
    for row in rows(include_str!("../lamination.csv")) {
        let line = format!(
            "lamination radius={}in thickness={}in use={} bend={}",
            row.text(0),
            row.text(1),
            row.text(2),
            row.text(3)
        );
        row.same(4, number(&line, "laminae"));
        row.same(5, number(&line, "lamina_mm") / 25.4);
        row.same(6, number(&line, "form_radius_mm") / 25.4);
        row.same(7, number(&line, "glue_lines"));
    }
    // The two limits of one strip, each by itself: 500 t and 80 t.
    let line = "lamination radius=62.5in thickness=1/2in laminae=4";
    near(number(line, "stressed_radius_mm") / 25.4, 62.5, 1e-9);
    near(number(line, "breaking_radius_mm") / 25.4, 10.0, 1e-9);
    let wet = "lamination radius=12in thickness=1/2in use=former bend=wet-then-dry laminae=4";
    near(number(wet, "soaked_radius_mm") / 25.4, 3.8, 1e-9);
    near(number(wet, "bending_form_mm") / 25.4, 9.6, 1e-9);
    assert_eq!(asked(wet).unwrap().get("breaking_radius_mm"), Some(&Out::Nothing));
}

#[test]
fn a_limit_that_is_not_kept_is_said() {
    let rows = [
        ("lamination radius=62in thickness=1/2in laminae=4", "500 times"),
        ("lamination radius=9in thickness=1/2in laminae=4 use=former", "so thick break"),
        ("lamination radius=20in thickness=1/2in laminae=4 use=former", "less than the margin"),
        ("lamination radius=4in thickness=1/2in laminae=4 use=former bend=wet-then-dry", "soaked strips"),
        ("lamination radius=70in thickness=1/2in laminae=4 bend=wet-then-dry", "no soaking"),
    ];
    for (line, said) in rows {
        assert!(word(line, "warning").is_some_and(|word| word.contains(said)), "{line}: {:?}", asked(line));
    }
    assert_eq!(word("lamination radius=62.5in thickness=1/2in laminae=4", "warning"), None);
    let rise = number("lamination rise=100mm chord=1m thickness=12mm use=former", "radius_mm");
    near(rise, 1_300.0, 1e-9);
    let glue = "lamination radius=62.5in thickness=1/2in laminae=4 area=100cm2 spread=200g/m2 faces=1 waste=10%";
    near(number(glue, "mixed_g"), 6.6, 1e-9);
}

#[test]
fn nails_as_the_handbooks_space_them() {
    for row in rows(include_str!("../nails.csv")) {
        let line = format!("nail-gluing length={}in width={}in thickness={}in", row.text(0), row.text(1), row.text(2));
        row.same(3, number(&line, "rows"));
        row.same(4, number(&line, "per_row"));
        row.same(5, number(&line, "nails"));
        near(number(&line, "least_length_mm") / 25.4, row.number(6), 1e-9);
        near(number(&line, "strip_mm") / 25.4, row.number(7), 1e-9);
        let warning = word(&line, "warning").unwrap_or_else(|| "none".to_owned());
        assert!(warning.contains(row.text(8)), "{line}: {warning}");
    }
    let wide = word("nail-gluing length=10in width=2in thickness=1/16in pitch=1.5in", "warning");
    assert!(wide.is_some_and(|said| said.contains("3/4 in")));
}

#[test]
fn too_much_pressure_and_too_little() {
    // Clamps of the printed 2700 lb on 36 square inches of spruce, 100 to 150 psi: two are just right, four crush it.
    let line = |clamps: &str| format!("clamp-force area=36in2 pressure=100psi maximum=150psi each=2700lbf{clamps}");
    near(number(&line(""), "clamps_needed"), 2.0, 0.0);
    near(number(&line(" clamps=2"), "given_kpa") / 6.894_757_293_168, 150.0, 1e-9);
    assert_eq!(word(&line(" clamps=2"), "warning"), None);
    assert!(word(&line(" clamps=4"), "warning").is_some_and(|said| said.starts_with("over-pressed: 2068 kPa")));
    assert!(word(&line(" clamps=1"), "warning").is_some_and(|said| said.starts_with("under-pressed: 517 kPa")));
    // A bag in the mountains is far below every pressure printed for resorcinol.
    let bag = "vacuum altitude=1524m vacuum=85% wanted=125psi maximum=150psi";
    assert!(word(bag, "warning").is_some_and(|said| said.starts_with("under-pressed: 72 kPa of the 862 kPa")));
    let strap = "strap-pressure tension=2000lb/in radius=10in maximum=150psi";
    assert!(word(strap, "warning").is_some_and(|said| said.starts_with("over-pressed")));
}
