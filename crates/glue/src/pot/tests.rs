//! Pots against closed forms, against each other, and against the knots of their air.

use super::lumped::{self, TOLERANCE};
use super::resolved::{self, Grid};
use super::*;

fn cup(grams: f64, celsius: f64) -> Pot {
    Pot::fresh(GLUE, grams / 1e3, Vessel::Cup, celsius + 273.15, celsius + 273.15)
}

#[test]
fn show() {
    let pot = cup(100.0, 25.0);
    let c = lumped::run(&pot, &TOLERANCE).unwrap();
    eprintln!(
        "{c:?}\nwork {} gel {} hot {} adv {}",
        c.work.unwrap() / 60.,
        c.gel.unwrap() / 60.,
        c.hot.unwrap() / 60.,
        c.advised().unwrap() / 60.
    );
    for cells in [8, 10, 16, 32] {
        let i = resolved::run(&pot, Grid { cells, relative: 1e-6 }).unwrap();
        eprintln!(
            "{cells} mean {:.5} centre {:.5} gel {:.4} {:.4} hot {:.4} peak {:.3} {:?}",
            i.mean_work.unwrap() / 60.,
            i.work.unwrap() / 60.,
            i.mean_gel.unwrap() / 60.,
            i.gel.unwrap() / 60.,
            i.hot.unwrap() / 60.,
            i.peak_k - 273.15,
            i.done
        );
    }
    for (g, t, v) in [
        (25.0, 25.0, Vessel::Cup),
        (100.0, 25.0, Vessel::Cup),
        (500.0, 25.0, Vessel::Cup),
        (100.0, 15.0, Vessel::Cup),
        (100.0, 35.0, Vessel::Cup),
        (100.0, 25.0, Vessel::Tray(0.006)),
        (100.0, 15.0, Vessel::Tray(0.012)),
    ] {
        let pot = Pot { vessel: v, ..cup(g, t) };
        let c = lumped::run(&pot, &TOLERANCE).unwrap();
        let i = resolved::run(&pot, resolved::GRID).unwrap();
        eprintln!(
            "{g} {t} {v:?} lumped.advised {:.3} inside first {:.3} work {:.3} {:?} {:?}",
            c.advised().unwrap() / 60.,
            i.first().unwrap() / 60.,
            i.work.unwrap() / 60.,
            c.done,
            i.done
        );
    }
}
