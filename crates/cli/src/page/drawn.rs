//! The page as it can be drawn: letters that the embedded fonts lack are written as their code point, long words get
//! places to break, and the squares are made. The attached page keeps every letter as it was entered.

use qrcode::render::svg;
use qrcode::{EcLevel, QrCode};
use serde_json::{Map, Value, json};

/// A word longer than this gets places to break.
const LONG: usize = 22;
const PIECE: usize = 8;

/// The page for the template; `has` tells whether the fonts have a letter.
pub fn page(page: &Value, paper: &str, has: impl Fn(char) -> bool) -> Value {
    let mut shown = Map::new();
    for name in ["title", "subtitle", "stamp", "summary", "zone", "issued"] {
        shown.insert(name.to_owned(), drawable(&page[name], &has));
    }
    let section = |section: &Value| json!({ "heading": section["heading"], "section": section["section"], "blocks": section["blocks"] });
    let sections: Value = page["sections"].as_array().into_iter().flatten().map(section).collect();
    shown.insert("sections".to_owned(), drawable(&sections, &has));
    shown.insert("paper".to_owned(), paper.into());
    shown.insert("check".to_owned(), running(page).into());
    Value::Object(shown)
}

fn drawable(value: &Value, has: &impl Fn(char) -> bool) -> Value {
    match value {
        Value::String(text) => Value::String(text_for_paper(text, has)),
        Value::Array(items) => items.iter().map(|item| drawable(item, has)).collect(),
        Value::Object(members) => {
            // The lines of a checkpoint are copied off the page: nothing may stand in them.
            let shown =
                |name: &str, member: &Value| if name == "lines" { member.clone() } else { drawable(member, has) };
            Value::Object(members.iter().map(|(name, member)| (name.clone(), shown(name, member))).collect())
        }
        other => other.clone(),
    }
}

fn text_for_paper(text: &str, has: &impl Fn(char) -> bool) -> String {
    let letters = text.chars().map(|letter| match letter {
        '\n' | ' ' => letter.to_string(),
        '\t' => " ".to_owned(),
        '\u{a0}' => letter.to_string(),
        known if has(known) => known.to_string(),
        unknown => format!("[U+{:04X}]", u32::from(unknown)),
    });
    let whole: String = letters.collect();
    let whole = whole.split(' ').map(breakable).collect::<Vec<String>>().join(" ");
    // A number stays with its unit and its sign.
    [" %", " °C", " °F", "± "].iter().fold(whole, |text, kept| text.replace(kept, &kept.replace(' ', "\u{a0}")))
}

/// A long word with places to break in it, every few letters.
fn breakable(word: &str) -> String {
    let letters: Vec<char> = word.chars().collect();
    if letters.len() <= LONG {
        return word.to_owned();
    }
    letters.chunks(PIECE).map(|piece| piece.iter().collect::<String>()).collect::<Vec<String>>().join("\u{200b}")
}

/// The checkpoint in a few letters, for the head of every sheet.
fn running(page: &Value) -> Option<String> {
    let mut lines = checkpoint(page)?.lines().skip(1);
    let (size, root) = (lines.next()?, lines.next()?);
    Some(format!("checkpoint {size} · {}…", root.chars().take(12).collect::<String>()))
}

/// The checkpoint's text as squares, with the quiet zone of four that readers need. A page without a checkpoint gets
/// an empty square.
pub fn squares(page: &Value) -> Result<String, String> {
    let code = QrCode::with_error_correction_level(checkpoint(page).unwrap_or_default(), EcLevel::Q)
        .map_err(|why| format!("The checkpoint does not fit into its squares: {why}."))?;
    Ok(code.render::<svg::Color<'_>>().quiet_zone(true).module_dimensions(4, 4).build())
}

fn checkpoint(page: &Value) -> Option<&str> {
    let sections = page["sections"].as_array()?;
    let mut blocks = sections.iter().flat_map(|section| section["blocks"].as_array().into_iter().flatten());
    blocks.find(|block| block["block"] == "checkpoint").and_then(|block| block["qr"].as_str())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_that_cannot_be_drawn_are_named_and_long_words_can_break() {
        let latin = |letter: char| letter.is_ascii();
        assert_eq!(text_for_paper("glue \u{4e2d} on\ttime", &latin), "glue [U+4E2D] on time");
        let word = "x".repeat(30);
        let broken = text_for_paper(&word, &latin);
        assert_eq!(broken.matches('\u{200b}').count(), 3);
        assert_eq!(broken.replace('\u{200b}', ""), word);
        assert_eq!(text_for_paper("short words only", &latin), "short words only");
    }
}
