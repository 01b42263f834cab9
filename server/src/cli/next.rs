//! `turnabout next`: the load for the set after one that is over, with its reason.

use std::path::PathBuf;

use clap::{Args, ValueEnum};
use schemars::JsonSchema;
use serde::Serialize;
use turnabout_protocol::command::{Effort, Ending};
use turnabout_protocol::next::{Proposal, SetTo};
use turnabout_protocol::text::{Language, say};
use turnabout_protocol::units::{Mass, MassUnit};
use turnabout_protocol::work::Work;

use super::amount::Amount;
use super::error::{BadInput, CliError};
use super::{Told, read, station};
use crate::loading::gear::Gear;
use crate::training::block;
use crate::training::estimate::limits;
use crate::training::next::policy::Policy;
use crate::training::next::{Ground, Set, after};

mod ladder;
mod source;

use ladder::Ladder;

/// The set that is over, and what can be set.
#[derive(Clone, Debug, Args)]
pub struct Ask {
    /// What was lifted: the whole load, bar and collars included.
    #[arg(long, allow_negative_numbers = true)]
    load: String,
    /// The unit of load and step: kg or lb; the station's own where there is one, else kg.
    #[arg(long, value_parser = read::unit)]
    unit: Option<MassUnit>,
    /// Repetitions that the set asked for: 8, or a range such as 8-10.
    #[arg(long, allow_negative_numbers = true)]
    target_reps: String,
    /// Repetitions done, those with help included; if not said, as asked for, or one fewer where the set did not
    /// end as it should.
    #[arg(long, allow_negative_numbers = true)]
    reps: Option<String>,
    /// How many more would have gone, 0 to 10.
    #[arg(long, allow_negative_numbers = true, conflicts_with = "felt")]
    rir: Option<String>,
    /// How it felt.
    #[arg(long, value_enum)]
    felt: Option<Felt>,
    /// Repetitions that should have stayed in reserve, 0 to 10; 2 if not said.
    #[arg(long, allow_negative_numbers = true)]
    reserve: Option<String>,
    /// How the set ended.
    #[arg(long, value_enum, default_value_t = Ended::Complete)]
    ending: Ended,
    /// Repetitions that the spotter helped with, where the set ended so; 1 if not said.
    #[arg(long, allow_negative_numbers = true)]
    helped_with: Option<String>,
    /// The floor file with the station; what it sets about next loads holds.
    #[arg(long, requires = "station")]
    floor: Option<PathBuf>,
    /// The station whose gear says what can be set.
    #[arg(long, requires = "floor")]
    station: Option<String>,
    /// Without a station: what can be set goes up and down from the load in such steps; 2.5 kg or 5 lb if not said.
    #[arg(long, allow_negative_numbers = true, conflicts_with_all = ["floor", "station"])]
    step: Option<String>,
    /// The language of the reason: en or de.
    #[arg(long, default_value = "en", value_parser = read::language)]
    language: Language,
    /// Answer with JSON.
    #[arg(long)]
    json: bool,
}

/// How a set felt.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Felt {
    /// Too light.
    Light,
    /// As it should.
    Right,
    /// Too heavy.
    Heavy,
}

/// How a set ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Ended {
    /// All repetitions, alone.
    Complete,
    /// Fewer, by choice.
    Short,
    /// The spotter helped.
    Helped,
    /// The weight could not be moved any further.
    Failed,
    /// Ended because the form broke.
    FormBroken,
    /// Ended by the equipment.
    EquipmentFault,
}

/// The proposal. It is an offer: unanswered, the load stays as it was.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields, title = "Answer of turnabout next --json")]
pub struct Answer {
    /// What to set, as stamped on the gear.
    pub load: Amount,
    /// The same in the other unit: converted.
    pub about: Amount,
    /// The proposal as it goes to displays: what to set and do, the change, the reason, the rule.
    pub proposal: Proposal,
    /// The reason in a sentence, in the language asked for.
    pub reason: String,
    /// The rule in words, in the language asked for.
    pub rule: String,
    /// Where the rule, or what it is made of, is published; absent where nothing is.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub source: Option<&'static str>,
}

/// Answers.
///
/// # Errors
/// An argument is out of its range, the floor file has mistakes, or nothing is proposed for such a set.
pub fn tell(ask: &Ask) -> Result<Told, CliError> {
    Ok(Told::new(&answer(ask)?, ask.json, true, |answer| text(answer, ask.language)))
}

