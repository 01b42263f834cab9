//! How a file says a load: a mass or a pin, a share of the client's maximum, or how it is found.

use std::fmt;

use toml::de::DeValue;
use turnabout_protocol::next::PerMille;
use turnabout_protocol::text::Language;
use turnabout_protocol::units::Mass;

use super::allowed::Allowed;
use super::form::Form;
use super::percent::parse_percent;
use super::written::Written;
use crate::training::rule::LoadRule;

/// The rules that have a word of their own.
pub(super) const WORDS: &[(&str, Load)] =
    &[("by-reserve", Load::ByReserve), ("as-last-time", Load::AsLastTime), ("find-it", Load::FindIt)];

/// How a load is said.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Load {
    /// This one.
    Fixed(Written),
    /// A share of the client's one-repetition maximum, above nothing and below the whole.
    Share(PerMille),
    /// For the repetitions of the set with the block's reserve left.
    ByReserve,
    /// As last time at this station.
    AsLastTime,
    /// Found out.
    FindIt,
}

impl Load {
    /// The load, where the file says it outright.
    pub(super) const fn fixed(self) -> Option<Written> {
        match self {
            Self::Fixed(written) => Some(written),
            Self::Share(_) | Self::ByReserve | Self::AsLastTime | Self::FindIt => None,
        }
    }

    /// Whether it takes a share of the client's maximum.
    pub(super) const fn takes_a_share(self) -> bool {
        match self {
            Self::Share(_) | Self::ByReserve => true,
            Self::Fixed(_) | Self::AsLastTime | Self::FindIt => false,
        }
    }

    /// Whether it can be said of one round.
    pub(super) const fn by_round(self) -> bool {
        match self {
            Self::Fixed(_) | Self::Share(_) | Self::ByReserve => true,
            Self::AsLastTime | Self::FindIt => false,
        }
    }

    /// The rule; nothing where it needs a reserve and there is none.
    pub(super) fn rule(self, reserve: Option<u8>) -> Option<LoadRule> {
        Some(match self {
            Self::Fixed(written) => LoadRule::Fixed { load: written.load() },
            Self::Share(share) => LoadRule::ShareOfMax { share },
            Self::ByReserve => LoadRule::ForReserve { reserve: reserve? },
            Self::AsLastTime => LoadRule::AsLastTime,
            Self::FindIt => LoadRule::FindIt,
        })
    }
}

impl fmt::Display for Load {
    /// As files write it, words in their quotation marks.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Fixed(written) => written.fmt(f),
            Self::Share(share) => f.write_str(&share.percent(Language::En)),
            Self::ByReserve | Self::AsLastTime | Self::FindIt => {
                let word = WORDS.iter().find(|(_, load)| load == self).map_or("", |(word, _)| word);
                write!(f, "\"{word}\"")
            }
        }
    }
}

/// A load as an exercise of a block says it. `zero`: whether no load at all is one too.
pub(super) fn form(zero: bool) -> Form<impl Fn(&DeValue<'_>) -> Option<Load>> {
    let read = move |value: &DeValue<'_>| {
        let text = value.as_str()?;
        if let Some((_, load)) = WORDS.iter().find(|(word, _)| *word == text) {
            return Some(*load);
        }
        if let Some(share) = parse_percent(text) {
            return (PerMille(0) < share && share < PerMille::WHOLE).then_some(Load::Share(share));
        }
        outright(text, zero).map(Load::Fixed)
    };
    Form { allowed: Allowed::Load, read }
}

/// A load that is said outright. `zero`: whether no load at all is one too.
pub(super) fn written(zero: bool) -> Form<impl Fn(&DeValue<'_>) -> Option<Written>> {
    let read = move |value: &DeValue<'_>| outright(value.as_str()?, zero);
    Form { allowed: Allowed::Written { zero }, read }
}

fn outright(text: &str, zero: bool) -> Option<Written> {
    let written = Written::parse(text)?;
    (zero || written.load() != Mass::ZERO.into()).then_some(written)
}
