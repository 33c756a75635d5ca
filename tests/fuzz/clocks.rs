//! Air, forecasts, laws, progress and the wood behind them, with readings and cards that nobody would write.

use super::{config, number, whole};
use glue::air::forecast::{Forecast, Shape, fitted_tau_ms, in_force};
use glue::air::source::{known, last_value};
use glue::air::{Piece, Sort, View, Walker, walk};
use glue::card::{BelowMinimum, Card, Class, FilmGel, Limit, Origin, Point};
use glue::clock::shorter;
use glue::clock::{Air, Asked, Charge, Clock, Direction, Floor, Knot, Runner, Source, Stay, Wood, start_ms, tell};
use glue::cure::kinetics::GENERIC;
use glue::law::curve::{Curve, Form};
use glue::law::{of_limit, slopes_agree};
use glue::number::HOUR;
use glue::progress::shape::Body;
use glue::progress::{Course, Sums};
use proptest::prelude::*;
use std::ops::ControlFlow;

fn kelvin() -> impl Strategy<Value = f64> {
    prop_oneof![3 => 253.15..343.15f64, 1 => number()]
}

/// Knots in any order or in time order, close together or anywhere.
fn knots() -> impl Strategy<Value = Vec<Knot>> {
    let knot = (whole(), prop::array::uniform3(kelvin()));
    let knot = knot.prop_map(|(at_ms, [low_k, mean_k, high_k])| Knot { at_ms, low_k, mean_k, high_k });
    let row = prop::collection::vec((1..200i64, kelvin()), 0..40).prop_map(|row| {
        let mut at_ms = 0;
        let knot = |(minutes, k): (i64, f64)| {
            at_ms += minutes * 60_000;
            Knot { at_ms, low_k: k, mean_k: k + 0.1, high_k: k + 0.2 }
        };
        row.into_iter().map(knot).collect()
    });
    prop_oneof![prop::collection::vec(knot, 0..12), row]
}

fn shape() -> impl Strategy<Value = Shape> {
    prop_oneof![
        kelvin().prop_map(|at_k| Shape::Hold { at_k }),
        (kelvin(), kelvin(), whole(), whole(), whole()).prop_map(|(day_k, night_k, from_min, to_min, ramp_ms)| {
            Shape::Setback { day_k, night_k, from_min, to_min, ramp_ms }
        }),
        (kelvin(), prop::option::of(number())).prop_map(|(towards_k, tau_ms)| Shape::Cooling { towards_k, tau_ms }),
        (kelvin(), number(), whole()).prop_map(|(mean_k, swing_k, warmest_min)| Shape::Day {
            mean_k,
            swing_k,
            warmest_min
        }),
    ]
}

fn forecast() -> impl Strategy<Value = Forecast> {
    (whole(), prop::option::of(whole()), any::<i32>(), shape())
        .prop_map(|(from_ms, until_ms, zone_min, shape)| Forecast { from_ms, until_ms, zone_min, shape })
}

fn air() -> impl Strategy<Value = Air> {
    let floor = || (whole(), whole(), kelvin()).prop_map(|(from_ms, until_ms, k)| Floor { from_ms, until_ms, k });
    let source = (number(), knots(), prop::collection::vec(floor(), 0..2))
        .prop_map(|(error_k, knots, lowest)| Source { error_k, knots, lowest });
    let parts = (
        prop::collection::vec(source, 0..3),
        prop::collection::vec(floor(), 0..2),
        prop::collection::vec(forecast(), 0..3),
    );
    parts.prop_map(|(sources, vouched, forecasts)| Air { sources, vouched, forecasts })
}

fn points() -> impl Strategy<Value = Vec<Point>> {
    let ms = || prop_oneof![3 => (0.1..100.0f64).prop_map(|h| h * HOUR), 1 => number()];
    let point = (prop::option::of(kelvin()), ms(), ms(), prop::option::of(number()));
    prop::collection::vec(
        point.prop_map(|(at_k, low_ms, high_ms, mass_g)| Point { at_k, low_ms, high_ms, mass_g }),
        0..5,
    )
}

fn card() -> impl Strategy<Value = Card> {
    let class = prop::sample::select(vec![Class::Epoxy, Class::Resorcinol, Class::Urea, Class::Casein, Class::Other]);
    let limit = (prop::sample::select(Clock::ALL.to_vec()), points(), any::<bool>())
        .prop_map(|(clock, points, bent)| Limit { clock, points, counted_from: None, bent });
    let kelvins = prop::collection::vec(prop::option::of(kelvin()), 4);
    let film = prop::option::of((kelvin(), number()).prop_map(|(at_k, low_ms)| FilmGel { at_k, low_ms }));
    (class, prop::collection::vec(limit, 0..4), kelvins, any::<[bool; 4]>(), film).prop_map(
        |(class, limits, k, flags, film_gel)| Card {
            class,
            origin: if flags[0] { Origin::Sheet } else { Origin::Handbook },
            limits,
            together: flags[1],
            minimum_cure_k: k[0],
            below_minimum: if flags[2] { BelowMinimum::Fault } else { BelowMinimum::Resumes },
            maximum_cure_k: k[1],
            application_minimum_k: k[2],
            application_maximum_k: k[3],
            water_borne: flags[3],
            film_gel,
            equivalents: None,
            glass: None,
        },
    )
}

