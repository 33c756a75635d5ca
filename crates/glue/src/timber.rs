//! Wood that moves: swelling and shrinking, water brought by the glue, what a resistance meter reads when it is cold.

/// Fibre saturation, %: above it wood no longer moves. Wood Handbook FPL-GTR-190 (2010) eq. 4-7 takes 30 if unknown.
pub const SATURATION_PCT: f64 = 30.0;
/// Moisture over which the change coefficients are stated, %. Same book, table 13-5.
pub const STATED_PCT: (f64, f64) = (6.0, 14.0);

/// Change of size per percent of moisture, of the size at 10 %, from total shrinkage green to oven-dry, %.
///
/// C = (S/30)/(100 - S (1 - 10/30)): derived here from S_x = S (1 - x/30); it gives every cell of table 13-5 that was
/// read, to its last digit.
pub fn coefficient(shrinkage_pct: f64) -> f64 {
    shrinkage_pct / SATURATION_PCT / (100.0 - shrinkage_pct * (1.0 - 10.0 / SATURATION_PCT))
}

/// Change of a width, in its unit, between two moistures, %. Wood Handbook ch. 13: D C (to - from).
pub fn movement(width: f64, coefficient: f64, from_pct: f64, to_pct: f64) -> f64 {
    width * coefficient * (to_pct - from_pct)
}

/// Rise of moisture, points, when all water of the glue goes into laminations.
///
/// 100 S w (n-1)/n / (t G 1000 kg/m³): n - 1 lines of spread S (g/m²) with a share w of water, over n laminations of
/// thickness t (mm) and oven-dry specific gravity G. Derived here; it gives the rows of ANC-19 (1944) table 5-11.
pub fn glue_water(spread_g_m2: f64, water: f64, laminations: f64, thickness_mm: f64, gravity: f64) -> f64 {
    let per_lamination = spread_g_m2 * water * (laminations - 1.0) / laminations;
    100.0 * per_lamination / (thickness_mm * gravity * 1000.0)
}

/// Indicated moisture, %, of the rows below.
const READINGS: [f64; 5] = [6.0, 10.0, 15.0, 20.0, 25.0];
/// Wood temperature, °C, of their columns.
const COLUMNS: [f64; 8] = [-20.0, -10.0, 0.0, 10.0, 20.0, 30.0, 40.0, 50.0];
/// Points to add: James, FPL-GTR-6 (1988) figure 5, resistance meters calibrated at 70 °F, as digitised in a public
/// project; the figure itself was not read.
const ADDED: [[f64; 8]; 5] = [
    [4.7, 3.2, 1.9, 0.9, 0.1, -0.7, -1.4, -2.1],
    [6.8, 4.4, 2.7, 1.3, 0.1, -0.9, -1.8, -2.7],
    [8.6, 6.2, 3.9, 1.8, 0.2, -1.2, -2.5, -3.6],
    [12.7, 7.8, 4.8, 2.2, 0.2, -1.6, -3.1, -4.4],
    [17.7, 10.1, 6.0, 2.8, 0.2, -1.9, -3.8, -5.4],
];

/// Moisture, %, of wood of this temperature, °C, on which a resistance meter shows this much; straight between the
/// grid's points. None outside 6 to 25 % and -20 to 50 °C.
pub fn metered(reading_pct: f64, wood_c: f64) -> Option<f64> {
    let (row, up) = place(&READINGS, reading_pct)?;
    let (column, along) = place(&COLUMNS, wood_c)?;
    let at = |i: usize, j: usize| ADDED.get(i).and_then(|row| row.get(j)).copied();
    let low = at(row, column)? * (1.0 - along) + at(row, column + 1)? * along;
    let high = at(row + 1, column)? * (1.0 - along) + at(row + 1, column + 1)? * along;
    Some(reading_pct + low * (1.0 - up) + high * up)
}

/// The interval of a rising grid that a value lies in, and how far along.
pub(crate) fn place(grid: &[f64], value: f64) -> Option<(usize, f64)> {
    let inside = grid.windows(2).position(|two| matches!(two, [a, b] if value >= *a && value <= *b))?;
    let (a, b) = (grid.get(inside)?, grid.get(inside + 1)?);
    Some((inside, (value - a) / (b - a)))
}
