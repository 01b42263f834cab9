//! Where a rule is published.

use turnabout_protocol::next::Rule;

/// Where the rule is published, or what our own one is made of; nothing where there is no source.
pub(super) const fn of(rule: Rule) -> Option<&'static str> {
    match rule {
        Rule::PercentTable | Rule::DerivedGrid => {
            Some("NSCA, Essentials of Strength Training and Conditioning, 4th ed. 2016, ch. 17")
        }
        Rule::AnswerTable | Rule::DerivedTable => {
            Some("J Hum Kinet 2024;91:87-103, doi 10.5114/jhk/185637, table 1D")
        }
        Rule::TwoForTwo => Some(
            "NSCA, Essentials of Strength Training and Conditioning, 4th ed. 2016; ACSM 2009, \
             Med Sci Sports Exerc 41(3):687-708",
        ),
        Rule::Plan | Rule::ThreeWords | Rule::Outcome | Rule::FindIt | Rule::Practice => None,
    }
}
