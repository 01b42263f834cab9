//! How a load is put on: plates and what to change, or where the pin goes.

use std::collections::BTreeMap;

use turnabout_protocol::card::{AboutPart, LoadCard, OnTopPart, PinPart, StackPart};
use turnabout_protocol::ids::{ClientId, StationId, TurnId};
use turnabout_protocol::load::Load;
use turnabout_protocol::units::Mass;

use crate::floor::gear_now::Rack;
use crate::floor::in_hand::InHand;
use crate::floor::pairs_now;
use crate::floor::state::State;
use crate::loading::bar::{Finder, Starts};
use crate::loading::gear::{Gear, Numbered, PinCard, Stack};

/// Puts in how the load of a set is set at its station, once there is one, and what it is in the client's own unit.
pub(super) fn fill(hand: &InHand<'_>, turn: TurnId, station: Option<StationId>, load: &mut LoadCard) {
    let state = hand.state;
    load.about = about(state, turn.client, load);
    let Some(station) = station else { return };
    let Some(gear) = state.floor.stations.get(&station).map(|station| &station.gear) else { return };
    let mass = match (gear, load.total) {
        (Gear::Numbered(stack), Load::Pin { pin }) => {
            load.stack = Some(at_the_number(*stack, pin, load.on_now));
            return;
        }
        // No load of one kind is ever set where gear has the other.
        (Gear::Numbered(_), Load::Mass(_)) | (_, Load::Pin { .. }) => return,
        (
            Gear::Bar(_) | Gear::Stack(_) | Gear::Dumbbells(_) | Gear::Belt(_) | Gear::Plain,
            Load::Mass(mass),
        ) => mass,
    };
    match gear {
        Gear::Bar(_) => {
            if let Some(rack) = Rack::of(state, station) {
                (load.bar, load.unbuilt) = rack.parts(mass, hand.starts(turn));
            }
        }
        Gear::Stack(stack) => load.stack = at_the_pin(stack, mass, load.on_now.and_then(Load::mass)),
        Gear::Dumbbells(_) => {
            if let Some(rack) = pairs_now::rack_name(&state.floor, station) {
                load.rack = Some(rack.to_owned());
                load.unbuilt = pairs_now::unbuilt(state, station, mass);
            }
        }
        Gear::Belt(belt) => load.belt = belt.plates_for(mass),
        Gear::Numbered(_) | Gear::Plain => {}
    }
}

/// The bars of a sheet of paper, each prepared once.
#[derive(Debug, Default)]
pub(super) struct Later<'s>(BTreeMap<(StationId, Starts), Option<(Rack<'s>, Finder)>>);

impl<'s> Later<'s> {
    /// A load as it will be set at a station, whatever is on it now; nothing where there is no such station.
    pub(super) fn card(
        &mut self,
        state: &'s State,
        client: ClientId,
        (station, starts): (StationId, Starts),
        total: Load,
    ) -> Option<LoadCard> {
        let gear = &state.floor.stations.get(&station)?.gear;
        let mut load = LoadCard::new(gear.kind(), total, gear.unit());
        load.about = about(state, client, &load);
        match (gear, total) {
            (Gear::Numbered(stack), Load::Pin { pin }) => load.stack = Some(at_the_number(*stack, pin, None)),
            (Gear::Bar(_), Load::Mass(mass)) => {
                let prepared = self.0.entry((station, starts)).or_insert_with(|| {
                    let rack = Rack::of(state, station)?;
                    let finder = rack.for_later(starts);
                    Some((rack, finder))
                });
                if let Some((rack, finder)) = prepared {
                    (load.bar, load.unbuilt) = rack.later(finder, mass);
                }
            }
            (Gear::Stack(stack), Load::Mass(mass)) => load.stack = at_the_pin(stack, mass, None),
            (Gear::Dumbbells(_), Load::Mass(_)) => {
                load.rack = pairs_now::rack_name(&state.floor, station).map(ToOwned::to_owned);
            }
            (Gear::Belt(belt), Load::Mass(mass)) => load.belt = belt.plates_for(mass),
            (Gear::Plain | Gear::Numbered(_), Load::Mass(_))
            | (
                Gear::Bar(_) | Gear::Stack(_) | Gear::Dumbbells(_) | Gear::Belt(_) | Gear::Plain,
                Load::Pin { .. },
            ) => {}
        }
        Some(load)
    }
}

/// The total as the client counts, where the gear is stamped in another unit. Nothing is nothing in either.
fn about(state: &State, client: ClientId, load: &LoadCard) -> Option<AboutPart> {
    let total = load.total.mass().filter(|total| *total > Mass::ZERO)?;
    let unit = state.programme.clients.get(&client)?.unit.filter(|unit| *unit != load.unit)?;
    Some(AboutPart { mass: total.about_in(unit), unit })
}

/// Nothing where its labels and add-ons do not make the load, which no plan and no change of one leaves.
fn at_the_pin(stack: &Stack, total: Mass, on_now: Option<Mass>) -> Option<StackPart> {
    let at_hand = (!stack.ratio.is_straight()).then(|| stack.ratio.at_hand(total).about_in(stack.unit));
    let labels = stack.labels();
    Some(StackPart {
        pin: pin(&labels, &stack.pin(total)?)?,
        now: on_now.and_then(|now| stack.pin(now)).and_then(|now| pin(&labels, &now)),
        at_hand,
        assists: stack.assists,
        of: u16::try_from(labels.len()).ok()?,
    })
}

/// Where the pin goes, and where it is, on a stack whose labels are mere numbers.
fn at_the_number(stack: Numbered, pin: u16, on_now: Option<Load>) -> StackPart {
    let at = |pin| PinPart { label: Load::Pin { pin }, at: pin, on_top: Vec::new() };
    let now = on_now.and_then(Load::pin).map(at);
    StackPart { pin: at(pin), now, at_hand: None, assists: stack.assists, of: stack.numbers }
}

/// Nothing for a label that the stack has not.
fn pin(labels: &[Mass], card: &PinCard) -> Option<PinPart> {
    let at = labels.iter().position(|label| *label == card.label)?;
    let on_top = card.add_ons.iter().map(|one| OnTopPart { mass: one.mass, count: one.count });
    let at = u16::try_from(at + 1).ok()?;
    Some(PinPart { label: Load::Mass(card.label), at, on_top: on_top.collect() })
}
