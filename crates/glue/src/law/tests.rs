//! Worked numbers of the laws.

use super::*;
use crate::card::BelowMinimum;

const HOUR: f64 = 3_600_000.0;

fn card(class: Class, clock: Clock, points: &[(f64, f64)]) -> Card {
    ranged(class, clock, &points.iter().map(|(c, h)| (*c, *h, *h)).collect::<Vec<_>>())
}

fn ranged(class: Class, clock: Clock, points: &[(f64, f64, f64)]) -> Card {
    let point = |(c, low, high): &(f64, f64, f64)| Point {
        at_k: Some(c + 273.15),
        low_ms: low * HOUR,
        high_ms: high * HOUR,
        mass_g: None,
    };
    let points = points.iter().map(point).collect();
    Card {
        class,
        origin: Origin::Sheet,
        limits: vec![Limit { clock, points, counted_from: None, bent: false }],
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
    }
}

fn law(card: &Card) -> Option<Law> {
    of_limit(card, &card.limits[0], |_| 1.0)
}

fn times(law: &Law, celsius: f64) -> [f64; 3] {
    [0, 1, 2].map(|i| law.curves[i].time_ms(celsius + 273.15) / HOUR)
}

#[track_caller]
fn near(value: f64, wanted: f64, relative: f64) {
    assert!((value / wanted - 1.0).abs() <= relative, "{value} instead of {wanted}");
}

/// The five invented points of the fit's worked example: band and line as computed with another program.
#[test]
fn five_points_give_line_and_band() {
    let points = [(10.0, 30.0), (15.0, 19.0), (20.0, 12.0), (25.0, 8.5), (30.0, 5.5)];
    let spots: Vec<(f64, f64)> = points.iter().map(|(c, h)| (1.0 / (c + 273.15), libm::log(*h))).collect();
    let fit = fit::fit(&spots).unwrap();
    near(fit.b * GAS, 59_935.674, 1e-8);
    near(fit.slope_error() * GAS, 1_294.021, 1e-6);
    near(fit.s, 0.028_669_202, 1.8e-8);
    let law = law(&card(Class::Other, Clock::Clamp, &points)).unwrap();
    assert_eq!(law.kind, LawKind::Fitted);
    for (celsius, line, low, high) in
        [(12.5, 23.721_625_29, 21.272_889_79, 26.452_236_26), (22.5, 10.102_846_16, 9.131_325_229, 11.177_731_37)]
    {
        let [safe, expected, other] = times(&law, celsius);
        near(expected, line, 1e-9);
        near(safe, high, 1e-7);
        near(other, low, 1e-7);
    }
    // Above the highest point no more than there; the upper edge of the band at 30 °C.
    near(times(&law, 60.0)[0], 6.199_779_702, 1e-7);
    let pot = super::of_limit(
        &card(Class::Other, Clock::Pot, &points),
        &card(Class::Other, Clock::Pot, &points).limits[0],
        |_| 1.0,
    );
    near(times(&pot.unwrap(), -10.0)[0], 26.398_240_9, 1e-7);
}

#[test]
fn the_straight_pieces_count_where_they_are_worse_than_the_band() {
    // Three points with a bend: with one degree of freedom the band is wide, so its edge is the worse one everywhere;
    // with five points and one outlier a straight piece is.
    let points = [(10.0, 30.0), (15.0, 19.0), (17.0, 18.9), (20.0, 12.0), (25.0, 8.5), (30.0, 5.5)];
    let law = law(&card(Class::Other, Clock::Clamp, &points)).unwrap();
    for celsius in [5.0, 10.0, 12.0, 15.0, 16.0, 17.0, 18.0, 22.0, 29.0] {
        let [safe, expected, other] = times(&law, celsius);
        assert!(other <= expected && expected <= safe, "at {celsius}: {other} {expected} {safe}");
    }
    assert!(times(&law, 17.0)[0] >= 18.9 * (1.0 - 1e-12));
}

