//! What general-purpose libraries compute as well: pots and cures by a crate for differential equations, which shares no
//! code with ours and is given the equations anew; Student's t by a statistics crate.

use differential_equations::prelude::*;
use glue::cure::glass::{self, Glass};
use glue::cure::isothermal::{Isothermal, Reached};
use glue::cure::kinetics::GENERIC;
use glue::pot::lumped::{TOLERANCE, run};
use glue::pot::{GLUE, Pot, Vessel};
use glue::sample::{noncentral_t, tolerance_factor};
use statrs::distribution::{ContinuousCDF, StudentsT};

/// The generic glue's rate, 1/s, written out anew.
fn rate(a: f64, kelvin: f64) -> f64 {
    let x = (1.0 / 298.15 - 1.0 / kelvin) / 8.314_462_618;
    (1e-5 * libm::exp(60e3 * x) + 2e-4 * libm::exp(55e3 * x) * a) * (1.0 - a) * (1.0 - a)
}

/// A pot with what it loses, 1/s, in air of one temperature, K.
struct Balance {
    loss: f64,
    air: f64,
}

impl ODE<f64, [f64; 2]> for Balance {
    fn diff(&self, _: f64, y: &[f64; 2], slope: &mut [f64; 2]) {
        let rate = rate(y[0], y[1]);
        *slope = [rate, 200.0 * rate - self.loss * (y[1] - self.air)];
    }
}

/// Loss by the page's formulas: a cup as high as wide, or a layer.
fn loss(grams: f64, layer: Option<f64>) -> f64 {
    let volume = grams / 1e3 / 1_100.0;
    let (area, inside) = match layer {
        None => {
            let width = libm::cbrt(4.0 * volume / std::f64::consts::PI);
            let area = 1.5 * std::f64::consts::PI * width * width;
            (area, 0.6 * volume / (area * 0.2))
        }
        Some(depth) => (2.0 * volume / depth, depth / 1.2),
    };
    area / (1.0 / 8.0 + 0.005 + inside) / (grams / 1e3 * 2_000.0)
}

#[test]
fn pots_of_a_crate_for_differential_equations() {
    let cases = [
        (100.0, None, 25.0, 25.0),
        (25.0, None, 15.0, 15.0),
        (200.0, Some(0.012), 30.0, 30.0),
        (500.0, None, 5.0, 40.0),
    ];
    for (grams, layer, air, start) in cases {
        let (air, start) = (air + 273.15, start + 273.15);
        let vessel = layer.map_or(Vessel::Cup, Vessel::Tray);
        let ours = run(&Pot::fresh(GLUE, grams / 1e3, vessel, air, start), &TOLERANCE).unwrap();
        let balance = Balance { loss: loss(grams, layer), air };
        // At the instant that is ours the crate must stand at the level.
        let at = |seconds: f64| {
            let method = ExplicitRungeKutta::dop853().rtol(1e-12).atol(vec![1e-14, 1e-10]);
            let end = IVP::ode(&balance, 0.0, seconds, [0.0, start]).method(method).solve().unwrap();
            *end.y.last().unwrap()
        };
        for (seconds, level) in [(ours.work.unwrap(), GLUE.work), (ours.gel.unwrap(), GLUE.gel)] {
            let [a, kelvin] = at(seconds);
            let off = (level - a) / rate(a, kelvin) / seconds;
            assert!(off.abs() < 5e-8, "{grams} g: {off:e} of the time");
        }
        let [_, kelvin] = at(ours.work.unwrap());
        assert!((kelvin - ours.work_k.unwrap()).abs() < 1e-5, "{kelvin} {ours:?}");
        let [[_, before], [_, top], [_, behind]] = [-1.0, 0.0, 1.0].map(|s| at(ours.peak + s));
        assert!((top - ours.peak_k).abs() < 1e-5 && top >= before && top >= behind, "{before} {top} {behind} {ours:?}");
    }
}

