//! What takes steps: kinetics, glass, networks, the pot in both models, rates from a sheet, made-up batches, fits.

use super::{config, either, number, sound};
use glue::chance::{Doubt, Draws, Known, finishes};
use glue::cure::glass::{self, Glass, post_cure};
use glue::cure::isothermal::{Isothermal, Reached};
use glue::cure::kinetics::{GENERIC, Kinetics, closed, doubling};
use glue::cure::network::Mix;
use glue::cure::ode::{Tolerance, Work, solve};
use glue::law::fit::{Fit, fit};
use glue::pot::advice::{warning, ways};
use glue::pot::calibrate::{Sheet, by_life, calibrate};
use glue::pot::lumped::{self, TOLERANCE};
use glue::pot::resolved::{self, Grid};
use glue::pot::{GLUE, Glue, Pot, Vessel, cup_width};
use proptest::prelude::*;

fn kinetics() -> impl Strategy<Value = Kinetics> {
    let own = prop::array::uniform4(either()).prop_map(|[k1, e1, k2, e2]| Kinetics { k1, e1, k2, e2 });
    prop_oneof![Just(GENERIC), own]
}

fn vessel() -> impl Strategy<Value = Vessel> {
    prop_oneof![Just(Vessel::Cup), (1e-4..0.1f64).prop_map(Vessel::Tray), number().prop_map(Vessel::Tray)]
}

/// A pot of anything, in any air.
fn pot() -> impl Strategy<Value = Pot> {
    let properties = prop::array::uniform6(either());
    let glue = (kinetics(), properties).prop_map(|(kinetics, [heat, capacity, density, conductivity, work, gel])| {
        Glue { kinetics, heat, capacity, density, conductivity, work, gel }
    });
    let glue = prop_oneof![3 => Just(GLUE), 1 => glue];
    let kelvin = || prop_oneof![3 => 253.15..373.15f64, 1 => number()];
    let air = prop::collection::vec((either(), kelvin()), 0..6);
    let mass = prop_oneof![3 => 0.001..5.0f64, 1 => number()];
    (glue, mass, vessel(), air, kelvin(), prop_oneof![3 => Just(0.0), 1 => number()])
        .prop_map(|(glue, mass, vessel, air, start, reacted)| Pot { glue, mass, vessel, air, start, reacted })
}

proptest! {
    #![proptest_config(config(400))]

    #[test]
    fn kinetics_and_networks(k in kinetics(), x in prop::array::uniform6(either()), f in any::<u32>()) {
        let [a, b, c, d, e, g] = x;
        let _ = (k.constants(a), k.rate(a, b), k.isothermal_s(a, b), closed(a, b, c), doubling(a, b, c));
        let glass = Glass { fresh_k: a, full_k: b, lambda: c, kd0: d };
        let _ = (glass.transition(e), glass.conversion(e), glass.left(&k, e, g), glass.rate(&k, e, g));
        if let Reached::After { seconds, .. } = (Isothermal { k1: a, k2: b, m: c, n: d, plateau: e }).time(g) {
            prop_assert!(!seconds.is_nan());
        }
        for functionality in [0, 1, 2, 3, 4, f % 64] {
            let mix = Mix { ratio: a, functionality, eew: b, ahew: c };
            let _ = (mix.gel(), mix.limit(), mix.sol(d), mix.said());
        }
        let _ = (cup_width(a), warning(a), Vessel::Cup.shape(a, &GLUE), Vessel::Tray(a).shape(b, &GLUE));
    }

    #[test]
    fn fits_and_batches(
        points in prop::collection::vec((number(), number()), 0..6),
        trace in prop::collection::vec((either(), prop_oneof![253.15..343.15f64, number()]), 0..6),
        sorted in any::<bool>(),
        x in prop::array::uniform8(either()),
        first in any::<u64>(),
    ) {
        let found = fit(&points);
        sound(found.map(|fit| fit.a));
        let mut trace = trace;
        if sorted {
            trace.sort_by(|a, b| a.0.total_cmp(&b.0));
        }
        let [a, b, c, d, e, f, g, h] = x;
        let odd = Fit { a, b, xbar: c, sxx: d, s: e, n: f, qs: g };
        let laws = [Known::Point { at_k: a, times: (b, c), energies: (d, e) }, Known::Fitted(odd)];
        for law in laws.into_iter().chain(found.map(Known::Fitted)) {
            let doubt = Doubt { law, sheet: f, sensor_k: g, minimum_k: Some(h) };
            for doubt in [doubt, Doubt { sheet: 0.1, sensor_k: 1.0, minimum_k: None, ..doubt }] {
                if let Ok(all) = finishes(&trace, &doubt, h, Draws { count: 20, first }) {
                    for share in [0.0, 0.5, 1.0, a] {
                        sound(all.quantile(share));
                    }
                    prop_assert!((0.0..=1.0).contains(&all.reached()));
                }
            }
        }
    }

    #[test]
    fn any_equation(x in prop::array::uniform6(number()), push in prop::array::uniform3(number())) {
        let [from, to, start, relative, absolute, longest] = x;
        let tolerance = Tolerance { relative, absolute: [absolute; 2], longest };
        let rhs = |t: f64, y: &[f64; 2]| [push[0] * y[1] + push[1], push[2] * y[0] - t];
        let mut steps = 0;
        let end = solve(rhs, (from, to), [start; 2], &tolerance, &mut Work::default(), |step| {
            let _ = (step.at(0.5), step.crossing(|y| y[0]));
            steps += 1;
            steps < 100
        });
        if let Ok((_, y)) = end {
            prop_assert!(steps == 0 || y.iter().all(|y| y.is_finite()), "{y:?}");
        }
    }
}

