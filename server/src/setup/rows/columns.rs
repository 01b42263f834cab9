//! The columns of either kind of table.

/// What the rows of a table are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// A client each.
    Clients,
    /// An exercise of a group each, or what one client does differently in one.
    Sessions,
}

/// The columns of a table of clients.
const CLIENTS: &[&str] = &["number", "name", "unit", "regular", "show_load", "screened_on", "screening"];

/// The columns of a table of sessions.
const SESSIONS: &[&str] = &[
    "group",
    "coach",
    "clients",
    "starts",
    "ends",
    "block",
    "rounds",
    "rest_min",
    "rest_max",
    "changeover",
    "exercise",
    "reps",
    "tempo",
    "load",
    "reserve",
    "per_side",
    "in_place",
    "technique_reps",
    "technique_load",
    "technique_ramp",
    "client",
];

/// What a session says once for the group, in its first row.
pub(super) const OF_GROUP: &[&str] = &["coach", "clients", "starts", "ends"];
/// What a session says once for a block.
pub(super) const OF_BLOCK: &[&str] = &["rounds", "rest_min", "rest_max", "changeover"];

impl Kind {
    /// The kind of a table with this header: only sessions have groups.
    pub(super) fn of(header: &[String]) -> Option<Self> {
        let has = |name: &str| header.iter().any(|column| column == name);
        match (has("group"), has("number")) {
            (true, _) => Some(Self::Sessions),
            (false, true) => Some(Self::Clients),
            (false, false) => None,
        }
    }

    /// Every column that it may have.
    pub(super) const fn columns(self) -> &'static [&'static str] {
        match self {
            Self::Clients => CLIENTS,
            Self::Sessions => SESSIONS,
        }
    }

    /// The columns that it must have.
    pub(super) const fn needed(self) -> &'static [&'static str] {
        match self {
            Self::Clients => &["number"],
            Self::Sessions => &["group", "block", "exercise"],
        }
    }
}
