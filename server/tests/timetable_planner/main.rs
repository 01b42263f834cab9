//! The planner: what an order costs, what the search finds, and that it is the same every time. Searches are counted in
//! evaluations, never in seconds.

mod chain;
mod decoder;
mod drawn;
mod files;
mod job_shops;
mod orders;
mod parking;
mod rehearse;
mod repeat;
mod warm;
