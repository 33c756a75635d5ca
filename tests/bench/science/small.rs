//! What a pot costs: the forecast that Mix asks for while somebody types, and the resolved pot.

use super::shortest;
use glue::figure::reckon;
use glue::pot::advice::ways;
use glue::pot::lumped::{self, TOLERANCE};
use glue::pot::resolved::{self, GRID};
use glue::pot::{GLUE, Pot, Vessel};
use std::hint::black_box;

pub fn run() {
    let pot = |vessel, g: f64, air: f64, start: f64| Pot::fresh(GLUE, g / 1e3, vessel, air + 273.15, start + 273.15);
    let cup = pot(Vessel::Cup, 150.0, 22.0, 22.0);
    let one = shortest(200, || lumped::run(black_box(&cup), &TOLERANCE));
    let three = shortest(200, || ways(black_box(&cup)));
    println!("a pot's forecast {:.3} ms, with tray and halves {:.3} ms   (wanted: under 2)", one * 1e3, three * 1e3);
    let pots = [
        ("cup 25 g, 25 °C", pot(Vessel::Cup, 25.0, 25.0, 25.0)),
        ("cup 100 g, 25 °C", pot(Vessel::Cup, 100.0, 25.0, 25.0)),
        ("cup 500 g, 5 °C, mix at 45 °C", pot(Vessel::Cup, 500.0, 5.0, 45.0)),
        ("tray 6 mm, 25 °C", pot(Vessel::Tray(0.006), 100.0, 25.0, 25.0)),
    ];
    for (name, pot) in pots {
        let inside = resolved::run(&pot, GRID).expect("it converges");
        let seconds = shortest(10, || resolved::run(black_box(&pot), GRID));
        let calls = inside.done.calls;
        println!(
            "resolved pot, {name:<30} {:6.2} ms, {calls} values of the whole right-hand side   (wanted: under 100)",
            seconds * 1e3
        );
    }
    let typed = [("mass", "150g"), ("ambient", "22C"), ("start", "30C")];
    reckon("pot", typed).expect("it answers");
    let seconds = shortest(10, || reckon("pot", black_box(typed)));
    println!("the figure `pot`, both models   {:6.2} ms", seconds * 1e3);
}
