//! The floor core through its public surface.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on must stop")]
#![allow(clippy::needless_pass_by_value, reason = "a tap is written down where it is made")]

mod anything;
mod belts;
mod blocks;
mod by_others;
mod cards;
mod changes;
mod chart;
mod coaches;
mod deeds;
mod displays;
mod evening;
mod every_tap;
mod expected_taps;
mod full;
mod golden;
mod halts;
mod help;
mod histories;
mod lapses;
mod loads;
mod local_time;
mod next_loads;
mod notes;
mod on_the_way;
mod one_group;
mod outcomes;
mod outlook;
mod paired_set;
mod papers;
mod pins;
mod planning;
mod plates;
mod practice;
mod programmes;
mod promises;
mod pulls;
mod reference;
mod refusals;
mod regressions;
mod ribbon;
mod rich;
mod sessions;
mod shared_pairs;
mod shared_plates;
mod spotters;
mod station_changes;
mod stations;
mod undo;
mod undo_law;
mod views;
mod wait_list;
mod working_in;
mod world;
