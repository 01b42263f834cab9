//! What a client could lift once, and the next load with its reason.

mod estimates;
mod laws;
mod light;
mod percent;
mod pins;
mod rack;
mod rules;
mod sessions;
mod sets;
mod settling;
mod volume;
