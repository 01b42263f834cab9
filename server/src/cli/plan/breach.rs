//! A rule that is broken, in answers.

use std::fmt;

use schemars::JsonSchema;
use serde::Serialize;

use super::chart::Labels;
use crate::timetable::answer;

/// A rule that is broken.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct Breach {
    /// The rule, 1 to 7.
    #[schemars(range(min = 1, max = 7))]
    pub rule: u8,
    /// The group.
    pub group: usize,
    /// The member.
    pub member: usize,
    /// The round, among those that the instance lists.
    pub round: usize,
    /// The leg.
    pub leg: usize,
    /// By how many seconds.
    pub seconds: u32,
}

impl From<&answer::Breach> for Breach {
    fn from(breach: &answer::Breach) -> Self {
        let answer::Breach { rule, group, member, round, leg, seconds } = *breach;
        Self { rule, group, member, round, leg, seconds }
    }
}

/// What each rule is about, rule 1 first.
const RULES: [&str; 7] =
    ["not before its time", "changeover", "rest", "station", "coach", "rotation", "working in"];

impl Breach {
    fn about(&self) -> &'static str {
        usize::from(self.rule).checked_sub(1).and_then(|rule| RULES.get(rule)).unwrap_or(&"unknown")
    }

    /// The same as the [text](Self::fmt), with names in place of positions.
    pub(super) fn named(&self, labels: &Labels) -> String {
        let Self { rule, group, member, round, leg, seconds } = *self;
        let named = labels.set(group, member, round);
        format!("rule {rule} ({}): {named}, exercise {}: broken by {seconds} s", self.about(), leg + 1)
    }
}

impl fmt::Display for Breach {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { rule, group, member, round, leg, seconds } = self;
        let about = self.about();
        write!(
            f,
            "rule {rule} ({about}): group {group} member {member} round {round} leg {leg}: broken by {seconds} s"
        )
    }
}
