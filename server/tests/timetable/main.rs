//! The timetable: its files, the rules, and what is published of both.

mod answers;
mod files;
mod hostile;
mod limits;
mod published;
mod rules;
mod shapes;
mod small;
mod writing;
