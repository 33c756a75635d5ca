//! A row for every figure that must be refused, and what every refusal tells.

use super::{asked, refused};
use glue::figure::{ALL, Cause, Preset};

const OUT: Cause = Cause::OutOfRange;
const AGAINST: Cause = Cause::Contradicts;

/// One sound line for each figure; the rows below spoil them.
const SOUND: &[&str] = &[
    "wood-moisture temperature=70F humidity=50%",
    "dew-point temperature=20C humidity=50%",
    "heated-air outdoor-temperature=0C outdoor-humidity=75% indoor-temperature=20C",
    "wet-bulb dry=25C wet=18C",
    "wood-movement width=100mm coefficient=0.00263 from=12% to=8%",
    "glue-water spread=200g/m2 water=0.4 laminations=4 thickness=3mm specific-gravity=0.4",
    "meter-correction reading=12% wood-temperature=5C",
    "mix-ratio nominal=2:1 resin=100g hardener=50g resolution=0.1g",
    "weigh-limit resolution=0.1g nominal=2:1 tolerance=5%",
    "hardener-per-hundred eew=190 ahew=24.4",
    "blend-equivalent parts=80@189,10@183,10@-",
    "off-ratio equivalents=0.9:1 functionality=4 eew=187 ahew=60 conversion=90%",
    "cure-law points=75F:240min,90F:120min",
    "cure-finish ea=55 point=20C:12h trace=0h:22C,24h:10C",
    "equivalent-age ea=55 reference=20C trace=0h:22C,24h:10C",
    "isothermal-cure k1=3.577e-5 k2=2.655e-4 m=1.588 n=1.479 plateau=0.78885 conversion=0.577",
    "pot mass=100g ambient=25C start=30C vessel=tray:6mm pot-life=100g@25C:80min film-gel=25C:6h",
    "cured-state temperature=20C time=7d then=60C:6h",
    "glue-line-warmup thickness=40mm film=10",
    "assembly-use open=6min closed=8min open-limit=10min closed-limit=20min",
    "glue-amount area=1m2 spread=250g/m2",
    "joint-area sort=web-in-cap length=1m thickness=3mm depth=6mm spread=200g/m2",
    "joint-age length=5m spread-time=12min clamp-time=10min",
    "nail-gluing length=600mm width=12mm thickness=1.5mm",
    "lamination radius=1.5m thickness=24mm",
    "clamp-force area=100cm2 pressure=150psi clamps=4",
    "screw-clamp hand-force=200N lever=200mm diameter=20mm pitch=4mm",
    "strap-pressure tension=10N/mm radius=300mm",
    "vacuum altitude=500m vacuum=85%",
    "spring-back laminae=4 radius=500mm",
    "bend-radius thickness=3mm kind=stressed-lamination",
    "scarf slope=12 thickness=10mm width=50mm",
    "block-shear load=6000lbf width=2in length=1.5in",
    "tolerance-factor n=5",
    "basis-value values=10,11,12",
    "individuals-chart values=10,11,12",
    "lap-stress load-per-width=100N/mm overlap=12.5mm e1=70GPa t1=1.6mm e2=70GPa t2=1.6mm glue-shear-modulus=1GPa \
     glue-thickness=0.2mm",
];

#[test]
fn every_figure_of_these_answers_and_lists_what_it_gives() {
    for line in SOUND {
        let answer = asked(line).unwrap_or_else(|refusal| panic!("{line}: {}", refusal.sentence));
        let figure = ALL.iter().find(|figure| figure.name == answer.figure).unwrap();
        let given: Vec<&str> = answer.result.iter().map(|(name, _)| *name).collect();
        let listed: Vec<&str> = figure.results.iter().map(|field| field.name).collect();
        assert_eq!(given, listed, "{}", figure.name);
        assert!(!answer.basis.formula.is_empty() && !answer.basis.source.is_empty(), "{}", figure.name);
    }
}

