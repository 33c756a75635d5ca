//! What a ratio off balance does to the network: gel point, what stays soluble, how far it can react at all.
//!
//! Amine of f hydrogens and a diepoxide, all hydrogens alike, no rings, no other reaction: Flory and Stockmayer's gel
//! point, Macosko and Miller's recursion (Macromolecules 9, 1976, 199; from memory).

/// A mix by its groups.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mix {
    /// Amine hydrogens for each epoxide.
    pub ratio: f64,
    /// Hydrogens of an amine molecule, 3 or more.
    pub functionality: u32,
    /// Mass per epoxide, g.
    pub eew: f64,
    /// Mass per amine hydrogen, g.
    pub ahew: f64,
}

impl Mix {
    /// Conversion of epoxide at the gel point, sqrt(r/(f-1)); None: this mix never gels.
    pub fn gel(&self) -> Option<f64> {
        let branches = f64::from(self.functionality) - 1.0;
        let gel = libm::sqrt(self.ratio / branches);
        (gel < self.limit()).then_some(gel)
    }

    /// Highest conversion of epoxide, min(1, r).
    pub fn limit(&self) -> f64 {
        self.ratio.min(1.0)
    }

    /// Share of the mass that is not bound to the network when this share of the scarcer group has reacted, 0 to 1.
    pub fn sol(&self, conversion: f64) -> f64 {
        let epoxide = conversion * self.limit();
        let amine = epoxide / self.ratio;
        let loose = self.loose(amine * epoxide);
        let hardener = self.ratio * self.ahew / (self.ratio * self.ahew + self.eew);
        let f = self.functionality as i32;
        let of_resin = 1.0 - epoxide + epoxide * power(loose, f - 1);
        hardener * power(loose, f) + (1.0 - hardener) * of_resin * of_resin
    }

    /// Chance that a hydrogen leads to nothing that goes on for ever: the root below 1 of s (1 + x + … + x^(f-2)) = 1,
    /// or 1 before the gel point.
    fn loose(&self, s: f64) -> f64 {
        let terms = self.functionality as i32 - 1;
        let sum = |x: f64| (0..terms).rev().fold(0.0, |sum, _| sum * x + 1.0);
        if s * sum(1.0) <= 1.0 {
            return 1.0;
        }
        if s >= 1.0 {
            return 0.0;
        }
        let (mut low, mut high) = (0.0, 1.0);
        for _ in 0..100 {
            let middle = (low + high) / 2.0;
            if s * sum(middle) < 1.0 { low = middle } else { high = middle }
        }
        (low + high) / 2.0
    }

    /// What it means, in one sentence.
    pub fn said(&self) -> String {
        let sol = 100.0 * self.sol(1.0);
        if self.gel().is_none() {
            return "so far off balance this mix never sets to a network: it stays soluble, and can be melted"
                .to_owned();
        }
        let off = 100.0 * (self.ratio - 1.0).abs();
        if off < 0.5 {
            return "in balance: everything can be bound in".to_owned();
        }
        if self.ratio < 1.0 {
            let limit = 100.0 * self.limit();
            format!(
                "{off:.0} % too little hardener: no more than {limit:.0} % of the resin's groups can ever react, and \
                 {sol:.2} % of the mass stays unbound, however long it cures"
            )
        } else {
            format!(
                "{off:.0} % too much hardener: {sol:.2} % of the mass stays unbound, and the hardener left over lowers \
                 the glass transition and lets water in"
            )
        }
    }
}

fn power(x: f64, n: i32) -> f64 {
    (0..n).fold(1.0, |product, _| product * x)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn four_hydrogens_have_a_closed_form() {
        let mix = Mix { ratio: 1.0, functionality: 4, eew: 187.0, ahew: 60.0 };
        for s in [0.4, 0.5, 0.81, 0.99] {
            let wanted = libm::sqrt(1.0 / s - 0.75) - 0.5;
            assert!((mix.loose(s) - wanted).abs() < 1e-14);
        }
    }

    #[test]
    fn gel_of_other_hardeners() {
        for (functionality, gel) in [(3, core::f64::consts::FRAC_1_SQRT_2), (5, 0.5), (6, 0.4472)] {
            let mix = Mix { ratio: 1.0, functionality, eew: 187.0, ahew: 60.0 };
            assert!(mix.gel().is_some_and(|got| (got - gel).abs() <= 0.5e-4));
        }
    }
}
