//! The breaches that a timetable lists against those that were found.

use super::super::answer::Breach;

/// Where the list of breaches does not say what is so.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Fault {
    /// A rule is broken, and the timetable does not say so.
    #[error("{}: broken by {} s", place(.0), .0.seconds)]
    NotListed(Breach),
    /// It says so, with other seconds.
    #[error("{}: broken by {} s, listed with {listed} s", place(.found), .found.seconds)]
    OtherSeconds {
        /// What was found.
        found: Breach,
        /// What the timetable says.
        listed: u32,
    },
    /// It says so, and the rule is kept.
    #[error("{}: listed but not broken", place(.0))]
    NotBroken(Breach),
}

fn place(breach: &Breach) -> String {
    let Breach { rule, group, member, round, leg, seconds: _ } = breach;
    format!("rule {rule}: group {group} member {member} round {round} leg {leg}")
}

/// Every difference, in the order of rule, group, member, round and leg. `found` is in that order, and neither names a
/// place twice.
pub(super) fn faults(listed: &[Breach], found: &[Breach]) -> Vec<Fault> {
    let key = |breach: &Breach| (breach.rule, breach.group, breach.member, breach.round, breach.leg);
    let mut listed = listed.to_vec();
    listed.sort_unstable();
    let mut faults = Vec::new();
    let mut rest = listed.iter().peekable();
    for found in found {
        while let Some(listed) = rest.next_if(|listed| key(listed) < key(found)) {
            faults.push(Fault::NotBroken(*listed));
        }
        match rest.next_if(|listed| key(listed) == key(found)) {
            None => faults.push(Fault::NotListed(*found)),
            Some(listed) if listed.seconds == found.seconds => {}
            Some(listed) => faults.push(Fault::OtherSeconds { found: *found, listed: listed.seconds }),
        }
    }
    faults.extend(rest.map(|listed| Fault::NotBroken(*listed)));
    faults
}
