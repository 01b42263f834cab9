//! The questions of the command line, asked of the program itself.

mod asked;
mod estimate;
mod json;
mod load;
mod next;
mod plan_blocks;
mod plan_by_eye;
mod plan_chart;
mod plan_check;
mod plan_evening;
mod plan_make;
mod plan_readme;
mod rehearse;
mod turns;
