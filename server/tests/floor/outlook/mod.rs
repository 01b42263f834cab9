//! The floor as a planning problem: well formed after every entry, and right in every point.

mod admission;
mod kept;
mod laws;
mod learned;
mod table;
mod too_large;
mod waiting;

use turnabout_protocol::ids::{ClientId, GroupId};
use turnabout_server::floor::outlook::{Cuts, Outlook};
use turnabout_server::timetable::instance::{Group, Member};

use crate::world::*;

/// What there is to plan now.
pub(crate) fn outlook(world: &World) -> Outlook {
    Outlook::of(&world.state, world.now, &mut Cuts::default())
}

pub(crate) fn group_of(outlook: &Outlook, group: GroupId) -> &Group {
    &outlook.instance.groups[outlook.who.group(group).unwrap()]
}

pub(crate) fn member_of(outlook: &Outlook, group: GroupId, client: ClientId) -> &Member {
    let place = outlook.who.group(group).unwrap();
    &outlook.instance.groups[place].members[outlook.who.client(place, client).unwrap()]
}
