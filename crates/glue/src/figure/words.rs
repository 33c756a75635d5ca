//! Plain words for people: how a figure, its inputs and its results are called where nobody types names, and which
//! figures stand together. The names of the contract stay what they are.

/// The families, in the order in which they are read, with the figures of each.
pub static FAMILIES: &[(&str, &[&str])] = &[
    (
        "Air and wood",
        &["wood-moisture", "dew-point", "heated-air", "wet-bulb", "wood-movement", "glue-water", "meter-correction"],
    ),
    (
        "Mixing",
        &["mix-ratio", "weigh-limit", "glue-amount", "hardener-per-hundred", "blend-equivalent", "off-ratio", "pot"],
    ),
    ("Cure", &["cure-law", "cure-finish", "equivalent-age", "isothermal-cure", "cured-state", "glue-line-warmup"]),
    (
        "Assembly and clamps",
        &["assembly-use", "joint-age", "clamp-force", "nail-gluing", "screw-clamp", "strap-pressure", "vacuum"],
    ),
    ("Bending and joints", &["lamination", "spring-back", "bend-radius", "joint-area", "scarf", "lap-stress"]),
    ("Samples", &["block-shear", "tolerance-factor", "basis-value", "individuals-chart"]),
];

/// What stands before a box: figure (empty: any), input, words. An input that is not here is called by its name.
static INPUTS: &[(&str, &str, &str)] = &[
    ("clamp-force", "pressure", "Pressure on the glue line"),
    ("clamp-force", "each", "One clamp gives"),
    ("clamp-force", "maximum", "Highest pressure of the sheet"),
    ("strap-pressure", "maximum", "Highest pressure of the sheet"),
    ("vacuum", "maximum", "Highest pressure of the sheet"),
    ("", "wanted", "Least pressure of the sheet"),
    ("block-shear", "load", "Breaking load"),
    ("joint-age", "length", "Length of the joint"),
    ("joint-age", "spread", "Order of spreading"),
    ("joint-age", "clamp", "Order of clamping"),
    ("joint-age", "spread-time", "Spreading takes"),
    ("joint-age", "spread-pace", "Pace of spreading"),
    ("joint-age", "closing", "The faces meet"),
    ("joint-age", "pause", "Pause after spreading"),
    ("joint-age", "clamp-time", "Clamping takes"),
    ("joint-area", "sort", "Sort of joint"),
    ("joint-area", "covered", "Share on wood"),
    ("joint-area", "joints", "Joints alike"),
    ("lamination", "radius", "Radius wanted"),
    ("lamination", "thickness", "Thickness of the stack"),
    ("lamination", "area", "Area of one glue line"),
    ("lamination", "bend", "How it is bent"),
    ("lamination", "use", "What it is for"),
    ("lamination", "margin", "Margin from breaking"),
    ("nail-gluing", "length", "Length of the joint"),
    ("nail-gluing", "width", "Width of the joint"),
    ("nail-gluing", "thickness", "Thickness of the thinner member"),
    ("nail-gluing", "pitch", "Nail to nail"),
    ("nail-gluing", "row-pitch", "Row to row"),
    ("tolerance-factor", "n", "Number of values"),
    ("isothermal-cure", "k1", "Rate k1"),
    ("isothermal-cure", "k2", "Rate k2"),
    ("isothermal-cure", "m", "Exponent m"),
    ("isothermal-cure", "n", "Exponent n"),
    ("mix-ratio", "tolerance", "Tolerance of the ratio"),
    ("weigh-limit", "tolerance", "Tolerance of the ratio"),
    ("glue-line-warmup", "film", "Heat transfer at the surface"),
    ("cured-state", "then", "Post-cure after that"),
    ("", "ahew", "Amine hydrogen equivalent weight"),
    ("", "ambient", "Air temperature"),
    ("", "area", "Area of the glue line"),
    ("", "at", "At which temperatures"),
    ("", "by", "Ratio goes by"),
    ("", "clamps", "Number of clamps"),
    ("", "closed", "Closed time"),
    ("", "closed-limit", "Closed time, at most"),
    ("", "coefficient", "Movement coefficient"),
    ("", "dry", "Dry bulb"),
    ("", "e1", "Stiffness of the first member"),
    ("", "e2", "Stiffness of the second member"),
    ("", "ea", "Activation energy (ea)"),
    ("", "eew", "Epoxide equivalent weight"),
    ("", "faces", "Faces spread"),
    ("", "film-gel", "Gel time of a thin film"),
    ("", "from", "Moisture at the start"),
    ("", "glue-shear-modulus", "Shear modulus of the glue"),
    ("", "glue-thickness", "Thickness of the glue line"),
    ("", "horizon", "How far ahead to look"),
    ("", "kind", "Which limit"),
    ("", "laminae", "Number of layers"),
    ("", "laminations", "Number of layers"),
    ("", "load-per-width", "Load per width"),
    ("", "mass", "Mass of glue in the pot"),
    ("", "maximum", "Highest temperature credited"),
    ("", "minimum", "Least temperature for cure"),
    ("", "nominal", "Ratio of the sheet"),
    ("", "open", "Open time"),
    ("", "open-limit", "Open time, at most"),
    ("", "outdoor-humidity", "Humidity outdoors"),
    ("", "outdoor-temperature", "Temperature outdoors"),
    ("", "indoor-temperature", "Temperature indoors"),
    ("", "parts", "Parts of the blend"),
    ("", "point", "Point: one time of the sheet"),
    ("", "points", "Points: times of the sheet"),
    ("", "pot-life", "Pot life of the sheet"),
    ("", "reading", "Meter reading"),
    ("", "reference", "Reference temperature"),
    ("", "resolution", "Step of the scale"),
    ("", "accuracy", "Accuracy of the scale"),
    ("", "shrinkage", "Total shrinkage"),
    ("", "start", "Temperature at mixing"),
    ("", "surface", "Surface temperature"),
    ("", "t1", "Thickness of the first member"),
    ("", "t2", "Thickness of the second member"),
    ("", "to", "Moisture at the end"),
    ("", "trace", "Temperature over time"),
    ("", "waste", "Extra for cup and brush"),
    ("", "water", "Share of water in the glue"),
    ("", "weighing", "How it was weighed"),
    ("", "wet", "Wet bulb"),
];

