//! The questions of the command line, asked of the program itself.

mod asked;
mod estimate;
mod json;
mod load;
mod next;
mod plan_chart;
mod plan_check;
mod plan_evening;
mod plan_make;
mod rehearse;
mod turns;
