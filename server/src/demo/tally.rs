//! What came of an evening.

use std::collections::BTreeMap;

use turnabout_protocol::refusal::{Outcome, Refusal};

/// What came of an evening, for a line at its end.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Summary {
    /// Taps made, each counted once however often it was sent.
    pub taps: u64,
    /// Taps that happened.
    pub accepted: u64,
    /// Taps that somebody had made before.
    pub already: u64,
    /// Taps refused, by the wire's word for the reason. At most one entry a kind of refusal.
    pub refused: BTreeMap<String, u64>,
    /// Connections that were lost and made again.
    pub reconnected: u64,
    /// Sessions that were over at the end.
    pub finished_groups: usize,
    /// Sessions of the programme.
    pub groups: usize,
}

impl Summary {
    pub(super) fn count(&mut self, outcome: &Outcome) {
        match outcome {
            Outcome::Accepted { .. } => self.accepted += 1,
            Outcome::Already { .. } => self.already += 1,
            Outcome::Refused { refusal } => *self.refused.entry(word(refusal)).or_default() += 1,
        }
    }

    pub(super) fn add(&mut self, other: Self) {
        self.taps += other.taps;
        self.accepted += other.accepted;
        self.already += other.already;
        self.reconnected += other.reconnected;
        for (because, n) in other.refused {
            *self.refused.entry(because).or_default() += n;
        }
    }
}

/// The wire's word for a refusal, without its arguments.
pub(super) fn word(refusal: &Refusal) -> String {
    let value = serde_json::to_value(refusal).unwrap_or_default();
    value.get("because").and_then(|word| word.as_str()).unwrap_or_default().to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;
    use turnabout_protocol::units::FloorMs;

    #[test]
    fn outcomes_are_counted_by_kind_and_summed() {
        let mut one = Summary::default();
        one.count(&Outcome::Accepted { recorded: FloorMs(1) });
        one.count(&Outcome::Refused { refusal: Refusal::RestNotOver { until: FloorMs(1) } });
        one.count(&Outcome::Refused { refusal: Refusal::RestNotOver { until: FloorMs(2) } });
        let mut two = Summary::default();
        two.count(&Outcome::Refused { refusal: Refusal::Paused });
        two.add(one);
        assert_eq!(two.accepted, 1);
        let refused: Vec<_> = two.refused.iter().map(|(word, n)| (word.as_str(), *n)).collect();
        assert_eq!(refused, [("paused", 1), ("rest_not_over", 2)]);
    }
}
