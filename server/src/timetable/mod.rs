//! One timetable for the whole floor: which stations each client uses and when every coming turn begins.
//!
//! The problem is stated in [`instance`], an answer to it is a [`answer::Timetable`]; both are read and written as
//! JSON by [`format`]. [`plan`] looks for a good answer: [`problem`] compiles the instance, [`build`] makes first
//! [`order`]s, [`decode`] works out the times of one and [`search`] changes it. [`check`] looks at every answer with
//! none of the planner's code. Groups that begin when others are over are planned as a [`chain`]. [`rehearse`] lets an
//! evening happen with turns that take other times than planned. What one pair of stations can carry at all is in closed
//! form in [`rotation`].
//!
//! Pure: no clock, no socket, no file, and randomness only from a seed that is an argument.

pub mod answer;
pub mod build;
pub mod chain;
pub mod check;
pub mod decode;
pub mod format;
pub mod instance;
pub mod order;
pub mod plan;
pub mod problem;
pub mod rehearse;
pub mod rotation;
pub mod search;
