//! What holds for all laminations, glued areas, nails, pressures and joints of some length.

use super::{asked, number};
use glue::figure::Out;
use proptest::prelude::*;

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-9 * a.abs().max(b.abs()).max(1e-12)
}

const ORDERS: [&str; 4] = ["one-way", "back", "from-middle", "from-ends"];

proptest! {
    #[test]
    fn a_lamination_keeps_its_limits_and_one_strip_fewer_does_not(
        r in 200.0..10_000.0f64, t in 3.0..40.0f64, stressed: bool, wet: bool, margin in 1.0..6.0f64,
    ) {
        let using = if stressed { "highly-stressed" } else { "former" };
        let bend = if wet { "wet-then-dry" } else { "dry" };
        let line = format!("lamination radius={r}mm thickness={t}mm use={using} bend={bend} margin={margin}");
        let n = number(&line, "laminae");
        let broken = |n: f64| {
            let answer = asked(&format!("{line} laminae={n}"));
            // Strips soaked for a highly stressed part are warned of in any number.
            answer.map_or(true, |answer| match answer.get("warning") {
                Some(Out::Word(said)) => !said.contains("no soaking"),
                _ => false,
            })
        };
        prop_assert!(!broken(n), "{} strips", n);
        prop_assert!(n == 2.0 || broken(n - 1.0), "{} strips would do", n - 1.0);
        prop_assert!(near(number(&line, "lamina_mm") * n, t));
        prop_assert!(number(&line, "glue_lines") == n - 1.0);
    }

    #[test]
    fn the_middle_of_the_stack_springs_back_as_the_rule_says(r in 200.0..5_000.0f64, t in 3.0..40.0f64, n in 3u32..60) {
        let form = number(&format!("lamination radius={r}mm thickness={t}mm laminae={n}"), "form_radius_mm");
        let middle = number(&format!("spring-back laminae={n} radius={}mm", r + t / 2.0), "form_radius_mm");
        prop_assert!(near(form + t / 2.0, middle) && form < r);
        let wet = format!("lamination radius={r}mm thickness={t}mm laminae={n} bend=wet-then-dry");
        prop_assert!(near(number(&wet, "form_radius_mm"), r) && number(&wet, "given_back_pct") == 0.0);
    }

    #[test]
    fn an_arc_by_its_rise_is_the_arc_by_its_radius(r in 300.0..5_000.0f64, half in 0.05..0.999f64) {
        let chord = 2.0 * r * half;
        let rise = r - libm::sqrt(r * r - chord * chord / 4.0);
        let line = format!("lamination rise={rise}mm chord={chord}mm thickness=1mm laminae=4 use=former");
        prop_assert!((number(&line, "radius_mm") / r - 1.0).abs() < 1e-6);
    }

    #[test]
    fn areas_grow_with_every_measure_and_glue_with_the_area(a in 1.0..500.0f64, b in 1.0..500.0f64, c in 1.0..500.0f64, more in 1.01..3.0f64) {
        let sorts = [
            ("lap", vec![("length", a), ("width", b)]),
            ("butt", vec![("length", a), ("width", b)]),
            ("scarf", vec![("width", a), ("thickness", b), ("slope", 1.0 + c / 20.0)]),
            ("web-in-cap", vec![("length", a), ("thickness", b), ("depth", c)]),
            ("gusset-pair", vec![("length", a), ("width", b)]),
            ("triangular-gusset-pair", vec![("length", a), ("width", b)]),
            ("web-in-slot", vec![("width", a), ("thickness", b), ("depth", c)]),
            ("fillet", vec![("length", a), ("leg", b)]),
        ];
        for (sort, measures) in sorts {
            let line = |grown: usize| {
                let words = measures.iter().enumerate().map(|(at, (name, value))| {
                    format!(" {name}={}", if at == grown { value * more } else { *value })
                });
                format!("joint-area sort={sort} spread=250 joints=7 waste=15%{}", words.collect::<String>())
            };
            let area = number(&line(9), "area_mm2");
            for grown in 0..measures.len() {
                prop_assert!(number(&line(grown), "area_mm2") > area, "{} {}", sort, grown);
            }
            let amount = format!("glue-amount area={}mm2 spread=250 faces=2 waste=15%", 7.0 * area);
            if 7.0 * area >= 1.0 {
                prop_assert!(near(number(&line(9), "mixed_g"), number(&amount, "mixed_g")));
            }
        }
        let scarf = number(&format!("joint-area sort=scarf width={a} thickness={b} slope=12"), "area_mm2");
        let by_itself = number(&format!("scarf slope=12 width={a} thickness={b}"), "area_mm2");
        prop_assert!(near(scarf, by_itself));
        let half = number(&format!("joint-area sort=triangular-gusset-pair length={a} width={b}"), "area_mm2");
        let whole = number(&format!("joint-area sort=gusset-pair length={a} width={b}"), "area_mm2");
        prop_assert!(near(2.0 * half, whole));
    }

    #[test]
    fn the_clamps_needed_give_the_pressure_and_one_fewer_does_not(area in 5e3..1e6f64, p in 10.0..3000.0f64, each in 400.0..30_000.0f64) {
        let line = format!("clamp-force area={area}mm2 pressure={p}kPa each={each}N");
        let n = number(&line, "clamps_needed");
        prop_assert!(number(&line, "given_kpa") >= p * (1.0 - 1e-9));
        let fewer = format!("{line} clamps={}", (n - 1.0).max(1.0));
        prop_assert!(n == 1.0 || number(&fewer, "given_kpa") < p);
        let held = format!("{line} maximum={}kPa", number(&line, "given_kpa") * 1.001);
        let answer = asked(&held).unwrap();
        prop_assert_eq!(answer.get("warning"), Some(&Out::Nothing));
    }

    #[test]
    fn nails_stand_no_farther_apart_than_asked(l in 5.0..5000.0f64, w in 2.0..200.0f64, pitch in 5.0..60.0f64) {
        let line = format!("nail-gluing length={l}mm width={w}mm thickness=2mm pitch={pitch}mm");
        let [rows, per_row] = ["rows", "per_row"].map(|field| number(&line, field));
        prop_assert!(l / per_row <= pitch * (1.0 + 1e-9) && w / rows <= 12.7 * (1.0 + 1e-9));
        prop_assert_eq!(number(&line, "nails"), rows * per_row);
    }

    #[test]
    fn no_order_of_work_beats_the_advice(
        spread in 0usize..4, clamp in 0usize..4, ts in 0.0..60.0f64, tc in 0.0..60.0f64, pause in 0.0..10.0f64,
        closing in prop::sample::select(vec!["at-once", "as-spread"]), limits in prop::option::of((1.0..60.0f64, 1.0..60.0f64)),
    ) {
        let limits = limits.map(|(open, closed)| format!(" open-limit={open} closed-limit={closed}")).unwrap_or_default();
        let line = |spread: &str, clamp: &str| {
            format!("joint-age length=4m spread-time={ts} clamp-time={tc} pause={pause} closing={closing} spread={spread} clamp={clamp}{limits}")
        };
        let own = line(ORDERS[spread], ORDERS[clamp]);
        let (worst, best) = if limits.is_empty() { ("worst_age_min", "best_age_min") } else { ("used_share", "best_share") };
        let best = number(&own, best);
        prop_assert!(best <= number(&own, worst) + 1e-9);
        for a in ORDERS {
            for b in &ORDERS[..3] {
                prop_assert!(number(&line(a, b), worst) >= best * (1.0 - 1e-8) - 1e-12, "{} {}", a, b);
            }
        }
        prop_assert!(near(number(&own, "open_min") + number(&own, "closed_min"), number(&own, "worst_age_min")));
    }

    #[test]
    fn worked_backwards_a_joint_is_as_old(ts in 0.0..60.0f64, tc in 0.0..60.0f64, pause in 0.0..10.0f64) {
        let at = |spread: &str, clamp: &str| {
            number(&format!("joint-age length=4m spread-time={ts} clamp-time={tc} pause={pause} spread={spread} clamp={clamp}"), "worst_age_min")
        };
        prop_assert!(near(at("one-way", "back"), at("back", "one-way")));
        prop_assert!(near(at("one-way", "one-way"), pause + ts.max(tc)) && near(at("one-way", "back"), pause + ts + tc));
    }
}