/// Curing at one temperature while its own glass slows it down, written out anew.
struct Stalling {
    kelvin: f64,
}

impl ODE<f64, f64> for Stalling {
    fn diff(&self, _: f64, a: &f64, slope: &mut f64) {
        let a = *a;
        let x = (1.0 / 298.15 - 1.0 / self.kelvin) / 8.314_462_618;
        let chemical = 1e-5 * libm::exp(60e3 * x) + 2e-4 * libm::exp(55e3 * x) * a;
        let glass = 243.15 + 105.0 * 0.42 * a / (1.0 - 0.58 * a);
        let above = self.kelvin - glass;
        let diffusion = 1e-4 * libm::exp(40.2 * above / (51.6 + above.abs()));
        *slope = chemical * diffusion / (chemical + diffusion) * (1.0 - a) * (1.0 - a);
    }
}

#[test]
fn cures_of_a_crate_for_differential_equations() {
    for (celsius, days) in [(20.0, 1.0), (20.0, 30.0), (40.0, 7.0)] {
        let (kelvin, seconds) = (celsius + 273.15, days * 86_400.0);
        let ours = glass::GENERIC.after(&GENERIC, &[(kelvin, seconds)]).unwrap();
        let method = ExplicitRungeKutta::dop853().rtol(1e-11).atol(1e-13).max_steps(1_000_000);
        let end = IVP::ode(&Stalling { kelvin }, 0.0, seconds, 0.0).method(method).solve().unwrap();
        let a = *end.y.last().unwrap();
        assert!((ours.conversion - a).abs() < 1e-8, "{celsius} °C, {days} d: {} {a}", ours.conversion);
        let Glass { fresh_k, full_k, .. } = glass::GENERIC;
        assert!((ours.glass_k - fresh_k - (full_k - fresh_k) * 0.42 * a / (1.0 - 0.58 * a)).abs() < 1e-5);
    }
}

#[test]
fn one_temperature_of_a_crate_for_differential_equations() {
    for (m, n, plateau) in [(1.0, 2.0, 1.0), (0.7, 1.3, 1.0), (1.4, 1.8, 0.8)] {
        let of = Isothermal { k1: 2e-5, k2: 3e-4, m, n, plateau };
        let Reached::After { seconds, .. } = of.time(0.6) else { panic!("{of:?}") };
        let slope = move |_: f64, a: &f64, slope: &mut f64| {
            let left = libm::pow((1.0 - a) * (plateau - a), n / 2.0);
            *slope = (2e-5 + 3e-4 * libm::pow(a.max(0.0), m)) * left;
        };
        let method = ExplicitRungeKutta::dop853().rtol(1e-12).atol(1e-14).max_steps(1_000_000);
        let end = IVP::ode_from_fn(slope, 0.0, seconds, 0.0).method(method).solve().unwrap();
        assert!((end.y.last().unwrap() - 0.6).abs() < 1e-8, "{of:?}: {:?}", end.y.last());
    }
}

#[test]
fn students_t_of_a_statistics_crate() {
    for n in [2_u64, 3, 5, 11, 31, 200] {
        let nu = n as f64 - 1.0;
        let central = StudentsT::new(0.0, 1.0, nu).unwrap();
        for t in [-4.0, -0.7, 0.0, 1.3, 3.0, 12.0] {
            let off = noncentral_t(t, nu, 0.0) - central.cdf(t);
            assert!(off.abs() < 1e-10, "{n} {t}: {off:e}");
        }
        // Half of the population: the factor is the bound of a mean, t(confidence; n - 1)/sqrt(n).
        for confidence in [0.75, 0.95, 0.99] {
            let k = tolerance_factor(n, 0.5, confidence).unwrap();
            let wanted = central.inverse_cdf(confidence) / libm::sqrt(n as f64);
            assert!((k / wanted - 1.0).abs() < 1e-8, "{n} {confidence}: {k} {wanted}");
        }
    }
}
