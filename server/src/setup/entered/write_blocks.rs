//! Blocks of the document: what all clients of a group do, and what one of them does differently.
//!
//! The state has every client's sets in full; a file says them once, and the rest in `own`. What is said once is what
//! the first client does, and of what may be left out only what all of them have: nobody's own row can take away what
//! is said for everyone.

use serde_json::{Value, json};
use turnabout_protocol::ids::ClientId;
use turnabout_protocol::text::Language;

use super::write::{Table, exercise_key, load_text, put, work};
use crate::floor::config::Floor;
use crate::training::block::{Block, Leg, Prescription, Target};
use crate::training::rule::LoadRule;

/// A block for these clients, in their order.
pub(super) fn block(block: &Block, clients: &[ClientId], floor: &Floor) -> Value {
    let Block { legs, rounds, rest_min, rest_max, changeover } = block;
    let seconds = |secs: u32| format!("{secs} s");
    json!({
        "rounds": rounds,
        "rest": [seconds(rest_min.0), seconds(rest_max.0)],
        "changeover": seconds(changeover.0),
        "exercise": legs.iter().map(|leg| exercise(leg, clients, floor)).collect::<Vec<_>>(),
    })
}

fn exercise(leg: &Leg, clients: &[ClientId], floor: &Floor) -> Value {
    let sets: Vec<(ClientId, Sets)> =
        clients.iter().filter_map(|client| Some((*client, Sets::of(leg.sets.get(client)?)))).collect();
    let mut table = Table::new();
    put(&mut table, "use", Some(exercise_key(floor, leg.exercise)));
    put(&mut table, "in_place", leg.in_place.then_some(true));
    put(&mut table, "per_side", leg.per_side.then_some(true));
    let all = Sets::of_all(&sets);
    all.plain().into_iter().for_each(|(name, value)| put(&mut table, name, value));
    let mut technique = Table::new();
    all.technique().into_iter().for_each(|(name, value)| put(&mut technique, name, value));
    put(&mut table, "technique", Some(technique).filter(|technique| !technique.is_empty()));
    let own: Vec<Value> = sets.iter().filter_map(|(client, sets)| own(*client, sets, &all)).collect();
    put(&mut table, "own", Some(own).filter(|own| !own.is_empty()));
    Value::Object(table)
}

/// What one client does otherwise than all, if anything.
fn own(client: ClientId, sets: &Sets, all: &Sets) -> Option<Value> {
    let mut table = Table::new();
    let names = ["technique_reps", "technique_load", "technique_ramp"];
    let technique = names.into_iter().zip(sets.technique()).zip(all.technique());
    let technique = technique.map(|((name, (_, one)), (_, all))| (name, one, all));
    let plain = sets.plain().into_iter().zip(all.plain()).map(|((name, one), (_, all))| (name, one, all));
    for (name, one, all) in plain.chain(technique) {
        put(&mut table, name, one.filter(|one| Some(one) != all.as_ref()));
    }
    if table.is_empty() {
        return None;
    }
    put(&mut table, "client", Some(client.0));
    Some(Value::Object(table))
}

/// What one client does of an exercise, field by field as files write it.
#[derive(Clone, Default)]
struct Sets {
    reps: Option<Value>,
    tempo: Option<Value>,
    load: Option<Value>,
    reserve: Option<Value>,
    technique_reps: Option<Value>,
    technique_load: Option<Value>,
    ramp: Option<Value>,
}

impl Sets {
    fn of(prescription: &Prescription) -> Self {
        let Prescription { tempo, technique, rounds, reserve } = prescription;
        Self {
            reps: Some(by_round(rounds, |target| Some(work(target.work)), true)),
            tempo: Some(tempo.to_string().into()),
            load: rounds.first().and_then(rule).map(|_| by_round(rounds, rule, false)),
            reserve: reserve.map(Value::from),
            technique_reps: Some(technique.reps.into()),
            technique_load: technique.load.map(|load| load_text(load).into()),
            ramp: technique.ramp.then(|| true.into()),
        }
    }

    /// What is said for everyone. A light set more is said where all have it.
    fn of_all(each: &[(ClientId, Self)]) -> Self {
        let Some((_, first)) = each.first() else { return Self::default() };
        let of_all = |field: fn(&Self) -> &Option<Value>| {
            field(first).clone().filter(|_| each.iter().all(|(_, sets)| field(sets).is_some()))
        };
        Self {
            reps: of_all(|sets| &sets.reps),
            tempo: of_all(|sets| &sets.tempo),
            load: of_all(|sets| &sets.load),
            reserve: of_all(|sets| &sets.reserve),
            technique_reps: of_all(|sets| &sets.technique_reps),
            technique_load: of_all(|sets| &sets.technique_load),
            ramp: of_all(|sets| &sets.ramp),
        }
    }

    /// What the sets themselves ask for.
    fn plain(&self) -> [(&'static str, Option<Value>); 4] {
        let Self { reps, tempo, load, reserve, .. } = self.clone();
        [("reps", reps), ("tempo", tempo), ("load", load), ("reserve", reserve)]
    }

    /// What the light sets ask for.
    fn technique(&self) -> [(&'static str, Option<Value>); 3] {
        let Self { technique_reps, technique_load, ramp, .. } = self.clone();
        [("reps", technique_reps), ("load", technique_load), ("ramp", ramp)]
    }
}

/// One value for all rounds, or a list with one for each. `whole`: whether a list of rounds that are alike stays a list,
/// which is what says how many rounds are named.
fn by_round(rounds: &[Target], value: impl Fn(&Target) -> Option<Value>, whole: bool) -> Value {
    let values: Vec<Value> = rounds.iter().map(|target| value(target).unwrap_or_default()).collect();
    match values.as_slice() {
        [one] => one.clone(),
        [one, others @ ..] if !whole && others.iter().all(|other| other == one) => one.clone(),
        _ => Value::Array(values),
    }
}

/// How the load of a round is found, as files write it; nothing where there is none to set.
fn rule(target: &Target) -> Option<Value> {
    Some(match target.load? {
        LoadRule::Fixed { load } => load_text(load).into(),
        LoadRule::ShareOfMax { share } => share.percent(Language::En).into(),
        // The reserve itself is a field of its own.
        LoadRule::ForReserve { .. } => "by-reserve".into(),
        LoadRule::AsLastTime => "as-last-time".into(),
        LoadRule::FindIt => "find-it".into(),
    })
}