/// Counts pieces and looks whether time goes on.
struct Pieces {
    count: usize,
    at: f64,
}

impl Walker for Pieces {
    fn take(&mut self, piece: &Piece) -> ControlFlow<()> {
        assert!(piece.to > piece.from && piece.from >= self.at, "{piece:?}");
        (self.count, self.at) = (self.count + 1, piece.from);
        if self.count > 100_000 { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
    }
}

proptest! {
    #![proptest_config(config(300))]

    #[test]
    fn clocks(card in card(), airs in prop::array::uniform2(air()), times in prop::collection::vec(whole(), 10), x in prop::array::uniform6(number())) {
        let path = [Stay { from_ms: times[0], air: Some(&airs[0]) }, Stay { from_ms: times[1], air: Some(&airs[1]) }];
        for clock in Clock::ALL {
            let asked = Asked {
                clock, card: &card, bent: x[0] > 0.0,
                started_ms: Some(times[2]), ended_ms: (times[3] % 2 == 0).then_some(times[3]), at_ms: times[4],
                path: &path,
                wood: Wood { thickness_mm: Some(x[1]), start_k: Some(x[2]), since_ms: times[5] },
                charge: Charge { mass_g: Some(x[3]), components_k: Some(x[4]) },
                carried: [x[0], x[1], x[5]],
                shorter: Default::default(),
                pending: &[(times[6], times[7])],
                time_lost_ms: (times[8] % 3 == 0).then_some(times[8]),
            };
            let told = tell(&asked);
            let [low, middle, high] = told.progress_ppm;
            prop_assert!(0 <= low && low <= middle && middle <= high, "{told:?}");
            let mut runner = Runner::default();
            let _ = runner.tell(&asked);
            let later = runner.tell(&Asked { at_ms: times[4].saturating_add(600_000), ..asked });
            prop_assert!(later.progress_ppm[0] >= 0);
            let _ = start_ms(clock, None, times[2], Some(times[3]), Some(times[4]), None);
        }
    }

    #[test]
    fn laws(card in card(), t in kelvin(), x in prop::array::uniform4(number())) {
        let _ = slopes_agree(&card);
        for limit in &card.limits {
            let Some(law) = of_limit(&card, limit, |_| 1.0) else { continue };
            for curve in law.curves {
                let _ = (curve.time_ms(t), curve.find(t), curve.piece(curve.find(t)), curve.lower(99));
                let _ = (curve.clone().times(x[0]).time_ms(t), curve.clone().at_most(x[1]).time_ms(t));
                let _ = (curve.clone().capped_above(x[2]).time_ms(t), curve.clone().capped_below(x[2], x[3]).time_ms(t));
                let _ = curve.clone().faster_of(curve).time_ms(t);
            }
        }
    }

    #[test]
    fn air_and_forecasts(air in air(), at in whole(), view in prop::array::uniform2(whole()), must_reach in any::<bool>(), ahead in number(), towards in kelvin()) {
        let direction = if must_reach { Direction::MustReach } else { Direction::MustNotExceed };
        let view = View { direction, known_ms: view[0], base_ms: view[1], hottest_k: towards };
        let path = [Stay { from_ms: at, air: Some(&air) }];
        let _ = walk(&view, &path, 0.0, 1e9, &mut Pieces { count: 0, at: f64::NEG_INFINITY });
        for source in &air.sources {
            let _ = (known(source, at), last_value(&view, source, 1e9).at(1, 0.0));
        }
        let _ = fitted_tau_ms(&air.sources, at, towards);
        if let Some(course) = in_force(&air.forecasts, at).and_then(|one| one.course(at, Some(towards), &air.sources)) {
            let _ = (course.at(0.0), course.at(ahead), course.steady_from());
        }
        if let Some(course) = glue::cure::line::course(&path, &Wood { start_k: Some(towards), ..Wood::default() }, (at, view.known_ms)) {
            prop_assert!(course.stages.iter().all(|(k, s)| !k.is_nan() && *s > 0.0), "{course:?}");
        }
    }

    #[test]
    fn progress(ends in prop::array::uniform6(prop_oneof![20 => 173.15..773.15f64, 1 => Just(f64::NAN)]), x in prop::array::uniform6(number()), len in number(), pending in prop::collection::vec((number(), number()), 0..4), fault in any::<bool>()) {
        let form = Form::Straight { a: x[0], b: x[1] };
        let curve = Curve::new(vec![(x[2], form), (f64::INFINITY, Form::Constant(x[3]))]);
        let law = glue::law::Law {
            kind: glue::clock::LawKind::OnePoint,
            curves: [curve.clone(), curve.clone(), curve],
            spread: 0.0, longest_ms: 1.0, points_k: None, range_k: None, sure: Default::default(),
        };
        for body in [Body::Warmer(None), Body::Warmer(Some(x[4])), Body::Wood { tau: glue::wood::tau_ms(glue::wood::thickness_mm(Some(x[5]))), known: true }] {
            let course = Course {
                law: law.clone(), direction: Direction::MustReach, body, minimum: Some((x[4], fault)), fault,
                carried: [0.0; 3], pending: pending.clone(), allowance: 0.05,
            };
            let mut sums = Sums::new(0.0, 293.15);
            let (a, b) = ([ends[0], ends[1], ends[2]], [ends[3], ends[4], ends[5]]);
            // The air hands on only what can be a reading, or nothing; a hundred years at most.
            let to = if len < 3e12 { len } else { 3e12 };
            sums.step(&course, &Piece { from: 0.0, to, a, b, shift: [-1.0, 0.0, 1.0], sort: Sort::Read, long_gap: false });
            let _ = (sums.all_finished(), course.need(0, true), course.share(0, sums.done[0], true));
        }
    }
}

proptest! {
    #![proptest_config(config(12))]

    #[test]
    fn pots_of_cards(card in card(), points in points(), air in air(), times in prop::collection::vec(whole(), 6), x in prop::array::uniform6(number())) {
        // Every other one as an epoxy whose pot life has a temperature, so that there is a model to ask.
        let pot = Limit { clock: Clock::Pot, points, counted_from: None, bent: false };
        let with = |limits: &[Limit]| limits.iter().cloned().chain([pot.clone()]).collect();
        let card = match times[0] % 2 {
            0 => Card { class: Class::Epoxy, water_borne: false, limits: with(&card.limits), ..card },
            _ => card,
        };
        let [mass, kelvin, working, reacted, ..] = x;
        let path = [Stay { from_ms: times[0], air: Some(&air) }];
        let charge = Charge { mass_g: Some(mass), components_k: Some(kelvin) };
        let _ = shorter::pot_start_k(&card, &charge, Some(working));
        let met = shorter::met(&card, &path, (times[1].min(times[2]), times[1].max(times[2])), times[3]);
        prop_assert!(!met.highest_k.is_nan());
        if let Ok(model) = shorter::PotModel::of_card(&card, mass) {
            prop_assert!(model.working_s(mass, kelvin).is_none_or(|s| !s.is_nan()));
            prop_assert!(model.reacted(mass, kelvin, times[4]).is_none_or(|share| (0.0..=1.0).contains(&share)));
            prop_assert!(shorter::pot_ppm(&card, &model, working, kelvin).is_none_or(|ppm| (1..=shorter::WHOLE).contains(&ppm)));
        }
        for clock in [Clock::Open, Clock::Closed] {
            let spread = shorter::Spread { start_ms: times[4], spread_ms: times[5], reacted, highest_k: kelvin, lowest_k: Some(working) };
            let left = shorter::spread_ppm(&card, clock, false, &GENERIC, &spread);
            prop_assert!(left.is_none_or(|ppm| (0..=shorter::WHOLE).contains(&ppm)), "{left:?}");
        }
        let stored = glue::wood::stored::followed_k(&air, times[4], times[5], x[4]);
        prop_assert!(x[4].is_nan() || x[4] <= 0.0 || x[4] < 1e3 || x[4] > 1e12 || stored.is_none_or(|k| !k.is_nan()), "{stored:?}");
    }
}

#[test]
fn many_pending_stretches_are_gone_through() {
    let pending: Vec<(i64, i64)> = (0..1_000).map(|i| (i * 120_000, i * 120_000 + 60_000)).collect();
    let row = (0..2_000).map(|i| Knot { at_ms: i * 60_000, low_k: 293.15, mean_k: 293.15, high_k: 293.15 });
    let air = Air { sources: vec![Source { error_k: 1.0, knots: row.collect(), lowest: vec![] }], ..Air::default() };
    let path = [Stay { from_ms: 0, air: Some(&air) }];
    let point = Point { at_k: Some(293.15), low_ms: 1e4 * HOUR, high_ms: 1e4 * HOUR, mass_g: None };
    let card = Card {
        class: Class::Epoxy,
        origin: Origin::Sheet,
        limits: vec![Limit { clock: Clock::Clamp, points: vec![point], counted_from: None, bent: false }],
        together: false,
        minimum_cure_k: None,
        below_minimum: BelowMinimum::Resumes,
        maximum_cure_k: None,
        application_minimum_k: None,
        application_maximum_k: None,
        water_borne: false,
        film_gel: None,
        equivalents: None,
        glass: None,
    };
    let told = tell(&Asked {
        clock: Clock::Clamp,
        card: &card,
        bent: false,
        started_ms: Some(0),
        ended_ms: None,
        at_ms: 2_000 * 60_000,
        path: &path,
        wood: Wood { thickness_mm: Some(20.0), start_k: Some(293.15), since_ms: 0 },
        charge: Charge::default(),
        carried: [0.0; 3],
        shorter: Default::default(),
        pending: &pending,
        time_lost_ms: None,
    });
    // Half of the time is not credited.
    assert!((told.no_credit_ms - 1_000 * 60_000).abs() <= 60_000, "{told:?}");
}