#[test]
fn what_is_needed_is_asked_for_and_what_is_not_known_is_refused() {
    for line in SOUND {
        let words: Vec<&str> = line.split(' ').filter(|word| !word.is_empty()).collect();
        let figure = ALL.iter().find(|figure| figure.name == words[0]).unwrap();
        for input in figure.inputs.iter().filter(|input| input.preset == Preset::Needed) {
            let left = words.iter().filter(|word| !word.starts_with(&format!("{}=", input.name)));
            let left = left.copied().collect::<Vec<_>>().join(" ");
            refused(&left, Cause::Missing, input.name);
        }
        refused(&format!("{line} colour=red"), Cause::UnknownField, "colour");
        refused(&format!("{line} {}", words[1]), AGAINST, words[1].split_once('=').unwrap().0);
    }
}

#[test]
fn every_input_refuses_what_is_no_quantity() {
    for line in SOUND {
        let words: Vec<&str> = line.split(' ').filter(|word| !word.is_empty()).collect();
        for (at, word) in words.iter().enumerate().skip(1) {
            let name = word.split_once('=').unwrap().0;
            for bad in
                ["", "NaN", "inf", "-inf", "1e99", "-1e99", "abc", "1,2,x", "5 furlongs", "\u{202E}", "0x10", "1:0"]
            {
                let mut spoiled: Vec<String> = words.iter().map(ToString::to_string).collect();
                spoiled[at] = format!("{name}={bad}");
                let typed = spoiled.iter().skip(1).map(|word| word.split_once('=').unwrap());
                let refusal = glue::figure::reckon(words[0], typed).expect_err(&spoiled.join(" "));
                super::one_sentence(&refusal);
                assert!(refusal.field == name, "{spoiled:?}: {refusal:?}");
            }
        }
    }
}

