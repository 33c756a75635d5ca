//! Numbers printed elsewhere, against ours. Each table in `tests/tables/` carries its source; the tolerance is half the
//! last printed digit.

#[path = "tables/additive.rs"]
mod additive;
#[path = "tables/air_and_wood.rs"]
mod air_and_wood;
#[path = "tables/chance.rs"]
mod chance;
#[path = "tables/figures/mod.rs"]
mod figures;
#[path = "tables/law.rs"]
mod law;
#[path = "tables/outside.rs"]
mod outside;
#[path = "tables/progress.rs"]
mod progress;
#[path = "tables/ratio.rs"]
mod ratio;
#[path = "tables/table.rs"]
mod table;
