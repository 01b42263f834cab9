//! An evening: everybody comes, trains and goes home.

use std::future::Future;
use std::net::SocketAddr;

use tokio::sync::watch;
use tokio::task::JoinSet;
use turnabout_protocol::frame::Fault;
use turnabout_protocol::ids::Key;
use turnabout_protocol::role::{Role, Topic};

use super::dice::Dice;
use super::person::Person;
use super::script::Script;
use super::tally::Summary;
use super::visit::{Progress, Visit};

/// The most people of an evening: far more than one floor has coaches and stations in use.
pub const CAST: usize = 600;

/// Who plays, by the keys of the floor file. Whoever is left out can be played by a real person.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Cast {
    /// The coaches.
    pub coaches: Vec<Key>,
    /// The stations at whose displays clients tap.
    pub stations: Vec<Key>,
}

/// Why an evening could not be played.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum DemoError {
    /// Nobody takes stations and nobody sees when the evening is over.
    #[error("the demo needs at least one coach")]
    NoCoach,
    /// More people than an evening takes.
    #[error("the demo takes at most {CAST} coaches and stations")]
    TooMany,
    /// The server will not take one of the displays.
    #[error("the server does not take the display of {topic}: {fault:?}")]
    Rejected {
        /// What it would watch.
        topic: Topic,
        /// Why not.
        fault: Fault,
    },
    /// The server was gone for minutes.
    #[error("the server at {server} cannot be reached")]
    Unreachable {
        /// Where it should be.
        server: SocketAddr,
    },
    /// A fault of the demo itself.
    #[error("one of the demo's people broke down")]
    Broken,
}

/// Plays an evening at a running server until all its groups have finished, or until `stop`. The people of
/// one `seed` are always the same; what comes of it depends on who is first where two reach for the same.
///
/// # Errors
/// If there is no coach or too many people, if the server refuses a display for good, or if it cannot be
/// reached for minutes.
pub async fn run(
    server: SocketAddr,
    cast: Cast,
    seed: u64,
    stop: impl Future<Output = ()>,
) -> Result<Summary, DemoError> {
    if cast.coaches.is_empty() {
        return Err(DemoError::NoCoach);
    }
    if cast.coaches.len() + cast.stations.len() > CAST {
        return Err(DemoError::TooMany);
    }
    // Kept here to the end, so that news never end before the people do.
    let (tell, progress) = watch::channel((0, 0));
    let (go_home, home) = watch::channel(false);
    let mut visits = JoinSet::new();
    for (role, topic, person) in people(cast, seed) {
        let visit = Visit::new(server, (role, topic), person, tell.clone());
        visits.spawn(visit.stay(home.clone()));
    }
    let (finished_groups, groups) = watch_over(&mut visits, progress, stop).await?;
    // Nobody left to hear it would mean that nobody is left to send home.
    let _ = go_home.send(true);
    let mut summary = Summary { finished_groups, groups, ..Summary::default() };
    while let Some(tally) = visits.join_next().await {
        summary.add(tally.map_err(|_| DemoError::Broken)??);
    }
    Ok(summary)
}

/// Waits until a page shows that all groups have finished, or for `stop`. A visit that ends before has failed.
async fn watch_over(
    visits: &mut JoinSet<Result<Summary, DemoError>>,
    progress: watch::Receiver<Progress>,
    stop: impl Future<Output = ()>,
) -> Result<Progress, DemoError> {
    let mut heard = progress.clone();
    tokio::select! {
        () = stop => Ok(*progress.borrow()),
        Ok(progress) = heard.wait_for(|(over, of)| over == of && *of > 0) => Ok(*progress),
        Some(ended) = visits.join_next() => {
            ended.map_err(|_| DemoError::Broken)??;
            Err(DemoError::Broken)
        }
    }
}

/// Everybody with the display they use and the part they have in the evening's mishaps.
fn people(cast: Cast, seed: u64) -> impl Iterator<Item = (Role, Topic, Person)> {
    let mut n = 0;
    let mut dice = move || {
        n += 1;
        Dice::for_person(seed, n)
    };
    let mut people = Vec::with_capacity(cast.coaches.len() + cast.stations.len());
    for (place, coach) in cast.coaches.into_iter().enumerate() {
        let role = Role::Coach { coach: coach.clone() };
        people.push((role, Topic::Coach(coach), Person::coach(dice(), Script::of_coach(place))));
    }
    for (place, station) in cast.stations.into_iter().enumerate() {
        let role = Role::Station { stations: vec![station.clone()] };
        let person = Person::clients(dice(), Script::of_station(place));
        people.push((role, Topic::Station(vec![station]), person));
    }
    people.into_iter()
}
