//! A value for all rounds of a block, or a list with one for each: a pyramid.

use toml::de::DeValue;

use super::allowed::Allowed;
use super::block_problem::BlockProblem;
use super::fields::{Entry, Fields};
use super::findings::Findings;
use super::form::Form;
use super::spot::Said;
use crate::training::block::limits;

/// One value for all rounds, or one for each.
#[derive(Clone)]
pub(super) struct Rounds<T> {
    /// Never empty.
    list: Vec<Said<T>>,
    /// Whether the file has a list of them, of one entry perhaps.
    is_list: bool,
}

impl<T> Rounds<T> {
    /// The value of a round, from 0; past the last as in the last.
    pub(super) fn at(&self, round: usize) -> Option<&Said<T>> {
        self.list.get(round).or_else(|| self.list.last())
    }

    /// How many rounds it names.
    pub(super) fn len(&self) -> usize {
        self.list.len()
    }

    /// Whether it is said round by round.
    pub(super) const fn is_list(&self) -> bool {
        self.is_list
    }

    /// Every value, in order.
    pub(super) fn iter(&self) -> impl Iterator<Item = &Said<T>> {
        self.list.iter()
    }
}

/// Reads a field that may be there and may be a list by round; `rounds` are those of the block, if that could
/// be read.
pub(super) fn rounds<T, F: Fn(&DeValue<'_>) -> Option<T>>(
    table: &mut Fields<'_>,
    found: &mut Findings<'_>,
    name: &'static str,
    form: &Form<F>,
    rounds: Option<u8>,
) -> Option<Rounds<T>> {
    let entry = table.entry(name)?;
    let is_list = entry.is_list();
    let list = if is_list {
        each(entry, found, form, rounds)
    } else {
        entry.read(found, form).into_iter().collect()
    };
    (!list.is_empty()).then_some(Rounds { list, is_list })
}

fn each<T, F: Fn(&DeValue<'_>) -> Option<T>>(
    entry: Entry<'_>,
    found: &mut Findings<'_>,
    form: &Form<F>,
    rounds: Option<u8>,
) -> Vec<Said<T>> {
    let most = usize::from(limits::ROUNDS);
    let spot = entry.spot.clone();
    let entries = entry.list_as(found, &Allowed::List { least: 1, most }, 1, most);
    if let Some(rounds) = rounds.filter(|rounds| !entries.is_empty() && entries.len() != usize::from(*rounds))
    {
        found.add(&spot, BlockProblem::RoundsLength { found: entries.len(), rounds });
    }
    entries.into_iter().filter_map(|entry| entry.read(found, form)).collect()
}
