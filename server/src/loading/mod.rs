//! Loads that real gear can be set to. Pure.

pub mod bar;
pub mod gear;
