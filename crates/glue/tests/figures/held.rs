//! What holds for all inputs of a figure.

use super::number;
use proptest::prelude::*;

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-9 * a.abs().max(b.abs()).max(1e-12)
}

proptest! {
    #[test]
    fn cure_takes_time_and_twice_the_rates_half_of_it(k1 in 1e-6..1e-3f64, k2 in 0.0..1e-2f64, c in 0.01..0.9f64) {
        let time = |by: f64, c: f64| {
            let line = format!("isothermal-cure k1={} k2={} m=1.1 n=1.6 conversion={c}", k1 * by, k2 * by);
            number(&line, "time_min")
        };
        prop_assert!(time(1.0, c) < time(1.0, c + 0.05));
        prop_assert!((2.0 * time(2.0, c) / time(1.0, c) - 1.0).abs() < 1e-9);
    }

    #[test]
    fn longer_or_hotter_is_further_cured(t in 5.0..60.0f64, hours in 1.0..500.0f64) {
        let cured = |t: f64, hours: f64| number(&format!("cured-state temperature={t}C time={hours}h"), "conversion");
        let now = cured(t, hours);
        prop_assert!(now > 0.0 && now < 1.0);
        prop_assert!(cured(t, hours * 1.5) > now && cured(t + 5.0, hours) > now);
    }

    #[test]
    fn off_balance_is_worse_than_in_balance(r in 0.4..2.5f64, f in 3u32..9) {
        let at = |r: f64, field: &str| number(&format!("off-ratio equivalents={r}:1 functionality={f}"), field);
        prop_assert!(at(r, "sol_pct") >= at(1.0, "sol_pct") - 1e-9);
        prop_assert!((0.0..=100.0 + 1e-9).contains(&at(r, "sol_pct")));
        prop_assert!(near(at(r, "limit_conversion"), r.min(1.0)));
    }

    #[test]
    fn thicker_wood_takes_longer_and_one_face_four_times_the_insulated(mm in 2.0..200.0f64, film in 2.0..100.0f64) {
        let time = |mm: f64, sides: u8| {
            number(&format!("glue-line-warmup thickness={mm}mm film={film} sides={sides}"), "time_min")
        };
        prop_assert!(time(mm, 2) < time(mm * 1.1, 2));
        prop_assert!(near(time(mm, 1), time(2.0 * mm, 2)));
    }

    #[test]
    fn damper_air_makes_wetter_wood(t in -20.0..100.0f64, h in 0.0..99.0f64) {
        let at = |h: f64| number(&format!("wood-moisture temperature={t}C humidity={h}%"), "wood_moisture_pct");
        prop_assert!(at(h) < at(h + 1.0) && at(h) >= 0.0 && at(h) < 40.0);
    }

    #[test]
    fn air_at_its_dew_point_is_saturated(t in -40.0..60.0f64, h in 0.2..100.0f64) {
        let line = format!("dew-point temperature={t}C humidity={h}%");
        let dew = number(&line, "dew_point_c");
        prop_assert!(dew <= t + 1e-9);
        let e = number(&line, "vapour_pressure_hpa");
        if dew >= -40.0 {
            let there = number(&format!("dew-point temperature={dew}C humidity=100%"), "vapour_pressure_hpa");
            prop_assert!(near(e, there));
        }
    }

    #[test]
    fn heating_dries_and_the_way_back_restores(out in -30.0..20.0f64, up in 0.0..40.0f64, h in 1.0..100.0f64) {
        let inside = out + up;
        let line = |a: f64, h: f64, b: f64| {
            let line = format!("heated-air outdoor-temperature={a}C outdoor-humidity={h}% indoor-temperature={b}C");
            number(&line, "humidity_pct")
        };
        let dried = line(out, h, inside);
        prop_assert!(dried <= h + 1e-9);
        if h < 99.0 {
            prop_assert!(near(line(inside, dried, out), h));
        }
    }

    #[test]
    fn a_wet_bulb_as_warm_as_the_dry_one_is_saturated(t in 0.0..100.0f64, p in 600.0..1080.0f64) {
        let line = format!("wet-bulb dry={t}C wet={t}C pressure={p}hPa");
        prop_assert!(near(number(&line, "humidity_pct"), 100.0));
    }

    #[test]
    fn wood_comes_back_to_its_width(w in 1.0..5000.0f64, s in 0.5..15.0f64, a in 0.0..30.0f64, b in 0.0..30.0f64) {
        let change = |from: f64, to: f64| {
            number(&format!("wood-movement width={w}mm shrinkage={s}% from={from}% to={to}%"), "change_mm")
        };
        prop_assert!((change(a, b) + change(b, a)).abs() < 1e-9);
        prop_assert!(change(a, b) * (b - a) >= 0.0);
    }

    #[test]
    fn dry_glue_brings_no_water(n in 2u32..50, t in 0.5..40.0f64, g in 0.2..0.9f64, s in 50.0..500.0f64) {
        let line = |w: f64| {
            let line = format!("glue-water spread={s} water={w} laminations={n} thickness={t} specific-gravity={g}");
            number(&line, "moisture_rise_pct")
        };
        prop_assert_eq!(line(0.0), 0.0);
        prop_assert!(near(line(0.6), 2.0 * line(0.3)));
    }

    #[test]
    fn colder_wood_is_wetter_than_the_meter_says(r in 6.0..25.0f64, t in -20.0..49.0f64) {
        let at = |t: f64| number(&format!("meter-correction reading={r}% wood-temperature={t}C"), "wood_moisture_pct");
        prop_assert!(at(t) > at(t + 1.0));
    }

    #[test]
    fn a_ratio_knows_no_unit_and_no_scale_of_amounts(r in 5.0..500.0f64, h in 5.0..500.0f64, times in 1.0..20.0f64) {
        let line = |r: f64, h: f64, unit: &str, step: f64| {
            let by = if unit == "ml" { "volume" } else { "weight" };
            format!("mix-ratio by={by} nominal=100:44 resin={r}{unit} hardener={h}{unit} resolution={step}{unit} tolerance=5%")
        };
        for field in ["error_pct", "uncertainty_pct"] {
            let grams = number(&line(r, h, "g", 0.1), field);
            prop_assert!(near(grams, number(&line(r, h, "ml", 0.1), field)));
            prop_assert!(near(grams, number(&line(r * times, h * times, "g", 0.1 * times), field)));
        }
    }

    #[test]
    fn the_smallest_batch_is_where_the_doubt_is_the_tolerance(d in 0.01..1.0f64, h in 0.1..2.0f64, tol in 1.0..20.0f64) {
        let least = number(&format!("weigh-limit resolution={d}g nominal=1:{h} tolerance={tol}%"), "smallest_resin_g");
        prop_assume!(least > 0.1 && least * h > 0.1);
        let hardener = least * h;
        let line = format!("mix-ratio nominal=1:{h} resin={least}g hardener={hardener}g resolution={d}g");
        prop_assert!(near(number(&line, "uncertainty_pct"), tol));
    }

    #[test]
    fn a_blend_of_one_is_itself(m in 0.1..1000.0f64, e in 20.0..5000.0f64, filler in 0.1..1000.0f64) {
        let alone = number(&format!("blend-equivalent parts={m}@{e}"), "equivalent_weight");
        let filled = number(&format!("blend-equivalent parts={m}@{e},{filler}@-"), "equivalent_weight");
        prop_assert!(near(alone, e) && near(filled, e * (m + filler) / m));
        let line = format!("hardener-per-hundred eew={0} ahew={0}", e.max(50.0));
        prop_assert!(near(number(&line, "hardener_phr"), 100.0));
    }

    #[test]
    fn a_law_goes_through_its_two_points(ea in 30.0..100.0f64, t in 0.0..40.0f64, apart in 3.0..40.0f64, min in 5.0..2000.0f64) {
        let b = ea * 1e3 / glue::number::GAS;
        let there = min * libm::exp(b * (1.0 / (t + apart + 273.15) - 1.0 / (t + 273.15)));
        prop_assume!(there > 0.01);
        let line = format!("cure-law points={t}C:{min}min,{}C:{there}min at={t}C", t + apart);
        let found = number(&line, "activation_energy_kj_mol");
        prop_assert!((found / ea - 1.0).abs() < 1e-6, "{}", found);
    }

    #[test]
    fn steady_air_finishes_at_the_sheets_time(ea in 30.0..100.0f64, t in 5.0..40.0f64, h in 0.5..200.0f64, error in 0.0..3.0f64) {
        let line = format!("cure-finish ea={ea} point={t}C:{h}h trace=0h:{t}C sensor-error={error}K");
        let at = |field: &str| number(&line, field);
        prop_assert!((at("finish_h") / h - 1.0).abs() < 1e-6);
        prop_assert!(at("earliest_h") <= at("finish_h") + 1e-9 && at("finish_h") <= at("latest_h") + 1e-9);
        let age = number(&format!("equivalent-age ea={ea} reference={t}C trace=0h:{t}C,{h}h:{t}C"), "equivalent_h");
        prop_assert!((age / h - 1.0).abs() < 1e-6);
    }

    #[test]
    fn a_trace_cut_in_two_ages_as_much(ea in 30.0..100.0f64, a in 0.0..40.0f64, b in 0.0..40.0f64, h in 0.5..100.0f64) {
        let middle = (a + b) / 2.0;
        let whole = number(&format!("equivalent-age ea={ea} reference=20C trace=0h:{a}C,{h}h:{b}C"), "equivalent_h");
        let half = h / 2.0;
        let line = format!("equivalent-age ea={ea} reference=20C trace=0h:{a}C,{half}h:{middle}C,{h}h:{b}C");
        prop_assert!((number(&line, "equivalent_h") / whole - 1.0).abs() < 1e-8);
    }

    #[test]
    fn shares_of_assembly_add_up(o in 0.0..60.0f64, c in 0.0..60.0f64, lo in 1.0..60.0f64, lc in 1.0..60.0f64) {
        let line = |o: f64, c: f64| number(&format!("assembly-use open={o} closed={c} open-limit={lo} closed-limit={lc}"), "used_share");
        prop_assert!(near(line(o, c), line(o, 0.0) + line(0.0, c)));
    }

    #[test]
    fn a_mix_is_its_parts(area in 1.0..100.0f64, spread in 50.0..500.0f64, w in 0.0..50.0f64, h in 0.1..2.0f64) {
        let line = format!("glue-amount area={area}cm2 spread={spread} waste={w}% nominal=1:{h} faces=2");
        let at = |field: &str| number(&line, field);
        prop_assert!(near(at("mixed_g"), at("resin_g") + at("hardener_g")));
        let one = number(&format!("glue-amount area={area}cm2 spread={spread} waste={w}%"), "mixed_g");
        prop_assert!(near(at("mixed_g"), 2.0 * one));
    }

    #[test]
    fn clamps_share_the_force(area in 1.0..1e6f64, p in 10.0..3000.0f64, n in 1u32..100) {
        let line = format!("clamp-force area={area}mm2 pressure={p}kPa clamps={n}");
        prop_assert!(near(number(&line, "per_clamp_n") * f64::from(n), number(&line, "force_n")));
    }

    #[test]
    fn a_screw_without_friction_keeps_the_work(f in 1.0..500.0f64, l in 50.0..1000.0f64, d in 5.0..50.0f64, k in 0.5..10.0f64) {
        // A turn of the lever is 2 pi L F of work; the screw advances by its pitch: twice that form's D/2 for R.
        let line = |friction: f64| {
            let line = format!("screw-clamp hand-force={f} lever={l} diameter={d} pitch={k} friction={friction}");
            number(&line, "load_n")
        };
        let work = 2.0 * core::f64::consts::PI * l * f;
        prop_assert!(near(line(0.0) * k, work));
        prop_assert!(line(0.2) < line(0.1) && line(0.1) < line(0.0));
    }

    #[test]
    fn a_strap_presses_less_on_a_larger_form(t in 0.1..100.0f64, r in 10.0..5000.0f64) {
        let at = |r: f64| number(&format!("strap-pressure tension={t} radius={r}"), "pressure_kpa");
        prop_assert!(near(at(r), 2.0 * at(2.0 * r)));
    }

    #[test]
    fn a_bag_presses_less_higher_up(h in -400.0..10_000.0f64, v in 1.0..100.0f64) {
        let at = |h: f64| number(&format!("vacuum altitude={h}m vacuum={v}%"), "pressure_kpa");
        prop_assert!(at(h) > at(h + 100.0) && at(h + 100.0) > 0.0);
    }

    #[test]
    fn the_form_for_a_radius_gives_that_radius(n in 2u32..60, r in 10.0..10_000.0f64) {
        let form = number(&format!("spring-back laminae={n} radius={r}mm"), "form_radius_mm");
        let back = number(&format!("spring-back laminae={n} form-radius={form}mm"), "radius_mm");
        prop_assert!(near(back, r) && form < r);
    }

    #[test]
    fn thicker_plywood_bends_less(t in 0.9..9.0f64) {
        for kind in ["plywood-dry-90", "plywood-dry-0", "plywood-soaked-0", "stressed-lamination", "breaking"] {
            let at = |t: f64| number(&format!("bend-radius thickness={t}mm kind={kind}"), "least_radius_mm");
            prop_assert!(at(t) < at(t + 0.5), "{}", kind);
        }
    }

    #[test]
    fn a_scarf_carries_what_comes_in(n in 1.0..100.0f64, t in 1.0..100.0f64, w in 1.0..500.0f64) {
        // Shear and normal stress on the glued area are together the member's stress on its section.
        let line = format!("scarf slope={n} thickness={t} width={w}");
        let at = |field: &str| number(&line, field);
        let force = libm::hypot(at("shear_share"), at("normal_share")) * at("area_mm2");
        prop_assert!(near(force, t * w));
    }

    #[test]
    fn a_block_knows_its_area(f in 10.0..1e6f64, w in 5.0..100.0f64, l in 5.0..100.0f64) {
        let at = |w: f64, l: f64| number(&format!("block-shear load={f}N width={w}mm length={l}mm"), "shear_mpa");
        prop_assert!(near(at(w, l) * w * l, f) && near(at(w, l), at(l, w)));
    }

    #[test]
    fn more_values_want_a_smaller_factor(n in 2u64..400, c in 60.0..99.0f64, g in 60.0..99.0f64) {
        let k = |n: u64, c: f64, g: f64| number(&format!("tolerance-factor n={n} coverage={c}% confidence={g}%"), "k");
        prop_assert!(k(n + 1, c, g) < k(n, c, g));
        prop_assert!(k(n, c + 0.5, g) > k(n, c, g) && k(n, c, g + 0.5) > k(n, c, g));
    }

    #[test]
    fn values_all_shifted_shift_the_bounds(values in proptest::collection::vec(-100.0..100.0f64, 3..20), by in -50.0..50.0f64) {
        let typed = |by: f64| values.iter().map(|x| (x + by).to_string()).collect::<Vec<_>>().join(",");
        for (figure, field) in [("basis-value", "basis_value"), ("individuals-chart", "lower"), ("individuals-chart", "upper")] {
            let at = |by: f64| number(&format!("{figure} values={}", typed(by)), field);
            prop_assert!((at(by) - at(0.0) - by).abs() < 1e-8);
        }
    }

    #[test]
    fn the_mean_of_a_laps_shear_is_load_by_area_and_the_peak_no_less(
        load in 1.0..500.0f64, l in 2.0..200.0f64, e in 1_000.0..100_000.0f64, t1 in 0.5..20.0f64, t2 in 0.5..20.0f64,
        g in 10.0..2_000.0f64, ta in 0.05..3.0f64,
    ) {
        let line = |l: f64, a: f64, b: f64| format!(
            "lap-stress load-per-width={load} overlap={l} e1={e} t1={a} e2={e} t2={b} glue-shear-modulus={g} glue-thickness={ta}"
        );
        prop_assert!(near(number(&line(l, t1, t2), "average_mpa") * l, load));
        prop_assert!(number(&line(l, t1, t2), "peak_mpa") >= number(&line(l, t1, t2), "average_mpa") * (1.0 - 1e-12));
        prop_assert!(near(number(&line(l, t1, t2), "peak_mpa"), number(&line(l, t2, t1), "peak_mpa")));
        // A longer lap has never a higher peak.
        prop_assert!(number(&line(2.0 * l, t1, t1), "peak_mpa") <= number(&line(l, t1, t1), "peak_mpa") * (1.0 + 1e-12));
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn more_glue_warmer_air_and_a_warmer_mix_never_last_longer(g in 20.0..800.0f64, t in 10.0..32.0f64, up in 0.5..10.0f64) {
        let line = |g: f64, air: f64, start: f64| format!("pot mass={g}g ambient={air}C start={start}C");
        for field in ["work_limit_min", "gel_min", "advised_min"] {
            let now = number(&line(g, t, t), field);
            prop_assert!(number(&line(g * 1.3, t, t), field) < now);
            prop_assert!(number(&line(g, t + up, t + up), field) < now);
            prop_assert!(number(&line(g, t, t + up), field) < now);
        }
        prop_assert!(number(&line(g, t, t), "advised_min") <= 0.9 * number(&line(g, t, t), "work_limit_min") + 1e-9);
        prop_assert!(number(&line(g * 1.3, t, t), "peak_c") > number(&line(g, t, t), "peak_c"));
    }
}
