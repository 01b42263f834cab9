//! `turnabout estimate`: what a set to failure says of the load that goes once, by every equation.

use std::fmt::Write as _;

use clap::Args;
use schemars::JsonSchema;
use serde::Serialize;
use turnabout_protocol::next::PerMille;
use turnabout_protocol::text::Language;
use turnabout_protocol::units::{Mass, MassUnit};

use super::amount::Amount;
use super::error::{BadInput, CliError};
use super::{Told, read};
use crate::training::estimate::{Equation, Performed, limits};
use crate::training::percent::{self, Basis};

/// The set.
#[derive(Clone, Debug, Args)]
pub struct Ask {
    /// What was lifted: the whole load, bar and collars included.
    #[arg(long, allow_negative_numbers = true)]
    load: String,
    /// The unit of the load: kg or lb.
    #[arg(long, default_value = "kg", value_parser = read::unit)]
    unit: MassUnit,
    /// Repetitions until no more went, 1 to 10: above that the equations come apart.
    #[arg(long, allow_negative_numbers = true)]
    reps: String,
    /// Answer with JSON.
    #[arg(long)]
    json: bool,
}

/// What one set says. An estimate, never a target: nobody is asked to try it.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields, title = "Answer of turnabout estimate --json")]
pub struct Answer {
    /// The load of the set.
    pub load: Amount,
    /// Its repetitions, 1 to 10.
    pub reps: u8,
    /// The one-repetition maximum by each of the seven equations.
    pub equations: Vec<ByEquation>,
    /// The lowest of them: the one to be careful with.
    pub lowest: Amount,
    /// The highest of them.
    pub highest: Amount,
    /// What the lowest makes of the table of loads and repetitions, from one repetition up.
    pub table: Vec<Row>,
}

/// One equation's estimate.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct ByEquation {
    /// Which equation.
    pub equation: Equation,
    /// Where it was published.
    pub source: &'static str,
    /// What it makes of the set.
    pub one_rm: Amount,
}

/// So much goes so often.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct Row {
    /// Repetitions.
    pub reps: u8,
    /// The share of the maximum in thousandths.
    pub per_mille: PerMille,
    /// That share of the lowest estimate.
    pub load: Amount,
    /// Whether every print of the table agrees: so it is up to ten repetitions. Above, this is the book's table
    /// from memory, other prints differ, and what it has no row for stands as the next one with more.
    pub undisputed: bool,
}

/// Answers.
///
/// # Errors
/// The load or the repetitions are out of their range.
pub fn tell(ask: &Ask) -> Result<Told, CliError> {
    Ok(Told::new(&answer(ask)?, ask.json, true, text))
}

fn answer(ask: &Ask) -> Result<Answer, BadInput> {
    let amount = |mass| Amount::new(mass, ask.unit);
    let load = read::mass("load", &ask.load, ask.unit, limits::LOAD)?;
    let reps = read::whole("reps", &ask.reps, 1, limits::REPS)?;
    let performed = Performed::new(load, i64::from(reps)).expect("both are in the range that was read");
    let by_all = performed.by_all();
    let of = |(equation, one_rm): (Equation, Mass)| ByEquation {
        equation,
        source: equation.source(),
        one_rm: amount(one_rm),
    };
    let lowest = performed.lowest();
    let highest = by_all.iter().map(|(_, one_rm)| *one_rm).fold(Mass::ZERO, Mass::max);
    let row = |reps| {
        let share = percent::share_for(reps)?;
        let undisputed = match share.basis {
            Basis::Undisputed => true,
            Basis::BookFromMemory => false,
        };
        Some(Row { reps, per_mille: share.share, load: amount(share.share.of(lowest)), undisputed })
    };
    Ok(Answer {
        load: amount(load),
        reps,
        equations: by_all.into_iter().map(of).collect(),
        lowest: amount(lowest),
        highest: amount(highest),
        table: (1..=percent::MOST_REPS).filter_map(row).collect(),
    })
}

fn text(answer: &Answer) -> String {
    let mut said = format!("{} x {} to failure: the one-repetition maximum\n", answer.load, answer.reps);
    for ByEquation { equation, source, one_rm } in &answer.equations {
        let _ = writeln!(said, "  {:<9} {:>9}   {source}", equation.name(), one_rm.to_string());
    }
    let _ = writeln!(said, "  between {} and {}", answer.lowest, answer.highest);
    let _ = writeln!(said, "\nRepetitions to failure, of the lowest ({})", answer.lowest);
    for Row { reps, per_mille, load, undisputed } in &answer.table {
        let mark = if *undisputed { "" } else { " *" };
        let percent = per_mille.percent(Language::En);
        let _ = writeln!(said, "  {reps:>2}   {percent:>6}   {:>9}{mark}", load.to_string());
    }
    said.push_str(
        "Source: NSCA, Essentials of Strength Training and Conditioning, 4th ed. 2016, ch. 17.\n\
         * Above 10 repetitions the book's table, from memory; other prints say 70 % at 12. 13 and 14 stand as 15.\n\
         \n\
         An estimate, never a target: it may be off by a tenth, and people differ widely. What anybody lifts is\n\
         for a qualified coach to decide.\n",
    );
    said
}
