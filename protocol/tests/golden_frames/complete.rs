//! No variant of any enum of the wire is missing from the golden files.

use std::collections::BTreeSet;

use schemars::JsonSchema;
use serde::Serialize;
use serde_json::Value;
use turnabout_protocol::card::GearKind;
use turnabout_protocol::command::{Act, CallKind, Effort, Scope};
use turnabout_protocol::frame::{Fault, ToDisplay, ToServer};
use turnabout_protocol::refusal::{Outcome, Refusal, WriteTrouble};
use turnabout_protocol::role::{Actor, Role};
use turnabout_protocol::view::{
    After, Breathing, HaltKind, Happening, Need, NoteText, SetName, Stage, StartsWith, StationState,
    TurnPhase, View,
};

use crate::common::variants;
use crate::{Golden, to_display, to_server};

fn json<T: Serialize>(golden: Golden<T>) -> Vec<Value> {
    let frames = golden.into_iter().flat_map(|(_, frames)| frames);
    frames.map(|frame| serde_json::to_value(frame).expect("plain JSON")).collect()
}

/// Every text that stands under `tag`, anywhere; where `under` is named, only in objects that stand there.
fn seen(values: &[Value], under: Option<&str>, tag: &str) -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    for value in values {
        walk(value, None, &mut |parent, key, value| {
            let here = under.is_none() || parent == under;
            if let (true, true, Some(text)) = (here, key == tag, value.as_str()) {
                found.insert(text.to_owned());
            }
        });
    }
    found
}

fn walk(value: &Value, parent: Option<&str>, visit: &mut impl FnMut(Option<&str>, &str, &Value)) {
    match value {
        Value::Object(fields) => {
            for (key, value) in fields {
                visit(parent, key, value);
                walk(value, Some(key), visit);
            }
        }
        Value::Array(items) => items.iter().for_each(|item| walk(item, parent, visit)),
        Value::Null | Value::Bool(_) | Value::Number(_) | Value::String(_) => {}
    }
}

fn has_all<T: JsonSchema>(values: &[Value], under: Option<&str>, tag: &str) {
    let wanted: BTreeSet<String> = variants::<T>(tag).into_keys().collect();
    let missing: Vec<_> = wanted.difference(&seen(values, under, tag)).cloned().collect();
    assert!(missing.is_empty(), "the golden files lack {missing:?} of {}", T::schema_name());
}

#[test]
fn every_variant_of_a_frame_to_the_server_is_there() {
    let frames = json(to_server());
    has_all::<ToServer>(&frames, None, "frame");
    has_all::<Role>(&frames, Some("role"), "is");
    has_all::<Act>(&frames, Some("act"), "do");
    has_all::<Effort>(&frames, None, "felt");
    has_all::<Scope>(&frames, Some("scope"), "scope");
    has_all::<CallKind>(&frames, None, "call");
}

#[test]
fn every_variant_of_a_frame_to_a_display_is_there() {
    let frames = json(to_display());
    has_all::<ToDisplay>(&frames, None, "frame");
    has_all::<View>(&frames, Some("view"), "is");
    has_all::<Outcome>(&frames, None, "outcome");
    has_all::<Actor>(&frames, Some("by"), "is");
    has_all::<Refusal>(&frames, None, "because");
    has_all::<WriteTrouble>(&frames, None, "writing");
    has_all::<Fault>(&frames, Some("fault"), "fault");
    has_all::<TurnPhase>(&frames, Some("phase"), "phase");
    has_all::<After>(&frames, Some("after"), "after");
    has_all::<Need>(&frames, None, "need");
    has_all::<NoteText>(&frames, Some("text"), "is");
    has_all::<SetName>(&frames, Some("set"), "set");
    has_all::<StartsWith>(&frames, None, "starts_with");
    has_all::<Breathing>(&frames, None, "breathing");
    has_all::<StationState>(&frames, None, "state");
    has_all::<Stage>(&frames, None, "stage");
    has_all::<Happening>(&frames, Some("what"), "happened");
    has_all::<HaltKind>(&frames, Some("halt"), "halt");
    has_all::<GearKind>(&frames, None, "gear");
    has_all::<CallKind>(&frames, None, "kind");
    has_all::<Act>(&frames, Some("act"), "do");
    has_all::<Effort>(&frames, None, "felt");
    has_all::<Scope>(&frames, Some("scope"), "scope");
}
