//! Every act through the door on a fixed clock: what is recorded, what is refused and how, what a key, a session, a
//! correction and a copied file do.

#[path = "acts/batches.rs"]
mod batches;
#[path = "acts/changes.rs"]
mod changes;
#[path = "acts/gate.rs"]
mod gate;
#[path = "acts/home.rs"]
mod home;
#[path = "acts/keys.rs"]
mod keys;
#[path = "acts/logger.rs"]
mod logger;
#[path = "acts/nasty.rs"]
mod nasty;
#[path = "acts/pour.rs"]
mod pour;
#[path = "acts/recorded.rs"]
mod recorded;
#[path = "acts/refused.rs"]
mod refused;
#[path = "acts/rooms.rs"]
mod rooms;
#[path = "acts/sample.rs"]
mod sample;
#[path = "acts/sessions.rs"]
mod sessions;
#[path = "acts/shop.rs"]
mod shop;
