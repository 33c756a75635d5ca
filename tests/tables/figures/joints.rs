//! Scarfs, laps, blocks.

use super::{near, number};
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
