//! Age along a long joint: what is spread first waits longest, unless it is clamped first.
//!
//! Spreading, putting together and clamping each go along the joint in an order of their own. Between two of them every
//! place has waited a time of its own; the orders here are straight lines on either side of the middle, so that the
//! worst place is one of the ends or the middle, and nothing between needs to be looked at.

/// An order of working along a joint, one place after the other, at an even pace.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Order {
    /// From the first end to the far one.
    OneWay,
    /// From the far end to the first one.
    Back,
    /// From the middle to both ends, turn by turn.
    FromMiddle,
    /// From both ends to the middle, turn by turn.
    FromEnds,
}

/// All of them, the simplest first.
pub const ORDERS: [Order; 4] = [Order::OneWay, Order::Back, Order::FromMiddle, Order::FromEnds];
/// Those in which a stack is clamped: from one end, or from the middle, so that the members can slip into place.
/// ANC-19 (1944) 5.421.
pub const CLAMPING: [Order; 3] = [Order::OneWay, Order::Back, Order::FromMiddle];

impl Order {
    /// Share of the work that is done before a place is reached: `at` its share of the length, from the first end.
    pub fn reached(self, at: f64) -> f64 {
        let from_middle = (2.0 * at - 1.0).abs();
        match self {
            Order::OneWay => at,
            Order::Back => 1.0 - at,
            Order::FromMiddle => from_middle,
            Order::FromEnds => 1.0 - from_middle,
        }
    }
}

/// When the spread faces meet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Closing {
    /// All at once, after the last of it is spread.
    AtOnce,
    /// Place by place, right behind the brush.
    AsSpread,
}

/// How a joint is glued; times in min.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Work {
    /// Order of spreading.
    pub spread: Order,
    /// How long spreading takes.
    pub spreading: f64,
    /// When the faces meet.
    pub closing: Closing,
    /// From the last of the spreading to putting together; with faces closed behind the brush, to the first clamp.
    pub pause: f64,
    /// Order of clamping.
    pub clamp: Order,
    /// How long clamping takes.
    pub clamping: f64,
    /// Longest open and closed times; None: the age alone counts.
    pub limits: Option<(f64, f64)>,
}

/// A place of the joint and what it has waited, min.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Place {
    /// Its share of the length, from the first end.
    pub at: f64,
    /// From its spreading to its pressure.
    pub age: f64,
    /// Of that, with the faces open.
    pub open: f64,
    /// Of that, closed.
    pub closed: f64,
    /// Open by its limit and closed by its own; None without limits.
    pub used: Option<f64>,
}

impl Place {
    /// By what places are compared: the share used, else the age.
    fn badness(&self) -> f64 {
        self.used.unwrap_or(self.age)
    }
}

/// What a place, by its share of the length, has waited when it comes under pressure.
pub fn waited(work: &Work, at: f64) -> Place {
    let spread = work.spread.reached(at) * work.spreading;
    let ready = work.spreading + work.pause;
    let pressed = ready + work.clamp.reached(at) * work.clamping;
    let open = match work.closing {
        Closing::AtOnce => ready - spread,
        Closing::AsSpread => 0.0,
    };
    let age = pressed - spread;
    let closed = age - open;
    let used = work.limits.map(|(open_limit, closed_limit)| open / open_limit + closed / closed_limit);
    Place { at, age, open, closed, used }
}

/// The place that is worst off; of several alike the one nearest the first end.
pub fn worst(work: &Work) -> Place {
    let places = [0.0, 0.5, 1.0].map(|at| waited(work, at));
    // A place only counts as worse where it is so by more than the last bits.
    let worse = |a: Place, b: Place| if b.badness() > a.badness() * (1.0 + 1e-12) { b } else { a };
    worse(worse(places[0], places[1]), places[2])
}

/// The same work in the order that is kindest to its worst place: every order of spreading with every order of
/// clamping, the first of several alike; what is asked for stays if nothing is better.
pub fn kindest(work: &Work) -> (Work, Place) {
    let mut best = (*work, worst(work));
    for spread in ORDERS {
        for clamp in CLAMPING {
            let tried = Work { spread, clamp, ..*work };
            let place = worst(&tried);
            if place.badness() < best.1.badness() * (1.0 - 1e-9) {
                best = (tried, place);
            }
        }
    }
    best
}

#[cfg(test)]
mod tests {
    use super::*;

    const SPAR: Work = Work {
        spread: Order::OneWay,
        spreading: 12.0,
        closing: Closing::AsSpread,
        pause: 2.0,
        clamp: Order::Back,
        clamping: 10.0,
        limits: None,
    };

    #[test]
    fn what_was_spread_first_and_is_clamped_last_waits_for_all_of_it() {
        let place = worst(&SPAR);
        assert_eq!((place.at, place.age, place.open), (0.0, 24.0, 0.0));
        let (better, place) = kindest(&SPAR);
        assert_eq!((better.spread, better.clamp), (Order::OneWay, Order::OneWay));
        assert_eq!(place.age, 14.0, "the longer of both works, and the pause");
    }

    #[test]
    fn no_place_between_is_worse() {
        for spread in ORDERS {
            for clamp in ORDERS {
                for closing in [Closing::AtOnce, Closing::AsSpread] {
                    let work = Work { spread, clamp, closing, limits: Some((10.0, 20.0)), ..SPAR };
                    let all = (0..=1_000).map(|n| waited(&work, f64::from(n) / 1_000.0).badness());
                    let most = all.fold(0.0, f64::max);
                    assert!((worst(&work).badness() - most).abs() < 1e-9, "{work:?}");
                }
            }
        }
    }

    #[test]
    fn put_together_at_once_the_first_place_was_open_for_all_of_the_spreading() {
        let work = Work { closing: Closing::AtOnce, clamp: Order::OneWay, limits: Some((10.0, 20.0)), ..SPAR };
        let first = waited(&work, 0.0);
        assert_eq!((first.open, first.closed, first.used), (14.0, 0.0, Some(1.4)));
        let last = waited(&work, 1.0);
        assert_eq!((last.open, last.closed, last.used), (2.0, 10.0, Some(0.7)));
    }
}
