//! Loads that real gear can be set to. Pure.

pub mod gear;