/// What stands before a result: figure (empty: any), field, words.
static RESULTS: &[(&str, &str, &str)] = &[
    ("meter-correction", "wood_moisture_pct", "Moisture of the wood"),
    ("heated-air", "humidity_pct", "Relative humidity indoors"),
    ("glue-line-warmup", "time_min", "Warm through after"),
    ("joint-area", "area_mm2", "Glued area of one joint"),
    ("lamination", "form_radius_mm", "Radius of the form for gluing"),
    ("", "advice", "In words"),
    ("", "all_mm2", "Glued area of all"),
    ("", "bending_form_mm", "Radius of the form for bending"),
    ("", "best_age_min", "Oldest glue in the best order"),
    ("", "best_clamp", "Best order of clamping"),
    ("", "best_share", "Assembly time used in the best order"),
    ("", "best_spread", "Best order of spreading"),
    ("", "breaking_radius_mm", "Dry strips break at"),
    ("", "clamps_needed", "Clamps needed"),
    ("", "closed_min", "Closed there"),
    ("", "fillet_ml", "Body of the fillet"),
    ("", "given_back_pct", "Springs back by"),
    ("", "given_kpa", "Pressure of these clamps"),
    ("", "glue_lines", "Glue lines"),
    ("", "lamina_mm", "Thickness of a strip"),
    ("", "laminae", "Strips"),
    ("", "least_length_mm", "Nails no shorter than"),
    ("", "nails", "Nails"),
    ("", "open_min", "Open there"),
    ("", "pairs", "Pairs of faces"),
    ("", "per_row", "Nails in a row"),
    ("", "rows", "Rows"),
    ("", "soaked_radius_mm", "Soaked strips take"),
    ("", "stages", "Order of work"),
    ("", "stressed_radius_mm", "Highly stressed, no tighter than"),
    ("", "strip_mm", "Nailing strip at least"),
    ("", "worst_age_min", "Oldest glue when pressed"),
    ("", "worst_at_m", "Where that is"),
    ("", "activation_energy_kj_mol", "Activation energy"),
    ("", "advised_min", "Use it up within"),
    ("", "area_mm2", "Glued area"),
    ("", "average_mpa", "Average shear"),
    ("", "bands", "95 % band"),
    ("", "basis_value", "Basis value"),
    ("", "change_mm", "Change of the width"),
    ("", "coefficient_per_pct", "Movement coefficient"),
    ("", "comfortable_resin_g", "Comfortable from this much resin"),
    ("", "conversion", "Share cured"),
    ("", "dew_point_c", "Dew point"),
    ("", "earliest_h", "Reached at the earliest after"),
    ("", "equivalent_h", "Age at the reference temperature"),
    ("", "equivalent_weight", "Equivalent weight of the blend"),
    ("", "error_pct", "Hardener off the sheet's ratio by"),
    ("", "finish_h", "Reached, as expected, after"),
    ("", "force_n", "Force altogether"),
    ("", "form_radius_mm", "Radius of the form"),
    ("", "gel_conversion", "Share cured at the gel point"),
    ("", "gel_min", "Gels after"),
    ("", "glass_transition_c", "Glass transition"),
    ("", "hardener_g", "Hardener"),
    ("", "hardener_phr", "Hardener to resin, by weight"),
    ("", "humidity_pct", "Relative humidity"),
    ("", "k", "Tolerance factor"),
    ("", "latest_h", "Reached at the latest after"),
    ("", "least_radius_mm", "Bend no tighter than"),
    ("", "length_mm", "Length of the scarf"),
    ("", "limit_conversion", "Share cured in the end"),
    ("", "ln_t0_min", "ln t0, t0 in minutes"),
    ("", "load_n", "Force of the screw"),
    ("", "lower", "Lower limit"),
    ("", "margin_k", "Surface above the dew point"),
    ("", "mean", "Mean"),
    ("", "mixed_g", "Glue to mix"),
    ("", "moisture_rise_pct", "Moisture rises by"),
    ("", "normal_share", "Pull across the glue, as a share of the member's stress"),
    ("", "out_of_control", "Values that do not belong, by their place"),
    ("", "peak_c", "Hottest"),
    ("", "peak_min", "Hottest after"),
    ("", "peak_mpa", "Highest shear"),
    ("", "per_clamp_n", "Force of each clamp"),
    ("", "pressure_kpa", "Pressure on the joint"),
    ("", "progress", "Done at the end of the trace"),
    ("", "radius_mm", "Radius of the finished piece"),
    ("", "resin_g", "Resin"),
    ("", "sd", "Standard deviation"),
    ("", "shear_mpa", "Shear strength"),
    ("", "shear_share", "Shear on the glue, as a share of the member's stress"),
    ("", "smallest_resin_g", "Least resin"),
    ("", "sol_pct", "Never bound in"),
    ("", "stalled", "Cure has stalled"),
    ("", "swapped", "Resin and hardener look swapped"),
    ("", "time_min", "Time"),
    ("", "times_min", "Time"),
    ("", "uncertainty_pct", "Uncertainty of that"),
    ("", "upper", "Upper limit"),
    ("", "used_share", "Assembly time used up"),
    ("", "vapour_pressure_hpa", "Vapour pressure"),
    ("", "verdict", "Verdict"),
    ("", "warning", "Warning"),
    ("", "wood_moisture_pct", "Wood would settle at"),
    ("", "work_limit_min", "Too far cured to spread after"),
];

