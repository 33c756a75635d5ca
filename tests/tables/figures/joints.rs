//! Scarfs, laps, blocks, glued areas, age along a joint.

use super::{near, number, word};
use crate::table::rows;

#[test]
fn scarfs() {
    for row in rows(include_str!("../scarf.csv")) {
        let line = format!("scarf slope=1:{} thickness=10mm width=20mm", row.text(0));
        row.same(1, number(&line, "shear_share"));
        row.same(2, number(&line, "normal_share"));
        row.same(3, number(&line, "area_mm2") / 200.0);
        near(number(&line, "length_mm"), 10.0 * row.number(0), 1e-9);
    }
}

#[test]
fn laps() {
    for row in rows(include_str!("../lap.csv")) {
        let line = format!(
            "lap-stress e1={}MPa t1={}mm e2={}MPa t2={}mm glue-shear-modulus={}MPa glue-thickness={}mm overlap={}mm \
             load-per-width={}N/mm",
            row.text(1),
            row.text(2),
            row.text(3),
            row.text(4),
            row.text(5),
            row.text(6),
            row.text(7),
            row.text(8)
        );
        row.same(9, number(&line, "average_mpa"));
        row.same(10, number(&line, "peak_mpa"));
    }
}

#[test]
fn blocks() {
    // 6000 lb on 2 in by 1.5 in: 2000 psi, 13.79 MPa.
    near(number("block-shear load=6000lbf width=2in length=1.5in", "shear_mpa"), 13.79, 0.005);
}

#[test]
fn glued_areas() {
    for row in rows(include_str!("../joint_area.csv")) {
        let line = format!("joint-area {}", row.text(0));
        row.same(1, number(&line, "pairs"));
        row.same(2, number(&line, "area_mm2"));
    }
    // Twenty laps of 24 cm², both faces at 200 g/m², a tenth more: 0.048 m² x 400 g/m² x 1.1.
    let twenty = "joint-area sort=lap length=60mm width=40mm joints=20 spread=200g/m2 waste=10%";
    near(number(twenty, "all_mm2"), 48_000.0, 1e-9);
    near(number(twenty, "mixed_g"), 21.12, 1e-9);
    near(number("joint-area sort=fillet length=300mm leg=12mm joints=2", "fillet_ml"), 43.2, 1e-9);
}

#[test]
fn age_along_a_joint() {
    for row in rows(include_str!("../joint_age.csv")) {
        let limits = match row.text(7) {
            "" => String::new(),
            open => format!(" open-limit={open} closed-limit={}", row.text(8)),
        };
        let line = format!(
            "joint-age length={} spread-time={} spread={} closing={} pause={} clamp-time={} clamp={}{limits}",
            row.text(0),
            row.text(1),
            row.text(2),
            row.text(3),
            row.text(4),
            row.text(5),
            row.text(6)
        );
        row.same(9, number(&line, "worst_age_min"));
        row.same(10, number(&line, "worst_at_m"));
        if limits.is_empty() {
            row.same(12, number(&line, "best_age_min"));
        } else {
            row.same(11, number(&line, "used_share"));
            row.same(12, number(&line, "best_share"));
        }
    }
    let line = "joint-age length=5m spread-pace=0.5m/min closing=as-spread clamp-time=10min clamp=back";
    near(number(line, "worst_age_min"), 20.0, 1e-9);
    let advice = word(line, "advice").unwrap_or_default();
    assert!(advice.contains("at the first end") && advice.ends_with("then it is 10 min."), "{advice}");
    let late = "joint-age length=5m spread-time=12min clamp-time=10min clamp=back open-limit=10min closed-limit=20min";
    assert!(
        word(late, "advice").is_some_and(|said| said.contains("Even so it is too late: close it behind the brush"))
    );
}
