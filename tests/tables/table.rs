//! Reads a table and compares with what it prints.

/// One printed number: its text tells how exact it is.
#[derive(Clone, Debug)]
pub struct Cell(pub String);

/// A row, cells by column.
pub struct Row(Vec<Cell>);

/// Rows of a table; lines with # are its source, the first other line names the columns.
pub fn rows(text: &str) -> Vec<Row> {
    let lines = text.lines().filter(|line| !line.starts_with('#') && !line.is_empty());
    let rows: Vec<Row> = lines.skip(1).map(|line| Row(line.split(',').map(|c| Cell(c.to_owned())).collect())).collect();
    assert!(!rows.is_empty(), "a table without rows checks nothing");
    rows
}

impl Row {
    pub fn text(&self, column: usize) -> &str {
        &self.0[column].0
    }

    pub fn number(&self, column: usize) -> f64 {
        self.0[column].0.parse().unwrap_or_else(|_| panic!("{:?} is no number", self.0[column]))
    }

    /// Compares with the printed number, to half its last digit.
    #[track_caller]
    pub fn same(&self, column: usize, value: f64) {
        let printed = self.number(column);
        let half = half_digit(&self.0[column].0);
        // What a double loses on the way is no difference.
        let noise = printed.abs() * 1e-14;
        assert!(
            (printed.is_infinite() && value == printed) || (value - printed).abs() <= half + noise,
            "{value} instead of {printed} ± {half:e} in {:?}",
            self.0
        );
    }
}

/// Half the last digit of a printed number.
pub fn half_digit(text: &str) -> f64 {
    let (digits, power) = text.split_once('e').unwrap_or((text, "0"));
    let behind = digits.split_once('.').map_or(0, |(_, behind)| behind.len()) as f64;
    0.5 * libm_pow10(power.parse::<f64>().unwrap() - behind)
}

fn libm_pow10(power: f64) -> f64 {
    format!("1e{power}").parse().unwrap()
}

#[test]
fn half_digits() {
    assert_eq!(half_digit("12"), 0.5);
    assert_eq!(half_digit("12.25"), 0.005);
    assert_eq!(half_digit("1.713e-07"), 0.5e-10);
}
