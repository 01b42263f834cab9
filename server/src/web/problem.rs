//! What HTTP says when something cannot be had: one form for all of it (RFC 9457).

use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use serde::Serialize;
use turnabout_protocol::refusal::WriteTrouble;

use crate::live::Unanswered;

/// Every problem the server answers with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Problem {
    /// Nothing is there.
    NotFound,
    /// The path is there, but not for this method.
    Method,
    /// The body is not what is expected.
    Body,
    /// The body is no programme in JSON.
    NotAProgramme,
    /// The body is larger than any programme may be.
    TooLarge,
    /// A page of another origin wants a socket.
    Origin,
    /// Something that is for pages of this server alone was asked by another.
    Foreign,
    /// As many sockets as are taken.
    Full,
    /// More waits for the floor than it takes.
    Busy,
    /// The floor does not answer.
    FloorGone,
    /// A fault of the program: nothing has happened.
    Internal,
    /// The floor cannot write.
    NotSaving(WriteTrouble),
}

/// RFC 9457, section 3.1. `type` names the problem for machines, relative to the server.
#[derive(Serialize)]
struct Body {
    r#type: &'static str,
    title: &'static str,
    status: u16,
    #[serde(skip_serializing_if = "Option::is_none")]
    detail: Option<&'static str>,
}

impl Problem {
    const fn status(self) -> StatusCode {
        match self {
            Self::NotFound => StatusCode::NOT_FOUND,
            Self::Method => StatusCode::METHOD_NOT_ALLOWED,
            Self::Body | Self::NotAProgramme => StatusCode::UNPROCESSABLE_ENTITY,
            Self::TooLarge => StatusCode::PAYLOAD_TOO_LARGE,
            Self::Origin | Self::Foreign => StatusCode::FORBIDDEN,
            Self::Internal => StatusCode::INTERNAL_SERVER_ERROR,
            Self::Full | Self::Busy | Self::FloorGone | Self::NotSaving(_) => StatusCode::SERVICE_UNAVAILABLE,
        }
    }

    const fn words(self) -> (&'static str, &'static str, Option<&'static str>) {
        match self {
            Self::NotFound => ("/problems/not-found", "Nothing is there.", None),
            Self::Method => ("/problems/method", "Not by this method.", None),
            Self::Body => (
                "/problems/body",
                "The body is not what is expected.",
                Some("Expected {\"by_ms\": n}, n from 1."),
            ),
            Self::NotAProgramme => (
                "/problems/body",
                "The body is not what is expected.",
                Some("Expected {\"revision\": n, \"programme\": {...}} in UTF-8."),
            ),
            Self::TooLarge => ("/problems/too-large", "The body is larger than 1 MiB.", None),
            Self::Origin => ("/problems/origin", "Only pages of this server may open a socket.", None),
            Self::Foreign => ("/problems/foreign", "Only pages of this server may ask for that.", None),
            Self::Full => ("/problems/full", "As many sockets as are taken are open.", None),
            Self::Busy => ("/problems/busy", "Too much at once: try again in a moment.", None),
            Self::FloorGone => ("/problems/floor-gone", "The floor does not answer.", None),
            Self::Internal => ("/problems/internal", "A fault of the program: nothing has happened.", None),
            Self::NotSaving(WriteTrouble::DiskFull) => {
                ("/problems/not-saving", "The floor cannot write.", Some("The disk is full."))
            }
            Self::NotSaving(WriteTrouble::DiskFault) => {
                ("/problems/not-saving", "The floor cannot write.", Some("The disk answers with errors."))
            }
        }
    }
}

impl From<Unanswered> for Problem {
    fn from(unanswered: Unanswered) -> Self {
        match unanswered {
            Unanswered::Busy => Self::Busy,
            Unanswered::Gone => Self::FloorGone,
        }
    }
}

impl IntoResponse for Problem {
    fn into_response(self) -> Response {
        let (r#type, title, detail) = self.words();
        let status = self.status();
        let body = Body { r#type, title, status: status.as_u16(), detail };
        let body = serde_json::to_string(&body).expect("a problem is plain JSON");
        (status, [(header::CONTENT_TYPE, "application/problem+json")], body).into_response()
    }
}