fn answer(ask: &Ask) -> Result<Answer, CliError> {
    let found = match (&ask.floor, &ask.station) {
        (Some(floor), Some(key)) => Some(station::find(floor, key)?),
        (None, _) | (_, None) => None,
    };
    let policy = found.as_ref().map_or_else(Policy::default, |found| found.policy);
    let gear = found.map(|found| found.gear.gear());
    let unit = ask.unit.or(gear.as_ref().map(Gear::unit)).unwrap_or_default();
    let load = read::mass("load", &ask.load, unit, limits::LOAD)?;
    let set = set(ask)?;
    let ladder = match gear {
        Some(gear) => Ladder::Gear(gear),
        None => Ladder::steps(load, step(ask, unit)?, unit),
    };
    let ground = Ground { loads: &ladder, policy: &policy, one_rm: None };
    let proposal = after(load, &set, &ground)?;
    let stamped = ladder.stamped();
    let load = match proposal.set {
        SetTo::Mass { load } => Some(load),
        SetTo::Pin { .. } => None,
    };
    let load = Amount::new(load.expect("a ladder has masses and no pins"), stamped);
    Ok(Answer {
        load,
        about: load.in_the_other_unit(),
        reason: proposal.reason.sentence(ask.language, stamped),
        rule: say(ask.language, "rule", &proposal.rule, |_, value| value.to_string()),
        source: source::of(proposal.rule),
        proposal,
    })
}

fn set(ask: &Ask) -> Result<Set, CliError> {
    let most = block::limits::REPS;
    let (least, target) = read::range("target-reps", &ask.target_reps, 1, most)?;
    let whole = |field, text: &Option<String>, least, most| {
        text.as_ref().map(|text| read::whole(field, text, least, most)).transpose()
    };
    let unsaid = match ask.ending {
        Ended::Complete | Ended::EquipmentFault => target,
        Ended::Short | Ended::Helped | Ended::Failed | Ended::FormBroken => least - 1,
    };
    let reps = whole("reps", &ask.reps, 0, most)?.unwrap_or(unsaid);
    let rir = whole("rir", &ask.rir, 0, Effort::MAX_RIR)?;
    let reserve = whole("reserve", &ask.reserve, 0, Effort::MAX_RIR)?;
    if ask.helped_with.is_some() && ask.ending != Ended::Helped {
        return Err(BadInput::OnlyWith { field: "helped-with", with: "--ending helped" }.into());
    }
    let helped = whole("helped-with", &ask.helped_with, 1, reps.max(1))?.unwrap_or(1);
    let felt = ask.felt.map(|felt| match felt {
        Felt::Light => Effort::Light,
        Felt::Right => Effort::Right,
        Felt::Heavy => Effort::Heavy,
    });
    let ending = match ask.ending {
        Ended::Complete => Ending::Complete,
        Ended::Short => Ending::Short,
        Ended::Helped => Ending::Helped { reps: helped },
        Ended::Failed => Ending::Failed,
        Ended::FormBroken => Ending::FormBroken,
        Ended::EquipmentFault => Ending::EquipmentFault,
    };
    let effort = rir.map(|reps| Effort::Rir { reps }).or(felt);
    Ok(Set { work: Work::Reps { least, most: target }, reserve, reps, ending, effort })
}

fn step(ask: &Ask, unit: MassUnit) -> Result<Mass, CliError> {
    let usual = match unit {
        MassUnit::Kg => "2.5",
        MassUnit::Lb => "5",
    };
    Ok(read::mass("step", ask.step.as_deref().unwrap_or(usual), unit, limits::LOAD)?)
}

fn text(answer: &Answer, language: Language) -> String {
    let Answer { load, about, proposal, reason, rule, source } = answer;
    let (about_word, rule_word, source_word, none, caution) = match language {
        Language::En => (
            "about",
            "Rule",
            "Source",
            "none",
            "An offer: the same load unless somebody takes it, and lighter at any time. A qualified coach decides.",
        ),
        Language::De => (
            "etwa",
            "Regel",
            "Quelle",
            "keine",
            "Ein Angebot: dieselbe Last, wenn niemand es annimmt, und leichter jederzeit. Es entscheidet, wer \
             dafür ausgebildet ist.",
        ),
    };
    let read = |amount: &Amount| match language {
        Language::En => amount.to_string(),
        Language::De => amount.to_string().replace('.', ","),
    };
    let reps = match proposal.work {
        Work::Reps { least, most } if least == most => most.to_string(),
        Work::Reps { least, most } => format!("{least}-{most}"),
        Work::Hold { secs } => format!("{} s", secs.0),
    };
    let change = say(language, "change", &proposal.change, |_, value| value.to_string());
    let (load, about) = (read(load), read(about));
    let source = source.unwrap_or(none);
    format!(
        "{load} ({about_word} {about}) x {reps}: {change}\n{reason}\n\
         {rule_word}: {rule}\n{source_word}: {source}\n\n{caution}\n"
    )
}