#[test]
fn no_curve_gets_slower_when_it_gets_hotter() {
    for points in [
        vec![(20.0, 12.0)],
        vec![(15.0, 20.0), (25.0, 9.0)],
        vec![(48.89, 32.0), (65.56, 4.0), (82.22, 0.25)],
        vec![(10.0, 30.0), (11.0, 20.0), (30.0, 19.0), (31.0, 5.5)],
    ] {
        for clock in [Clock::Pot, Clock::Open, Clock::Clamp] {
            let law = law(&card(Class::Epoxy, clock, &points)).unwrap();
            let mut before = f64::INFINITY;
            for step in 0..1200 {
                let [safe, ..] = times(&law, -20.0 + f64::from(step) * 0.1);
                assert!(safe <= before * (1.0 + 1e-12), "{clock:?} {points:?} at step {step}");
                before = safe;
            }
        }
    }
}

#[test]
fn pots_are_never_longer_than_the_sheet() {
    let law = law(&ranged(Class::Epoxy, Clock::Pot, &[(20.0, 0.5, 0.75), (30.0, 0.25, 0.4)])).unwrap();
    assert_eq!(times(&law, 0.0).map(|h| (h * 1e6).round()), [0.5e6, 0.625e6, 0.75e6]);
    let open = super::of_limit(
        &card(Class::Epoxy, Clock::Open, &[(20.0, 0.5)]),
        &card(Class::Epoxy, Clock::Open, &[(20.0, 0.5)]).limits[0],
        |_| 1.0,
    )
    .unwrap();
    let [safe, expected, _] = times(&open, 10.0);
    near(safe, 0.5, 1e-12);
    assert!(expected > 0.5);
}

#[test]
fn ranges_keep_both_ends() {
    let clamp = law(&ranged(Class::Epoxy, Clock::Clamp, &[(20.0, 4.0, 6.0)])).unwrap();
    assert_eq!(times(&clamp, 20.0).map(|h| (h * 1e6).round()), [6e6, 5e6, 4e6]);
    let open = law(&ranged(Class::Epoxy, Clock::Open, &[(20.0, 4.0, 6.0)])).unwrap();
    assert_eq!(times(&open, 20.0).map(|h| (h * 1e6).round()), [4e6, 5e6, 6e6]);
}

#[test]
fn what_cannot_be_a_law_is_refused() {
    let refused = |class, points: &[(f64, f64)]| law(&card(class, Clock::Clamp, points)).is_none();
    assert!(refused(Class::Other, &[(20.0, 12.0)]));
    assert!(refused(Class::Epoxy, &[]));
    assert!(refused(Class::Epoxy, &[(20.0, 12.0), (30.0, 12.0)]));
    assert!(refused(Class::Epoxy, &[(20.0, 12.0), (30.0, 11.0)]));
    assert!(refused(Class::Epoxy, &[(20.0, 12.0), (30.0, 1.0)]));
    assert!(refused(Class::Epoxy, &[(20.0, f64::NAN)]));
    assert!(refused(Class::Epoxy, &[(f64::NAN, 12.0)]));
    assert!(refused(Class::Epoxy, &[(20.0, -1.0)]));
    assert!(refused(Class::Epoxy, &[(10.0, 9.0), (20.0, 12.0), (30.0, 1.0)]));
    assert!(!refused(Class::Epoxy, &[(20.0, 12.0), (20.0, 14.0)]));
}

#[test]
fn class_energies() {
    for (class, clock, celsius, energies) in [
        (Class::Epoxy, Clock::Clamp, 10.0, [65.0, 55.0, 45.0]),
        (Class::Resorcinol, Clock::Clamp, 10.0, [85.0, 60.0, 45.0]),
        (Class::Casein, Clock::Clamp, 10.0, [56.6, 46.6, 36.6]),
        (Class::Urea, Clock::Pot, 30.0, [138.1, 91.5, 62.7]),
    ] {
        let law = law(&card(class, clock, &[(20.0, 12.0)])).unwrap();
        for (hours, kj) in times(&law, celsius).into_iter().zip(energies) {
            let x = 1.0 / (celsius + 273.15) - 1.0 / 293.15;
            near(hours, 12.0 * libm::exp(kj * 1e3 / GAS * x), 1e-12);
        }
    }
    assert!(law(&card(Class::Urea, Clock::Clamp, &[(20.0, 12.0)])).is_none());
}

