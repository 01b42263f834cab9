//! Why a programme that a page sends is not taken: the problems of any request, and those with a list.

use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use serde::Serialize;
use turnabout_protocol::entry;
use turnabout_protocol::ids::{GroupId, Key};

use super::problem::Problem;
use crate::floor::changes::InUse;
use crate::live::{SetBy, Unanswered};
use crate::setup::rows::SheetProblem;
use crate::setup::{Mistake, Mistakes};

/// Why a programme is not taken.
pub(super) enum Declined {
    /// For a reason that any request may have.
    Problem(Problem),
    /// It has mistakes.
    Mistakes(Mistakes),
    /// It is a table that cannot be read.
    Sheet(SheetProblem),
    /// It has been changed since it was shown.
    Changed(Option<SetBy>),
    /// It would change what has begun.
    InUse(Vec<InUse>),
}

impl From<Problem> for Declined {
    fn from(problem: Problem) -> Self {
        Self::Problem(problem)
    }
}

impl From<Unanswered> for Declined {
    fn from(unanswered: Unanswered) -> Self {
        Self::Problem(unanswered.into())
    }
}

/// A mistake as it is told: where, what, and what may help, for the page to say in its own language.
#[derive(Serialize)]
pub(super) struct Told {
    /// The path of the field; lists count from 1. Empty where no field is meant.
    pub(super) field: String,
    #[serde(flatten)]
    told: entry::Told,
}

impl Told {
    pub(super) fn of(mistake: &Mistake) -> Self {
        Self { field: mistake.field.clone(), told: mistake.on_page() }
    }
}

/// Which coach set a programme, and when.
#[derive(Serialize)]
pub(super) struct Set {
    #[serde(skip_serializing_if = "Option::is_none")]
    coach: Option<Key>,
    when: String,
}

impl From<SetBy> for Set {
    fn from(SetBy { coach, when }: SetBy) -> Self {
        Self { coach, when }
    }
}

/// The group that a programme would change though it has begun. Nothing for what only a floor file can take away.
const fn begun(in_use: &InUse) -> Option<GroupId> {
    match in_use {
        InUse::Group { group } => Some(*group),
        InUse::Station { .. }
        | InUse::Shared { .. }
        | InUse::Arms { .. }
        | InUse::Call { .. }
        | InUse::Busy { .. }
        | InUse::Exercise { .. }
        | InUse::Coach { .. } => None,
    }
}

/// RFC 9457, section 3: with members of its own beside the usual ones (section 3.2).
#[derive(Serialize)]
struct Body {
    r#type: &'static str,
    title: &'static str,
    status: u16,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    mistakes: Vec<Told>,
    #[serde(skip_serializing_if = "is_nothing")]
    left_out: usize,
    #[serde(skip_serializing_if = "Option::is_none")]
    set: Option<Set>,
    /// The groups that have begun and would be changed.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    in_use: Vec<GroupId>,
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde asks so")]
const fn is_nothing(left_out: &usize) -> bool {
    *left_out == 0
}

impl Body {
    const fn new(r#type: &'static str, title: &'static str, status: StatusCode) -> Self {
        let status = status.as_u16();
        Self { r#type, title, status, mistakes: Vec::new(), left_out: 0, set: None, in_use: Vec::new() }
    }
}

impl IntoResponse for Declined {
    fn into_response(self) -> Response {
        let (status, body) = match self {
            Self::Problem(problem) => return problem.into_response(),
            Self::Mistakes(found) => {
                let status = StatusCode::UNPROCESSABLE_ENTITY;
                let body = Body::new("/problems/programme", "The programme has mistakes.", status);
                let mistakes = found.list().iter().map(Told::of).collect();
                (status, Body { mistakes, left_out: found.left_out(), ..body })
            }
            Self::Sheet(problem) => {
                let status = StatusCode::UNPROCESSABLE_ENTITY;
                let body = Body::new("/problems/table", "The table cannot be read.", status);
                let mistakes = vec![Told { field: String::new(), told: problem.on_page() }];
                (status, Body { mistakes, ..body })
            }
            Self::Changed(set) => {
                let status = StatusCode::CONFLICT;
                let title = "The programme has been changed since.";
                let body = Body::new("/problems/programme-changed", title, status);
                (status, Body { set: set.map(Set::from), ..body })
            }
            Self::InUse(uses) => {
                let status = StatusCode::CONFLICT;
                let title = "The programme would change what has begun.";
                let body = Body::new("/problems/in-use", title, status);
                (status, Body { in_use: uses.iter().filter_map(begun).collect(), ..body })
            }
        };
        let body = serde_json::to_string(&body).expect("a problem is plain JSON");
        (status, [(header::CONTENT_TYPE, "application/problem+json")], body).into_response()
    }
}