#[test]
fn rows_that_must_be_refused() {
    let rows: &[(&str, Cause, &str)] = &[
        ("wood-moisture temperature=70F humidity=140%", OUT, "humidity"),
        ("wood-moisture temperature=700F humidity=40%", OUT, "temperature"),
        ("dew-point temperature=20C humidity=0%", OUT, "humidity"),
        (
            "heated-air outdoor-temperature=30C outdoor-humidity=90% indoor-temperature=10C",
            AGAINST,
            "indoor-temperature",
        ),
        ("wet-bulb dry=20C wet=21C", AGAINST, "wet"),
        ("wet-bulb dry=60C wet=5C", AGAINST, "wet"),
        ("wood-movement width=100mm coefficient=0.002 shrinkage=5% from=12 to=8", AGAINST, "shrinkage"),
        ("wood-movement width=100mm from=12 to=8", Cause::Missing, "coefficient"),
        ("wood-movement width=100mm coefficient=0.002 from=45% to=8", OUT, "from"),
        ("glue-water spread=200g/m2 water=1.2 laminations=4 thickness=3mm specific-gravity=0.4", OUT, "water"),
        ("glue-water spread=200g/m2 water=0.4 laminations=1 thickness=3mm specific-gravity=0.4", OUT, "laminations"),
        ("meter-correction reading=30% wood-temperature=5C", OUT, "reading"),
        ("mix-ratio nominal=0:1 resin=100g hardener=50g resolution=0.1g", OUT, "nominal"),
        ("mix-ratio nominal=2:1 resin=100g hardener=50ml resolution=0.1g", AGAINST, "hardener"),
        ("mix-ratio by=volume nominal=2:1 resin=100g hardener=50g resolution=0.1g", AGAINST, "by"),
        ("mix-ratio nominal=2:1 weighing=12.4/52.4 resolution=0.1g", OUT, "weighing"),
        ("mix-ratio nominal=2:1 weighing=52.4/12.4/60.7 resolution=0.1g", OUT, "weighing"),
        ("mix-ratio nominal=2:1 weighing=12.4/52.4/60.7 resin=40g resolution=0.1g", AGAINST, "resin"),
        ("mix-ratio nominal=2:1 weighing=thrice resin=40g hardener=20g resolution=0.1g", OUT, "weighing"),
        ("mix-ratio nominal=2:1 resin=100g hardener=50g resolution=0g", OUT, "resolution"),
        ("weigh-limit resolution=0.1g nominal=2:1 tolerance=0%", OUT, "tolerance"),
        ("hardener-per-hundred eew=0 ahew=24.4", OUT, "eew"),
        ("blend-equivalent parts=10@-,5@-", OUT, "parts"),
        ("cure-law points=75F:240min", OUT, "points"),
        ("cure-law points=75F:240min,75F:120min", OUT, "points"),
        ("cure-law points=75F:120min,90F:240min", OUT, "points"),
        ("cure-law points=20C:6-4h,30C:3h", OUT, "points"),
        ("cure-law points=20C:525600min,20.5C:1min,21C:0.001min at=-40C", OUT, "points"),
        ("cure-finish points=20C:525600min,20.5C:1min,21C:0.001min trace=0h:-40C", OUT, "points"),
        ("cure-finish points=20C:60min,30C:6min trace=0h:20C", OUT, "points"),
        ("cure-law points=20C:60min,30C:6min", OUT, "points"),
        ("cure-law points=75F:240min,90F:120min at=900C", OUT, "at"),
        ("cure-finish ea=55 trace=0h:22C", Cause::Missing, "point"),
        ("cure-finish point=20C:12h trace=0h:22C", Cause::Missing, "ea"),
        ("cure-finish trace=0h:22C", Cause::Missing, "points"),
        ("cure-finish points=20C:12h,30C:6h ea=55 trace=0h:22C", AGAINST, "ea"),
        ("cure-finish ea=55 point=20C:12h trace=2h:22C", OUT, "trace"),
        ("cure-finish ea=55 point=20C:12h trace=0h:22C,5h:20C,4h:20C", OUT, "trace"),
        ("cure-finish ea=55 point=20C:12h trace=0h:22C minimum=15C maximum=10C", AGAINST, "maximum"),
        ("equivalent-age ea=55 reference=20C trace=0h:22C", OUT, "trace"),
        ("off-ratio equivalents=0:1", OUT, "equivalents"),
        ("off-ratio equivalents=101", OUT, "equivalents"),
        ("off-ratio equivalents=1:1 functionality=2", OUT, "functionality"),
        ("off-ratio equivalents=1:1 conversion=101%", OUT, "conversion"),
        ("isothermal-cure k1=0 k2=2e-4 m=1 n=2 conversion=0.5", OUT, "k1"),
        ("isothermal-cure k1=1e-5 k2=-2e-4 m=1 n=2 conversion=0.5", OUT, "k2"),
        ("isothermal-cure k1=1e-5 k2=2e-4 m=1 n=2 conversion=120%", OUT, "conversion"),
        ("pot mass=0g ambient=25C", OUT, "mass"),
        ("pot mass=100g ambient=95C", OUT, "ambient"),
        ("pot mass=100g ambient=25C vessel=bucket", OUT, "vessel"),
        ("pot mass=100g ambient=25C vessel=tray:0mm", OUT, "vessel"),
        ("pot mass=100g ambient=25C pot-life=100g@25C:45min", Cause::Missing, "film-gel"),
        ("pot mass=100g ambient=25C film-gel=25C:3h", Cause::Missing, "pot-life"),
        ("pot mass=100g ambient=25C pot-life=25C:45min film-gel=25C:3h", OUT, "pot-life"),
        ("pot mass=100g ambient=25C pot-life=100g@25C:45min film-gel=25C:-3h", OUT, "film-gel"),
        ("cured-state temperature=400C time=7d", OUT, "temperature"),
        ("cured-state temperature=20C time=7d then=60C", OUT, "then"),
        ("glue-line-warmup thickness=40mm film=0", OUT, "film"),
        ("glue-line-warmup thickness=40mm film=10 share=1", OUT, "share"),
        ("glue-line-warmup thickness=40mm film=10 sides=3", OUT, "sides"),
        ("assembly-use open=6min closed=8min open-limit=0min closed-limit=20min", OUT, "open-limit"),
        ("glue-amount area=1m2 spread=250g/m2 faces=3", OUT, "faces"),
        ("clamp-force area=100cm2 pressure=150psi clamps=0", OUT, "clamps"),
        ("clamp-force area=100cm2 pressure=150psi", Cause::Missing, "clamps"),
        ("clamp-force area=100cm2 pressure=150psi clamps=4 maximum=0psi", OUT, "maximum"),
        ("nail-gluing length=600mm width=12mm thickness=1.5mm pitch=0mm", OUT, "pitch"),
        ("joint-area sort=dovetail length=60mm width=40mm", OUT, "sort"),
        ("joint-area sort=lap length=60mm", Cause::Missing, "width"),
        ("joint-area sort=lap length=60mm width=40mm depth=6mm", AGAINST, "depth"),
        ("joint-area sort=scarf width=20mm thickness=10mm slope=0.5", OUT, "slope"),
        ("joint-age length=5m clamp-time=10min", Cause::Missing, "spread-time"),
        ("joint-age length=5m spread-time=12min spread-pace=1m/min clamp-time=10min", AGAINST, "spread-pace"),
        ("joint-age length=5m spread-time=12min clamp-time=10min open-limit=10min", Cause::Missing, "closed-limit"),
        ("joint-age length=5m spread-time=12min clamp-time=10min clamp=zigzag", OUT, "clamp"),
        ("lamination thickness=24mm", Cause::Missing, "radius"),
        ("lamination radius=1.5m rise=100mm thickness=24mm", AGAINST, "rise"),
        ("lamination rise=100mm thickness=24mm", Cause::Missing, "chord"),
        ("lamination rise=600mm chord=1m thickness=24mm", AGAINST, "rise"),
        ("lamination radius=1.5m thickness=24mm laminae=1", OUT, "laminae"),
        ("lamination radius=10mm thickness=200mm", AGAINST, "thickness"),
        ("lamination radius=5mm thickness=200mm laminae=2 use=former", AGAINST, "laminae"),
        ("screw-clamp hand-force=200N lever=200mm diameter=2mm pitch=100mm friction=0.5", AGAINST, "pitch"),
        ("strap-pressure tension=10N/mm radius=0mm", OUT, "radius"),
        ("vacuum altitude=500m vacuum=101%", OUT, "vacuum"),
        ("vacuum altitude=30000m vacuum=85%", OUT, "altitude"),
        ("spring-back laminae=1 radius=500mm", OUT, "laminae"),
        ("spring-back laminae=4 radius=500mm form-radius=500mm", AGAINST, "form-radius"),
        ("spring-back laminae=4", Cause::Missing, "radius"),
        ("bend-radius thickness=20mm kind=plywood-dry-90", AGAINST, "thickness"),
        ("bend-radius thickness=3mm kind=steel", OUT, "kind"),
        ("scarf slope=0 thickness=10mm width=50mm", OUT, "slope"),
        ("scarf slope=3:4 thickness=10mm width=50mm", OUT, "slope"),
        ("block-shear load=0N width=2in length=1.5in", OUT, "load"),
        ("tolerance-factor n=1", OUT, "n"),
        ("tolerance-factor n=5 coverage=100%", OUT, "coverage"),
        ("basis-value values=10", OUT, "values"),
        ("individuals-chart values=10", OUT, "values"),
        (
            "lap-stress load-per-width=100N/mm overlap=0mm e1=70GPa t1=1.6mm e2=70GPa t2=1.6mm glue-shear-modulus=1GPa \
             glue-thickness=0.2mm",
            OUT,
            "overlap",
        ),
        ("pot-noodle mass=100g", Cause::NotFound, "figure"),
    ];
    for (line, cause, field) in rows {
        let line = line.split_whitespace().collect::<Vec<_>>().join(" ");
        refused(&line, *cause, field);
    }
}

#[test]
fn a_refusal_names_field_value_and_range() {
    let refusal = asked("wood-moisture temperature=70F humidity=140%").unwrap_err();
    assert_eq!(refusal.sentence, "humidity \"140%\" is out of range; it takes 0 to 100 %.");
    let refusal = asked("wood-moisture temperature=70F humidity=140").unwrap_err();
    assert_eq!(refusal.range.as_deref(), Some("0 to 100 %"));
}