#[test]
fn handbook_numbers_carry_a_spread() {
    let mut handbook = card(Class::Epoxy, Clock::Clamp, &[(20.0, 12.0)]);
    assert_eq!(law(&handbook).unwrap().spread, 0.0);
    handbook.origin = Origin::Handbook;
    assert_eq!(law(&handbook).unwrap().spread, 0.1);
}

/// A clock, whether bent, and its points.
type Stated<'a> = (Clock, bool, &'a [(f64, f64)]);

fn with(limits: &[Stated]) -> Card {
    let mut all = card(Class::Epoxy, Clock::Pot, &[]);
    all.limits = limits
        .iter()
        .flat_map(|(clock, bent, points)| {
            let mut limits = card(Class::Epoxy, *clock, points).limits;
            limits.iter_mut().for_each(|limit| limit.bent = *bent);
            limits
        })
        .collect();
    all
}

/// Two points at 15 and 25 °C with this energy, kJ/mol.
fn pair(energy: f64) -> [(f64, f64); 2] {
    let ratio = libm::exp(energy * 1e3 / GAS * (1.0 / 288.15 - 1.0 / 298.15));
    [(15.0, ratio), (25.0, 1.0)]
}

#[test]
fn slopes_agree_when_two_clocks_say_so() {
    let (low, near_, far, absurd) = (pair(50.0), pair(52.9), pair(53.1), pair(120.0));
    let one = [(20.0, 12.0)];
    assert!(slopes_agree(&with(&[(Clock::Pot, false, &low), (Clock::Clamp, false, &near_)])));
    assert!(!slopes_agree(&with(&[(Clock::Pot, false, &low), (Clock::Clamp, false, &far)])), "further than 3 kJ/mol");
    assert!(!slopes_agree(&with(&[(Clock::Clamp, false, &low), (Clock::Clamp, true, &near_)])), "one clock only");
    assert!(
        !slopes_agree(&with(&[(Clock::Pot, false, &low), (Clock::Clamp, false, &one)])),
        "the class's says nothing"
    );
    assert!(!slopes_agree(&with(&[(Clock::Pot, false, &low), (Clock::Clamp, false, &absurd)])), "not to be believed");
    assert!(!slopes_agree(&with(&[(Clock::Pot, false, &low), (Clock::FreshSurface, false, &near_)])), "plain time");
    let third = [(Clock::Pot, false, &low[..]), (Clock::Clamp, false, &near_[..]), (Clock::Machining, true, &far[..])];
    assert!(!slopes_agree(&with(&third)), "the largest less the smallest");
    let wet = Card { water_borne: true, ..with(&[(Clock::Open, false, &low), (Clock::Clamp, false, &near_)]) };
    assert!(!slopes_agree(&wet));
}

#[test]
fn a_law_says_what_it_rests_on() {
    let sure = |card: &Card| law(card).unwrap().sure;
    let one = sure(&card(Class::Epoxy, Clock::Clamp, &[(20.0, 12.0)]));
    assert_eq!(one, Sure { points: 1, energy: Some([45e3, 55e3, 65e3]) });
    let two = sure(&card(Class::Other, Clock::Clamp, &pair(57.0))).energy.unwrap();
    two.into_iter().for_each(|energy| near(energy, 57e3, 1e-9));
    let ranged_ = sure(&ranged(Class::Other, Clock::Clamp, &[(15.0, 10.0, 14.0), (25.0, 4.0, 8.0)])).energy.unwrap();
    assert!(ranged_[0] < ranged_[1] && ranged_[1] < ranged_[2], "{ranged_:?}");
    // The worked example: 59.936 ± 3.182 x 1.294 kJ/mol (Student's t for three degrees of freedom).
    let points = [(10.0, 30.0), (15.0, 19.0), (20.0, 12.0), (25.0, 8.5), (30.0, 5.5)];
    let five = sure(&card(Class::Other, Clock::Clamp, &points));
    assert_eq!(five.points, 5);
    let [low, middle, high] = five.energy.unwrap();
    near(middle, 59_935.674, 1e-8);
    near(high - middle, 3.182_446 * 1_294.021, 1e-6);
    near(middle - low, high - middle, 1e-9);
    let plain = sure(&card(Class::Epoxy, Clock::FreshSurface, &[(20.0, 2.0)]));
    assert_eq!(plain, Sure { points: 1, energy: None });
}
