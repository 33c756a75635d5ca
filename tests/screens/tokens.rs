//! The colours against each other, in each theme: text 4.5 to 1 on what it stands on, graphics 3 to 1.
//!
//! Relative luminance and contrast ratio as WCAG 2.2 defines them (W3C Recommendation, "relative luminance",
//! "contrast ratio", success criteria 1.4.3 and 1.4.11).

use std::collections::BTreeMap;
use std::path::Path;

/// Text colour and its ground.
const TEXT: [(&str, &str); 20] = [
    ("ink", "spruce"),
    ("ink", "birch"),
    ("ink-soft", "spruce"),
    ("ink-soft", "birch"),
    ("glue-text", "birch"),
    ("glue-text", "spruce"),
    ("heat", "birch"),
    ("heat", "spruce"),
    ("heat", "heat-pale"),
    ("chill", "birch"),
    ("chill", "spruce"),
    ("chill", "chill-pale"),
    ("moss", "birch"),
    ("moss", "spruce"),
    ("moss", "moss-pale"),
    ("doubt", "birch"),
    ("doubt", "spruce"),
    ("doubt", "doubt-pale"),
    ("ink", "doubt-pale"),
    ("ink", "heat-pale"),
];

/// Shapes and lines that carry a meaning, and what they stand against.
const GRAPHICS: [(&str, &str); 10] = [
    ("focus", "spruce"),
    ("focus", "birch"),
    ("chill", "birch"),
    ("heat", "birch"),
    ("moss", "birch"),
    ("doubt", "birch"),
    ("glue-2", "birch"),
    ("glue-3", "birch"),
    ("ink-soft", "spruce"),
    ("heat", "wood"),
];

fn themes() -> BTreeMap<String, BTreeMap<String, [f64; 3]>> {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("../ui/src/look/tokens.css");
    let text = std::fs::read_to_string(file).expect("the colours");
    let mut themes: BTreeMap<String, BTreeMap<String, [f64; 3]>> = BTreeMap::new();
    let mut theme = String::new();
    for line in text.lines() {
        if line.starts_with(":root") {
            theme = line.split('"').nth(1).unwrap_or("light").to_owned();
        }
        let Some((name, value)) = line.trim().strip_prefix("--").and_then(|line| line.split_once(": #")) else {
            continue;
        };
        let channel = |at: usize| u8::from_str_radix(&value[at..at + 2], 16).map(|byte| f64::from(byte) / 255.0);
        if let (Ok(red), Ok(green), Ok(blue)) = (channel(0), channel(2), channel(4)) {
            themes.entry(theme.clone()).or_default().insert(name.to_owned(), [red, green, blue]);
        }
    }
    themes
}

fn luminance(colour: [f64; 3]) -> f64 {
    let linear = |c: f64| if c <= 0.04045 { c / 12.92 } else { libm::pow((c + 0.055) / 1.055, 2.4) };
    0.2126 * linear(colour[0]) + 0.7152 * linear(colour[1]) + 0.0722 * linear(colour[2])
}

fn contrast(one: [f64; 3], other: [f64; 3]) -> f64 {
    let (one, other) = (luminance(one) + 0.05, luminance(other) + 0.05);
    if one > other { one / other } else { other / one }
}

#[test]
fn the_measure_itself_is_right() {
    assert!((contrast([0.0; 3], [1.0; 3]) - 21.0).abs() < 1e-9);
    // #767676 on white is the well-known least grey: 4.54 (WebAIM's contrast table; from memory).
    let grey = f64::from(0x76_u8) / 255.0;
    assert!((contrast([grey; 3], [1.0; 3]) - 4.54).abs() < 0.005);
}

#[test]
fn every_pair_of_colours_can_be_read() {
    let themes = themes();
    assert_eq!(themes.keys().map(String::as_str).collect::<Vec<_>>(), ["contrast", "dark", "light"]);
    let mut wrong = Vec::new();
    for (theme, colours) in &themes {
        for (pairs, least) in [(&TEXT[..], 4.5), (&GRAPHICS[..], 3.0)] {
            for (front, ground) in pairs {
                let found = contrast(colours[*front], colours[*ground]);
                if found < least {
                    wrong.push(format!("{theme}: {front} on {ground} is {found:.2}, less than {least}"));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