proptest! {
    #![proptest_config(config(10))]

    #[test]
    fn glass_after_anything(k in kinetics(), own in prop::array::uniform4(either()), stages in prop::collection::vec((either(), either()), 0..4), x in prop::array::uniform4(either())) {
        for glass in [glass::GENERIC, Glass { fresh_k: own[0], full_k: own[1], lambda: own[2], kd0: own[3] }] {
            if let Ok(state) = glass.after(&k, &stages) {
                prop_assert!(state.conversion.is_finite(), "{state:?}");
            }
            let _ = glass.on(&k, x[0], &stages);
            let _ = glass.soak(&k, x[0], x[1], x[2], x[3]);
            if let Ok(Some(plan)) = post_cure(&glass, &k, (x[0], x[1]), x[2], x[3]) {
                sound(Some(plan.warm_up_min));
            }
        }
    }

    #[test]
    fn the_lumped_pot(pot in pot(), seconds in either()) {
        if let Ok(course) = lumped::run(&pot, &TOLERANCE) {
            for at in [course.work, course.gel, course.hot, course.warned, course.advised(), Some(course.peak)] {
                sound(at);
            }
        }
        let _ = (lumped::after(&pot, seconds, &TOLERANCE), pot.air_at(seconds));
        let _ = lumped::path(&pot, seconds, &TOLERANCE);
    }

    #[test]
    fn the_resolved_pot(pot in pot(), cells in prop_oneof![0..6usize, any::<usize>()], relative in prop_oneof![Just(1e-3), number()]) {
        if let Ok(inside) = resolved::run(&pot, Grid { cells, relative }) {
            for at in [inside.work, inside.gel, inside.mean_work, inside.mean_gel, inside.hot, inside.first(), Some(inside.peak)] {
                sound(at);
            }
        }
    }

}

proptest! {
    #![proptest_config(config(4))]

    #[test]
    fn rates_from_any_sheet(x in prop::array::uniform5(either()), pot in pot()) {
        let [mass, pot_k, pot_life, film_k, film_gel] = x;
        for sheet in [
            Sheet { mass, pot_k, pot_life, film_k, film_gel },
            Sheet { mass: 0.1, pot_k: 298.15, pot_life, film_k: 298.15, film_gel },
        ] {
            if let Ok(found) = calibrate(&GLUE, &sheet) {
                prop_assert!(found.glue.kinetics.k2.is_finite() && found.glue.kinetics.k2 > 0.0, "{found:?}");
                sound(found.film_instead);
            }
            let _ = by_life(&GLUE, sheet.mass, sheet.pot_k, sheet.pot_life);
        }
        if let Ok(ways) = ways(&pot) {
            let _ = ways.said();
        }
    }
}

#[test]
fn a_pot_in_long_air_is_forecast() {
    let air = (0..2_000).map(|k| (f64::from(k) * 300.0, 288.15 + f64::from(k % 7))).collect();
    let pot = Pot { air, ..Pot::fresh(GLUE, 0.1, Vessel::Cup, 288.15, 288.15) };
    assert!(lumped::run(&pot, &TOLERANCE).unwrap().gel.is_some());
}
