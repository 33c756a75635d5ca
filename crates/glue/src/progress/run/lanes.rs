//! Small steps that a compiler can spread over vector lanes, always in the same order.

/// Sum in four lanes, always in the same order.
pub fn sum(each: &[f64]) -> f64 {
    let mut lanes = [0.0; 4];
    let whole = each.chunks_exact(4);
    let rest = whole.remainder().iter().sum::<f64>();
    for four in whole {
        for (lane, more) in lanes.iter_mut().zip(four) {
            *lane += more;
        }
    }
    (lanes[0] + lanes[1]) + (lanes[2] + lanes[3]) + rest
}

/// Safe: the lower of air and wood. Expected: the wood. Other: the higher.
#[inline(always)]
pub fn chosen(bound: usize, air: f64, wood: f64) -> f64 {
    match bound {
        0 => least(air, wood),
        1 => wood,
        _ => most(air, wood),
    }
}

/// Smaller of two, without the care for NaN that keeps `f64::min` from vector lanes.
#[inline(always)]
pub fn least(a: f64, b: f64) -> f64 {
    if a < b { a } else { b }
}

/// Larger of two.
#[inline(always)]
pub fn most(a: f64, b: f64) -> f64 {
    if a > b { a } else { b }
}
