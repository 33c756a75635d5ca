//! Formulas in closed form and short searches: vapour, wood, clamps, joints, samples, mixes.

use super::{config, either, number, sound};
use glue::along::{CLAMPING, Closing, ORDERS, Work, kindest, waited, worst};
use glue::clamping::{self, Plywood};
use glue::faces::{Joint, fillet_body, glued};
use glue::joint::{self, Lap};
use glue::lamination::{Bend, Wanted, arc_radius, fewest, limits, schedule};
use glue::mix::doubt::{self, Scale, Weighing};
use glue::mix::target::{self, amounts, hardener_stop, stop_at};
use glue::mix::{Nominal, by_the_other, by_volume, by_weight};
use glue::{moisture, number as arithmetic, sample, timber, vapour, wood};
use proptest::prelude::*;

proptest! {
    #![proptest_config(config(3_000))]

    #[test]
    fn air_and_wood(x in prop::array::uniform6(number())) {
        let [a, b, c, d, e, f] = x;
        let _ = (vapour::over_water(a), vapour::over_ice_or_water(a), vapour::pressure(a, b));
        sound(vapour::dew_point(a));
        let _ = (vapour::humidity_from_bulbs(a, b, c), vapour::heated(a, b, c), moisture::settles_at(a, b));
        let _ = (timber::coefficient(a), timber::movement(a, b, c, d), timber::glue_water(a, b, c, d, e));
        sound(timber::metered(a, b));
        let _ = wood::tau_ms(a);
        prop_assert!(wood::tau_ms(wood::thickness_mm(Some(a))) > 0.0);
        let lag = wood::Lag::new(a, b, c, d);
        sound(lag.meets(f).filter(|_| f.is_finite() && f > 0.0 && f < 1e200));
        prop_assert!(arithmetic::exp(a).is_nan() == a.is_nan() && (a.is_nan() || arithmetic::exp(a) >= 0.0));
        let _ = (arithmetic::exp_plain(a), arithmetic::after(a as i64, b as i64));
    }

    #[test]
    fn clamps_and_joints(x in prop::array::uniform8(either()), triangular in any::<bool>()) {
        let [a, b, c, d, e, f, g, h] = x;
        prop_assert!(clamping::clamps_for(a, b) >= 1);
        let nails = clamping::nails(a, b, c, d);
        prop_assert!(nails.rows >= 1 && nails.per_row >= 1);
        sound(clamping::screw_load(a, b, c, d, e));
        let _ = (clamping::strap_pressure(a, b), clamping::atmosphere_pa(a), clamping::spring_back(a));
        for kind in [Plywood::DryAcross, Plywood::DryAlong, Plywood::SoakedAcross, Plywood::SoakedAlong] {
            sound(clamping::plywood_radius(a, kind));
        }
        let _ = joint::scarf(a);
        let lap = Lap { overlap: b, members: [c, d], glue: e };
        let _ = (joint::lap(a, &lap), joint::along_lap(a, &lap, f));
        let joints = [
            Joint::Lap { length: a, width: b },
            Joint::Scarf { thickness: a, width: b, slope: c },
            Joint::WebInCap { length: a, thickness: b, depth: c },
            Joint::GussetPair { length: a, width: b, triangular, covered: g },
            Joint::WebInSlot { width: a, thickness: b, depth: c },
            Joint::Fillet { length: a, leg: h },
            Joint::Butt { length: a, width: b },
        ];
        for joint in joints {
            prop_assert!(glued(&joint).faces >= 1);
        }
        let _ = fillet_body(a, b);
    }

    #[test]
    fn mixes(x in prop::array::uniform6(either()), stated in any::<bool>()) {
        let [a, b, c, d, e, f] = x;
        let scale = Scale { step: a, accuracy: stated.then_some(b) };
        for weighing in [Weighing::OneCup, Weighing::Retared] {
            let judged = by_weight(Nominal { hardener_per_resin: c, tolerance: Some(d) }, e, f, weighing, scale);
            prop_assert!(judged.deviation.is_none_or(|x| !x.is_nan()) && judged.uncertainty.is_none_or(|x| !x.is_nan()));
            let _ = doubt::of_amounts(e, f, weighing, scale);
            sound(doubt::smallest_resin(c, d, weighing, scale));
        }
        let _ = (doubt::of_net(scale), doubt::of_ratio(a, b, c));
        let judged = by_volume(Nominal { hardener_per_resin: c, tolerance: None }, (a, b), (e, f));
        prop_assert!(judged.deviation.is_none_or(|x| !x.is_nan()));
        sound(by_the_other(Nominal { hardener_per_resin: a, tolerance: None }, b, c).map(|nominal| nominal.hardener_per_resin));
        for wanted in [target::Wanted::Resin(b), target::Wanted::Hardener(b), target::Wanted::Total(b)] {
            sound(amounts(a, wanted).map(|all| all.total));
        }
        let _ = (stop_at(a, b, c), hardener_stop(a, b, c, d));
    }
}

proptest! {
    #![proptest_config(config(300))]

    #[test]
    fn heating_up_bends_and_the_order_of_work(x in prop::array::uniform6(either()), laminae in any::<u64>(), flags in any::<[bool; 3]>()) {
        let [a, b, c, d, e, f] = x;
        sound(wood::heat_up_ms(a, b, c));
        let _ = (arc_radius(a, b), limits(a, Bend::Dry), limits(a, Bend::Wet));
        for bend in [Bend::Dry, Bend::Wet] {
            let wanted = Wanted { radius: a, thickness: b, bend, stressed: flags[0], margin: c };
            for few in [0, 1, 2, laminae % 100, laminae] {
                let _ = schedule(&wanted, few);
            }
            let _ = fewest(&wanted);
        }
        for spread in ORDERS {
            for clamp in CLAMPING {
                let closing = if flags[1] { Closing::AtOnce } else { Closing::AsSpread };
                let limits = flags[2].then_some((e, f));
                let work = Work { spread, spreading: a, closing, pause: b, clamp, clamping: c, limits };
                let _ = (waited(&work, d), worst(&work), kindest(&work));
            }
        }
    }

    #[test]
    fn samples(
        values in prop::collection::vec(number(), 0..40),
        n in prop_oneof![0..60u64, any::<u64>()],
        shares in prop::array::uniform2(prop_oneof![0.5..1.0f64, number()]),
        t in prop::array::uniform3(either()),
    ) {
        sound(sample::tolerance_factor(n, shares[0], shares[1]));
        let _ = (sample::normal_quantile(shares[0]), sample::noncentral_t(t[0], t[1], t[2]));
        prop_assert_eq!(sample::mean_and_sd(&values).is_some(), values.len() > 1);
        prop_assert_eq!(sample::individuals(&values).is_some(), values.len() > 1);
    }
}

#[test]
fn a_long_list_is_only_long() {
    let values: Vec<f64> = (0..1_000_000).map(|i| f64::from(i % 97)).collect();
    assert!(sample::individuals(&values).is_some_and(|chart| chart.mean > 47.9 && chart.mean < 48.1));
}
