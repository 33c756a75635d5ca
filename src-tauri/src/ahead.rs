//! What a page asks first, asked for it while its web view starts: this computer's state and the bench. It stands in the
//! page as data, so that the first drawing waits for no question.

use crate::desk;
use crate::host::{Host, locked};
use serde_json::{Value, json};
use std::sync::{Arc, Mutex};
use workshop::clock::{Clock, SystemClock};

/// Older than this it is not shown as new, ms.
const FRESH_MS: i64 = 2_000;

/// The answers and when they were asked for, on the boot's own clock; taken once.
#[derive(Default)]
pub struct Ahead(Mutex<Option<(i64, Value)>>);

impl Ahead {
    /// Asks on a thread of its own.
    pub fn ask(host: &Arc<Host>) {
        *locked(&host.ahead.0) = None;
        let host = Arc::clone(host);
        drop(std::thread::spawn(move || {
            let asked_ms = SystemClock::new().now().boot_ms;
            // Without a book there is nothing to save time on.
            if let Ok(bench) = host.ask(json!({ "ask": "bench", "body": {} }), None, None) {
                let answers = json!({ "desk": desk::state(&host), "bench": bench });
                *locked(&host.ahead.0) = Some((asked_ms, answers));
            }
        }));
    }

    /// Puts the answers into the page's text, if they are there and fresh.
    pub fn put_into(&self, page: &[u8]) -> Option<Vec<u8>> {
        let (asked_ms, answers) = locked(&self.0).take()?;
        let age_ms = SystemClock::new().now().boot_ms - asked_ms;
        (0..FRESH_MS).contains(&age_ms).then(|| with(page, age_ms, &answers))?
    }
}

/// A script element that holds data only: nothing in it can end it or be run.
fn with(page: &[u8], age_ms: i64, answers: &Value) -> Option<Vec<u8>> {
    let page = std::str::from_utf8(page).ok()?;
    let (before, after) = page.split_once("</body>")?;
    let data = json!({ "age_ms": age_ms, "answers": answers }).to_string().replace('<', "\\u003c");
    Some(format!("{before}<script type=\"application/json\" id=\"ahead\">{data}</script></body>{after}").into_bytes())
}

#[cfg(test)]
mod tests {
    #[test]
    fn nothing_in_the_data_ends_it() {
        let answers = serde_json::json!({ "bench": "</script><script>alert(1)</script>" });
        let page = super::with(b"<body></body>", 3, &answers).unwrap();
        let page = String::from_utf8(page).unwrap();
        assert_eq!(page.matches("<script").count(), 1, "{page}");
        assert_eq!(page.matches("</script>").count(), 1, "{page}");
        assert!(page.contains("\"age_ms\":3"), "{page}");
    }
}
