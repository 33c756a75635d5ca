//! The glue line behind the air: slab series computed elsewhere against ours, and the lag against the slab.

use crate::law::card;
use crate::table::rows;
use glue::card::Class;
use glue::clock::{Air, Asked, Charge, Clock, Knot, Source, Stay, Wood, tell};
use glue::wood::{heat_up_ms, tau_ms};

#[test]
fn slabs_heat_up_as_the_series_says() {
    for row in rows(include_str!("heat_up.csv")) {
        let (thickness, h) = (row.number(0), row.number(1));
        for (column, share) in [(3, 0.5), (4, 0.9), (5, 0.95)] {
            row.same(column, heat_up_ms(thickness, h, share).unwrap() / 60_000.0);
        }
        if h == 10.0 {
            // The lag is 1.2 times the one-pole estimate, so it covers nine tenths of a step no sooner than the slab.
            let lag = core::f64::consts::LN_10 * tau_ms(thickness) / 60_000.0;
            row.same(6, lag / 1.2);
            assert!(lag >= row.number(4) && lag <= 1.2 * row.number(4), "{thickness} mm: {lag}");
        }
    }
}

#[test]
fn clamps_wait_for_the_glue_line_as_for_the_slab() {
    let mut card = card(Class::Epoxy, Clock::Clamp, &[(293.15, 720.0)]);
    card.minimum_cure_k = Some(273.15);
    let knots = (0..=200).map(|i| Knot { at_ms: i * 600_000, low_k: 293.15, mean_k: 293.15, high_k: 293.15 });
    let air = Air { sources: vec![Source { error_k: 0.0, knots: knots.collect(), lowest: vec![] }], ..Air::default() };
    let path = [Stay { from_ms: 0, air: Some(&air) }];
    for row in rows(include_str!("glue_line_behind_air.csv")) {
        let told = tell(&Asked {
            clock: Clock::Clamp,
            card: &card,
            bent: false,
            started_ms: Some(0),
            ended_ms: None,
            at_ms: 20 * 3_600_000,
            path: &path,
            wood: Wood { thickness_mm: Some(row.number(0)), start_k: Some(281.15), since_ms: 0 },
            charge: Charge::default(),
            carried: [0.0; 3],
            shorter: Default::default(),
            pending: &[],
            time_lost_ms: None,
        });
        let hours = told.expected_ms.unwrap() as f64 / 3_600_000.0;
        let latest = told.latest_ms.unwrap() as f64 / 3_600_000.0;
        let (by_air, by_slab) = (row.number(1), row.number(2));
        // One pole is not a slab: the wait agrees to a quarter, and the safe bound never ends before the slab's.
        let wait = (hours - by_air) / (by_slab - by_air);
        assert!((0.75..=1.25).contains(&wait), "{} mm: {hours}", row.text(0));
        assert!(latest >= by_slab, "{} mm: {latest} before the slab's {by_slab}", row.text(0));
    }
}
