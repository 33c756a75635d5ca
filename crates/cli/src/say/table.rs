//! Columns of text.

/// Rows under headings, each column as wide as its widest cell; `none` where there is no row.
pub fn table(headings: &[&str], rows: &[Vec<String>], none: &str) -> String {
    if rows.is_empty() {
        return format!("  {none}\n");
    }
    let headings: Vec<String> = headings.iter().map(ToString::to_string).collect();
    let widths: Vec<usize> = (0..headings.len()).map(|column| width(column, &headings, rows)).collect();
    let mut text = line(&headings, &widths);
    for row in rows {
        text += &line(row, &widths);
    }
    text
}

fn width(column: usize, headings: &[String], rows: &[Vec<String>]) -> usize {
    let cells = rows
        .iter()
        .chain(std::iter::once(&headings.to_vec()))
        .filter_map(|row| row.get(column))
        .map(|cell| cell.chars().count())
        .max();
    cells.unwrap_or(0)
}

fn line(cells: &[String], widths: &[usize]) -> String {
    let padded: String = cells.iter().zip(widths).map(|(cell, width)| format!("  {cell:<width$}")).collect();
    format!("{}\n", padded.trim_end())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_stand_under_their_headings() {
        let rows = vec![vec!["bond:47".to_owned(), "clamp".to_owned()], vec!["ü".to_owned(), "x".to_owned()]];
        assert_eq!(table(&["of", "clock"], &rows, ""), "  of       clock\n  bond:47  clamp\n  ü        x\n");
    }
}
