//! What a floor sets about next loads: `[floor.loads]`.

use super::fields::Fields;
use super::findings::Findings;
use super::form;
use crate::training::next::policy::{Policy, limits};

/// Reads the settings; what is left out is as usual.
pub(super) fn loads(mut table: Fields<'_>, found: &mut Findings<'_>) -> Policy {
    let usual = Policy::default();
    let mut share = |name, most, usual| {
        let said = table.optional(found, name, &form::percent(most));
        said.map_or(usual, |said| said.what)
    };
    let cap = share("cap", limits::CAP, usual.cap);
    let ask_again = share("ask_again", limits::SHARE, usual.ask_again);
    let away_less = share("away_less", limits::SHARE, usual.away_less);
    let reps_instead = table.optional(found, "reps_instead", &form::flag());
    let away_days = table.optional(found, "away_days", &form::whole(0, limits::AWAY_DAYS));
    table.finish(found);
    Policy {
        cap,
        reps_instead: reps_instead.map_or(usual.reps_instead, |said| said.what),
        ask_again,
        away_days: away_days.map_or(usual.away_days, |said| said.what),
        away_less,
    }
}
