//! Floor and programme files: what is read from good ones, what is told about bad ones.

mod anatomy;
mod catalogue;
mod earlier;
mod entered;
mod evening;
mod evening_mistakes;
mod examples;
mod floor_mistakes;
mod from_catalogue;
mod gear_mistakes;
mod golden;
mod hostile;
mod hours;
mod load_rules;
mod loads_of_the_floor;
mod never_panics;
mod numbered;
mod numbers;
mod policy_mistakes;
mod programme_mistakes;
mod ramp;
mod reading;
mod rfc3339;
mod rows;
mod shared_gear;
mod small;
