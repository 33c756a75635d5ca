//! The glue line behind the air: a first-order lag in closed form, and the slab it stands for.
//!
//! dW/dt = (A(t) - W)/tau with A = a + m s: W(s) = (a - m tau) + m s + d exp(-s/tau), d = W(0) - (a - m tau).
//! tau = 1.2 (L²/alpha)(k/(hL) + 1/3). Sources: Wood Handbook ch. 4 for k and alpha of spruce at 12 %; h for still air
//! from memory; the factor 1.2 from the slab's series (ninety per cent of a step; `heat_up`).

pub mod stored;

/// Heat diffusivity of wood, m²/s.
pub const ALPHA: f64 = 1.6e-7;
/// Conductivity, W/(m K).
pub const K: f64 = 0.12;
/// Heat transfer from still air with radiation, W/(m² K).
pub const H: f64 = 10.0;
/// Thickness taken where it is unknown, mm.
pub const THICKNESS_MM: f64 = 60.0;
/// Temperature taken where the wood's own is unknown, K (5 °C).
pub const START_K: f64 = 278.15;

/// Time constant of a glue line in the middle of wood of this total thickness, ms.
pub fn tau_ms(thickness_mm: f64) -> f64 {
    let l = thickness_mm / 2.0 * 1e-3;
    1.2 * (l * l / ALPHA) * (K / (H * l) + 1.0 / 3.0) * 1e3
}

/// The thickness used: what is given if it can be one, else the assumed.
pub fn thickness_mm(given: Option<f64>) -> f64 {
    given.filter(|mm| (0.1..=2_000.0).contains(mm)).unwrap_or(THICKNESS_MM)
}

/// A lag along one straight piece of air: W(s) = c0 + m s + d exp(-s/tau).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lag {
    /// Constant part, K.
    pub c0: f64,
    /// Slope of the air, K/ms.
    pub m: f64,
    /// What is left of the start, K.
    pub d: f64,
}

impl Lag {
    /// From the wood's temperature, the air's and its slope.
    #[inline]
    pub fn new(wood_k: f64, air_k: f64, m: f64, tau: f64) -> Lag {
        let c0 = air_k - m * tau;
        Lag { c0, m, d: wood_k - c0 }
    }

    /// Where wood and air are equal, ms after the start; at most one instant.
    pub fn meets(&self, tau: f64) -> Option<f64> {
        let ratio = self.d / (self.m * tau);
        (ratio > 0.0 && ratio.is_finite()).then(|| tau * libm::log(ratio))
    }
}

/// Time for the mid-plane of a slab with air on both faces to cover a share of a step, ms: the series
/// theta = sum Cn exp(-zn² Fo), zn tan zn = Bi, Cn = 4 sin zn / (2 zn + sin 2 zn). Source: any heat-transfer text.
/// None outside 0.02..0.999 or without a thickness.
pub fn heat_up_ms(thickness_mm: f64, h: f64, share: f64) -> Option<f64> {
    let l = thickness_mm / 2.0 * 1e-3;
    let biot = h * l / K;
    if !(biot > 1e-6 && biot < 1e6 && (0.02..=0.999).contains(&share)) {
        return None;
    }
    let terms: Vec<(f64, f64)> = (0..60).map(|n| root_and_weight(n, biot)).collect();
    let left = |fo: f64| terms.iter().map(|(z, c)| c * libm::exp(-z * z * fo)).sum::<f64>();
    let (mut low, mut high) = (0.0, 1e7);
    for _ in 0..200 {
        let middle = (low + high) / 2.0;
        if left(middle) > 1.0 - share { low = middle } else { high = middle }
    }
    Some((low + high) / 2.0 * l * l / ALPHA * 1e3)
}

/// The n-th root of z tan z = Bi, in [n pi, n pi + pi/2], where z tan z rises from 0 to infinity.
fn root_and_weight(n: usize, biot: f64) -> (f64, f64) {
    let pi = core::f64::consts::PI;
    let (mut low, mut high) = (n as f64 * pi, n as f64 * pi + pi / 2.0);
    let sign = if n.is_multiple_of(2) { 1.0 } else { -1.0 };
    for _ in 0..100 {
        let z = (low + high) / 2.0;
        if sign * (z * libm::sin(z) - biot * libm::cos(z)) < 0.0 { low = z } else { high = z }
    }
    let z = (low + high) / 2.0;
    (z, 4.0 * libm::sin(z) / (2.0 * z + libm::sin(2.0 * z)))
}
