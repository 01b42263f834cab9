//! What one client of a group does differently: `own` of an exercise.

use std::collections::BTreeMap;

use turnabout_protocol::ids::ClientId;
use turnabout_protocol::tempo::Tempo;
use turnabout_protocol::work::Work;

use super::client_table::number;
use super::exercise_in_block::{Around, read_load, read_loads, read_work};
use super::fields::Fields;
use super::findings::Findings;
use super::form;
use super::limits::RESERVE;
use super::load_rule::Load;
use super::problem::Problem;
use super::rounds::Rounds;
use super::spot::Said;
use super::written::Written;
use crate::training::block::limits;
use crate::training::exercise::Exercise;

/// What one client does differently.
pub(super) struct Own {
    pub(super) reps: Option<Rounds<Work>>,
    pub(super) load: Option<Rounds<Load>>,
    pub(super) tempo: Option<Tempo>,
    pub(super) reserve: Option<u8>,
    pub(super) has_reserve: bool,
    pub(super) technique_reps: Option<u8>,
    pub(super) technique_load: Option<Said<Written>>,
    pub(super) technique_ramp: Option<Said<bool>>,
}

/// Reads what each client does differently.
pub(super) fn own(
    table: &mut Fields<'_>,
    found: &mut Findings<'_>,
    around: &Around<'_>,
    exercise: Option<&Exercise>,
) -> BTreeMap<ClientId, Own> {
    let mut seen = BTreeMap::new();
    let mut all = BTreeMap::new();
    for mut own in table.tables(found, "own", 0, limits::CLIENTS) {
        let client = own.said(found, "client", &number());
        let reps = read_work(&mut own, found, around.rounds);
        let tempo = own.optional(found, "tempo", &form::tempo()).map(|said| said.what);
        let load = read_loads(&mut own, found, around, exercise);
        let reserve = own.optional(found, "reserve", &form::whole(0, RESERVE)).map(|said| said.what);
        let technique_reps = own.optional(found, "technique_reps", &form::whole(1, limits::REPS));
        let technique_reps = technique_reps.map(|said| said.what);
        let technique_load = read_load(&mut own, found, around.fit, exercise, "technique_load");
        let technique_ramp = own.optional(found, "technique_ramp", &form::flag());
        let has_reserve = own.has("reserve");
        own.finish(found);
        let Some(client) = client else { continue };
        if !found.once(&mut seen, &client) {
            continue;
        }
        let id = ClientId(client.what);
        // A list of clients that could not be read has its own mistake.
        if !around.clients.is_empty() && !around.clients.contains(&id) {
            found.add(&client.spot, Problem::NotInGroup { client: id.0 });
        }
        all.insert(
            id,
            Own { reps, load, tempo, reserve, has_reserve, technique_reps, technique_load, technique_ramp },
        );
    }
    all
}
