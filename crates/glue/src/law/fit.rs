//! Least squares of ln t on 1/T, and the band a new batch is expected to stay in.
//!
//! y = a + b x, x = 1/T, y = ln t, b = Ea/R; half-width of the prediction q s sqrt(1 + 1/n + (x - xbar)²/Sxx), q the
//! 97.5 % quantile of Student's t with n - 2 degrees of freedom (any textbook of linear regression).

use statrs::distribution::{ContinuousCDF, StudentsT};

/// A straight line through points, with what its prediction band needs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fit {
    /// Value at x = 0.
    pub a: f64,
    /// Slope.
    pub b: f64,
    /// Mean of x.
    pub xbar: f64,
    /// Sum of squared deviations of x.
    pub sxx: f64,
    /// Residual standard deviation; 0 with two points.
    pub s: f64,
    /// Number of points.
    pub n: f64,
    /// Half-width of the 95 % prediction band at the mean, divided by sqrt(1 + 1/n): q s.
    pub qs: f64,
}

/// Least squares through points (x, y); None with fewer than two points or no spread in x.
pub fn fit(points: &[(f64, f64)]) -> Option<Fit> {
    let n = points.len() as f64;
    if points.len() < 2 {
        return None;
    }
    let xbar = points.iter().map(|p| p.0).sum::<f64>() / n;
    let ybar = points.iter().map(|p| p.1).sum::<f64>() / n;
    let sxx = points.iter().map(|p| (p.0 - xbar) * (p.0 - xbar)).sum::<f64>();
    let sxy = points.iter().map(|p| (p.0 - xbar) * (p.1 - ybar)).sum::<f64>();
    if sxx.is_nan() || sxx <= 0.0 {
        return None;
    }
    let b = sxy / sxx;
    let sse = points.iter().map(|p| p.1 - ybar - b * (p.0 - xbar)).map(|d| d * d).sum::<f64>();
    let (s, qs) = match n - 2.0 {
        dof if dof >= 1.0 => {
            let s = libm::sqrt(sse / dof);
            (s, s * StudentsT::new(0.0, 1.0, dof).ok()?.inverse_cdf(0.975))
        }
        _ => (0.0, 0.0),
    };
    let all = Fit { a: ybar - b * xbar, b, xbar, sxx, s, n, qs };
    (all.a.is_finite() && b.is_finite() && qs.is_finite()).then_some(all)
}

impl Fit {
    /// Standard error of the slope.
    pub fn slope_error(&self) -> f64 {
        self.s / libm::sqrt(self.sxx)
    }
}
