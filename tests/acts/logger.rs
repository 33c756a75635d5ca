//! Files of a logger: what is read, what is counted as skipped, what refuses the file.

use crate::shop::{MIN, Shop, T};
use logbook::store::{Book, Mode};
use serde_json::{Value, json};
use sha2::Digest;

fn file(shop: &Shop, text: &str) -> String {
    let path = shop.dir.path().join("log.csv");
    std::fs::write(&path, text).unwrap();
    path.to_str().unwrap().to_owned()
}

fn import(shop: &mut Shop, text: &str, columns: Option<Value>) -> Value {
    let path = file(shop, text);
    let mut body = json!({"place": "loft", "path": path});
    if let Some(columns) = columns {
        body["columns"] = columns;
    }
    let receipt = shop.ann("readings-file", body);
    assert_eq!(receipt.changed, ["place:loft"]);
    shop.body(&receipt, "readings")
}

/// Minutes of the loft as the book gives them: (ms since T − 1 h, low, mean, high, humidity).
fn minutes(shop: &Shop, source: &str) -> Vec<(i64, i64, i64, i64, Option<i64>)> {
    let book = Book::open(&shop.path(), Mode::Read).unwrap();
    let loft = book.find(logbook::store::Noun::Place, "loft").unwrap().remove(0);
    let sources = book.minutes(&loft, T - 3_600_000, T, i64::MAX).unwrap();
    let one = sources.into_iter().find(|one| one.source == source).unwrap();
    one.minutes.iter().map(|m| (m.at_ms - T + 3_600_000, m.low_mk, m.mean_mk, m.high_mk, m.humidity_ppm)).collect()
}

#[test]
fn rows_are_gathered_by_the_minute_and_sealed_by_the_hour() {
    let mut shop = Shop::new();
    let text = "Time,Temperature (°C),Humidity (%RH)\n\
        2026-11-24T08:00:10Z,20.0,50\n\
        2026-11-24T08:00:40Z,21.0,52\n\
        sensor restarted,,\n\
        2026-11-24T08:59:00Z,19.5,\n\
        2026-11-24T09:00:00Z,19.0,55\n";
    let body = import(&mut shop, text, None);
    assert_eq!((&body["count"], &body["skipped"], &body["source"]), (&json!(3), &json!(1), &json!("logger")));
    assert_eq!((&body["from_ms"], &body["to_ms"]), (&json!(T - 60 * MIN), &json!(T)));
    assert_eq!(body["blocks"].as_array().unwrap().len(), 2);
    assert_eq!(body["file_name"], "log.csv");
    assert_eq!(body["file_sha256"], json!(hex(&sha2::Sha256::digest(text.as_bytes()))));
    let read = minutes(&shop, "logger");
    assert_eq!(read[0], (0, 293_150, 293_650, 294_150, Some(510_000)));
    assert_eq!(read[1], (59 * MIN, 292_650, 292_650, 292_650, None));
}

fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

#[test]
fn semicolons_decimal_commas_and_a_byte_order_mark() {
    let mut shop = Shop::new();
    shop.clock.set(|now| now.zone_min = 60);
    let text =
        "\u{feff}Datum;Zeit;Temp [°C];Feuchte\r\n2026-11-24;09:30;20,125;51,5\r\n2026-11-24;09:31:30;20,2;51\r\n";
    let body = import(&mut shop, text, None);
    assert_eq!(body["count"], 2);
    assert!(body["skipped"].is_null());
    assert_eq!(
        minutes(&shop, "logger")[0],
        (30 * MIN, 293_275, 293_275, 293_275, Some(515_000)),
        "09:30 in the shop's zone"
    );
}

#[test]
fn tabs_fahrenheit_named_columns_and_an_instrument() {
    let mut shop = Shop::new();
    shop.ok("instrument", json!({"name": "probe", "step": "0.1 F", "accuracy": "0.5 K"}));
    let path = file(&shop, "stamp\tin (F)\tout (F)\n2026-11-24 08:10\t70\t40\n");
    let body = json!({"place": "loft", "path": path, "instrument": "probe", "columns": {"time": "stamp", "temperature": "in (F)"}});
    let receipt = shop.ann("readings-file", body);
    let probe = shop.body(&receipt, "readings")["instrument"].as_str().unwrap().to_owned();
    assert_eq!(minutes(&shop, &probe), [(10 * MIN, 294_261, 294_261, 294_261, None)]);
}

#[test]
fn no_header_and_long_decimals() {
    let mut shop = Shop::new();
    let body =
        import(&mut shop, "2026-11-24 08:10:00,20.123456789012345,50.5\n2026-11-24T08:11:00.000Z,20.5 C,51 %\n", None);
    assert_eq!(body["count"], 2);
    assert_eq!(minutes(&shop, "logger")[0].2, 293_273);
}

#[test]
fn impossible_rows_refuse_the_file_by_their_line() {
    let mut shop = Shop::new();
    let mut refuse = |rows: &str, code: &str, told: &[&str]| {
        let path = file(&shop, &format!("time,temp,rh\n2026-11-24T08:00:00Z,20,50\n{rows}\n"));
        let error = shop.refused(json!({"act": "readings-file", "body": {"place": "loft", "path": path}}));
        assert_eq!((error.code, error.field.as_deref()), (code, Some("body.path")), "{rows}");
        for part in told {
            assert!(error.sentence.contains(part), "{rows}: {error:?}");
        }
    };
    refuse("2026-11-24T08:01:00Z,700,50", "out-of-range", &["line 3", "temperature", "700", "-40 to 60 °C"]);
    refuse("2026-11-24T08:01:00Z,20,140", "out-of-range", &["line 3", "humidity", "140", "0 to 100 %"]);
    refuse("2027-11-24T08:01:00Z,20,50", "future", &["line 3", "2027-11-24T08:01:00.000Z"]);
    refuse("1970-01-01T00:00:00Z,20,50", "out-of-range", &["line 3", "1970"]);
}

#[test]
fn files_that_hold_no_readings() {
    let mut shop = Shop::new();
    for text in ["", "hello\nworld\n", "time,temp\nnever,mind\n"] {
        let path = file(&shop, text);
        let error = shop.refused(json!({"act": "readings-file", "body": {"place": "loft", "path": path}}));
        assert_eq!((error.code, error.field.as_deref()), ("out-of-range", Some("body.path")), "{text}");
    }
    let path = file(&shop, "time,temp\n2026-11-24T08:00:00Z,20\n");
    let act =
        json!({"act": "readings-file", "body": {"place": "loft", "path": path, "columns": {"temperature": "air"}}});
    assert_eq!(shop.refused(act).field.as_deref(), Some("body.columns"));
    let folder = shop.dir.path().to_str().unwrap().to_owned();
    let act = json!({"act": "readings-file", "body": {"place": "loft", "path": folder}});
    assert_eq!(shop.refused(act).code, "not-found");
    let large = shop.dir.path().join("large.csv");
    std::fs::File::create(&large).unwrap().set_len((64 << 20) + 1).unwrap();
    let act = json!({"act": "readings-file", "body": {"place": "loft", "path": large.to_str().unwrap()}});
    let error = shop.refused(act);
    assert!(error.code == "out-of-range" && error.sentence.contains("64 MB"), "{error:?}");
}
