//! Each rule and each part of the objective, worked out by hand on the small evening.
