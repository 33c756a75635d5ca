//! The bench through the door: one row a bond, its next press and its picture from *Hardener in* to full cure; what a
//! row offers can be sent as it is; the same book in other units.

#[path = "trace/shop.rs"]
#[expect(dead_code, reason = "the bench needs a part of what the traces do")]
mod shop;

#[path = "bench_rows/cure.rs"]
mod cure;
#[path = "bench_rows/life.rs"]
mod life;
#[path = "bench_rows/offered.rs"]
mod offered;
#[path = "bench_rows/units.rs"]
mod units;
