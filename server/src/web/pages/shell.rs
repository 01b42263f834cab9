//! The static shells of the pages. Everything that lives is drawn by the modules they load.

use maud::{DOCTYPE, Markup, html};
use turnabout_protocol::text::{self, Language};

use super::{assets, joined};

/// The scripts of the pages: each draws one.
pub(super) const SCRIPTS: [&str; 8] = [
    "board.js",
    "briefing.js",
    "coach.js",
    "incident.js",
    "index.js",
    "programme.js",
    "session.js",
    "summary.js",
];

/// What there is to open: the coach page, the board, and the command of a kiosk.
pub(super) fn index(language: Language) -> Markup {
    let say = |id| text::message(language, id);
    page(
        language,
        "Turnabout",
        &["theme.css", "light.css", "index.css"],
        "index.js",
        &html! {
            main {
                h1 { "Turnabout" }
                p #floor {}
                nav.open {
                    a.act href="/coach" { (say("label.page_coach")) }
                    a.act href="/board" { (say("label.page_board")) }
                }
                h2 { (say("label.page_kiosk")) }
                ul #kiosks {}
                p { (say("label.caution")) }
            }
        },
    )
}

/// One coach's page, or the question which coach it is.
pub(super) fn coach(language: Language) -> Markup {
    drawn(language, "label.page_coach", &["theme.css", "light.css", "ribbon.css", "coach.css"], "coach.js")
}

/// The wall board.
pub(super) fn board(language: Language) -> Markup {
    drawn(language, "label.page_board", &["theme.css", "ribbon.css", "board.css"], "board.js")
}

/// One note on a sheet of paper, or the question which coach it is.
pub(super) fn incident(language: Language) -> Markup {
    sheet(language, "label.sheet_incident", "incident.js")
}

/// What the clients of a group have done this evening, a sheet of paper each.
pub(super) fn summary(language: Language) -> Markup {
    sheet(language, "label.sheet_summary", "summary.js")
}

/// What is left of a group's session, on paper.
pub(super) fn session(language: Language) -> Markup {
    sheet(language, "label.sheet_session", "session.js")
}

/// What there is to say to a group before its first set.
pub(super) fn briefing(language: Language) -> Markup {
    sheet(language, "label.sheet_briefing", "briefing.js")
}

/// A sheet of paper, or the question which coach it is.
fn sheet(language: Language, title: &str, script: &'static str) -> Markup {
    drawn(language, title, &["theme.css", "light.css", "sheet.css"], script)
}

/// Clients and sessions entered by a coach, or the question which coach it is.
pub(super) fn programme(language: Language) -> Markup {
    drawn(language, "label.entry_title", &["theme.css", "light.css", "programme.css"], "programme.js")
}

/// A page whose whole content its module draws.
fn drawn(language: Language, title: &str, styles: &[&str], script: &'static str) -> Markup {
    page(
        language,
        text::message(language, title),
        styles,
        script,
        &html! {
            div #app {
                p.connecting { (text::message(language, "label.connecting")) }
            }
        },
    )
}

fn page(language: Language, title: &str, styles: &[&str], script: &'static str, body: &Markup) -> Markup {
    html! {
        (DOCTYPE)
        html lang=(language.tag()) {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1, viewport-fit=cover";
                title { (title) }
                link rel="icon" type="image/svg+xml" href=(assets::address("icon.svg"));
                // What watches a view asks for it while the rest is on its way.
                @if joined::watches(script) {
                    script async type="module" src=(joined::address(script, joined::EARLY)) {}
                }
                @for style in styles {
                    link rel="stylesheet" href=(assets::address(style));
                }
                // As the modules will fetch it, so that it is fetched once.
                @if joined::speaks(script) {
                    link rel="preload" as="fetch" crossorigin href={ "/text/" (language.tag()) ".json" };
                }
                script type="module" src=(joined::address(script, script)) {}
            }
            body {
                (body)
                noscript { p.trouble { (text::message(language, "label.page_script")) } }
            }
        }
    }
}
