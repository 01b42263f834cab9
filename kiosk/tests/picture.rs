//! What is on a picture of every face: what can be read from where, and what stands out from its ground. Measured in
//! pixels of the software renderer with the real font, so that no arithmetic of the faces is taken for granted.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

#[path = "picture/contrast.rs"]
mod contrast;
#[path = "picture/fingers.rs"]
mod fingers;
#[path = "picture/fits.rs"]
mod fits;
#[path = "picture/flashes.rs"]
mod flashes;
#[path = "picture/golden.rs"]
mod golden;
#[path = "picture/ink.rs"]
mod ink;
#[path = "picture/legible.rs"]
mod legible;
#[path = "picture/once.rs"]
mod once;
#[path = "picture/pacer.rs"]
mod pacer;
#[path = "picture/reads.rs"]
mod reads;
mod scenes;
#[path = "picture/screens.rs"]
mod screens;
#[path = "picture/setups.rs"]
mod setups;
#[path = "picture/vision.rs"]
mod vision;
#[path = "picture/visits.rs"]
mod visits;
#[path = "picture/wall.rs"]
mod wall;