/// The family of a figure; one that is in none stands under `Others`.
pub fn family(figure: &str) -> &'static str {
    let found = FAMILIES.iter().find(|(_, figures)| figures.contains(&figure));
    found.map_or("Others", |(family, _)| family)
}

/// A figure's name as a heading: `dew-point` is `Dew point`.
pub fn title(figure: &str) -> String {
    plain(figure)
}

/// What stands before the box of an input.
pub fn of_input(figure: &str, input: &str) -> String {
    found(INPUTS, figure, input).map_or_else(|| plain(input), str::to_owned)
}

/// What stands before a field of a result.
pub fn of_result(figure: &str, field: &str) -> String {
    found(RESULTS, figure, field).map_or_else(|| plain(field), str::to_owned)
}

fn found(all: &'static [(&str, &str, &str)], figure: &str, name: &str) -> Option<&'static str> {
    let of = |wanted: &str| all.iter().find(|(of, one, _)| *of == wanted && *one == name);
    of(figure).or_else(|| of("")).map(|(_, _, words)| *words)
}

/// A name without its dashes, beginning with a capital.
fn plain(name: &str) -> String {
    let mut letters = name.chars().map(|c| if c == '-' || c == '_' { ' ' } else { c });
    letters.next().map(|first| first.to_ascii_uppercase()).into_iter().chain(letters).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figure::ALL;

    #[test]
    fn every_figure_stands_in_one_family_and_every_result_has_words() {
        for figure in ALL {
            let families = FAMILIES.iter().filter(|(_, figures)| figures.contains(&figure.name)).count();
            assert_eq!(families, 1, "{} stands in {families} families", figure.name);
            for field in figure.results {
                assert!(found(RESULTS, figure.name, field.name).is_some(), "{}: {}", figure.name, field.name);
            }
        }
    }

    #[test]
    fn words_of_one_figure_come_before_the_words_of_all() {
        assert_eq!(of_input("tolerance-factor", "n"), "Number of values");
        assert_eq!(of_input("dew-point", "humidity"), "Humidity");
        assert_eq!(of_result("meter-correction", "wood_moisture_pct"), "Moisture of the wood");
        assert_eq!(of_result("wood-moisture", "wood_moisture_pct"), "Wood would settle at");
        assert_eq!(title("hardener-per-hundred"), "Hardener per hundred");
    }
}
