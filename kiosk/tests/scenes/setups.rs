//! A display that is being set up, page by page.

use std::path::PathBuf;

use turnabout_kiosk::duty::turning::Turner;
use turnabout_kiosk::link::token::Token;
use turnabout_kiosk::settings::{Inches, Settings};
use turnabout_kiosk::setup::{Choice, Effect, Named, NoAnswer, Page, Setup, Step};
use turnabout_kiosk::sound::Ability;
use turnabout_kiosk::surroundings::{Enrols, Found, NotTaken};
use turnabout_protocol::ids::DeviceId;
use turnabout_protocol::text::Language;
use uuid::Uuid;

/// A token as a server might make one: 128 bits in base64url.
pub(crate) fn token() -> Token {
    "kx8Dq0Zc1mYw5tLr7vUe2A==".parse().unwrap()
}

/// Servers in the network.
pub(crate) fn some_servers() -> Vec<Found> {
    [("Example Floor", "http://192.168.0.20:7474"), ("Upstairs", "http://floor.local:7474")]
        .map(|(name, at)| Found::new(name, at.parse().unwrap()))
        .into()
}

/// The same display where these servers are found.
pub(crate) fn seeing(mut setup: Setup, found: &[Found], steps: &[Step]) -> Setup {
    setup.sees(found);
    for step in steps {
        setup.take(step);
    }
    setup
}

/// A display whose server wants a code, after one was typed and came to this; nothing where it is on its way.
pub(crate) fn coded(
    settings: &Settings,
    typed: Option<&str>,
    became: Option<Result<Token, NotTaken>>,
) -> Setup {
    let mut setup = Setup::new(settings, Turner::Program, settings.shows.is_some(), None);
    let Some(Effect::Ask(number, ..)) = setup.begin() else { panic!("a question") };
    setup.answered(number, Ok(some_stations(7)));
    setup.enrols(number, Some(Enrols::ByCode));
    let Some(typed) = typed else { return setup };
    setup.take(&Step::Open(Page::Of(Choice::Code)));
    for letter in typed.chars() {
        setup.take(&Step::Type(letter));
    }
    let Some(Effect::Enrol(number, ..)) = setup.take(&Step::TellCode) else { return setup };
    if let Some(became) = became
        && let Some(Effect::Ask(number, ..)) = setup.enrolled(number, became)
    {
        setup.answered(number, Ok(some_stations(7)));
    }
    setup
}

/// A display that nobody has set up.
pub(crate) fn unset(language: Language) -> Settings {
    Settings { language, ..Settings::new(DeviceId(Uuid::from_u128(7))) }
}

/// One whose server is known.
pub(crate) fn with_server(language: Language) -> Settings {
    Settings { server: Some("http://192.168.0.20:7474".parse().unwrap()), ..unset(language) }
}

/// One that shows stations.
pub(crate) fn with_stations(language: Language) -> Settings {
    let shows =
        Some(turnabout_kiosk::settings::Shows::Stations("bench-1,row-1,rack-2,rack-3".parse().unwrap()));
    Settings { shows, ..with_server(language) }
}

/// The stations of a floor: as many as there are.
pub(crate) fn some_stations(count: usize) -> Vec<Named> {
    let names = ["Bench 1", "Row 1", "Rack 1", "Rack 2", "Rack 3", "Leg press", "Cable tower left"];
    let named = |n: usize| {
        let name =
            names.get(n).map_or_else(|| format!("Platform {}", n - names.len() + 1), ToString::to_string);
        let key = name.to_lowercase().replace(' ', "-").parse().unwrap();
        Named { key, name }
    };
    (0..count).map(named).collect()
}

/// Answers the last question.
pub(crate) fn answer(setup: &mut Setup, effect: Option<&Effect>, answer: Result<Vec<Named>, NoAnswer>) {
    let Some(Effect::Ask(number, ..)) = effect else { panic!("a question: {effect:?}") };
    setup.answered(*number, answer);
}

/// A display whose server answered so and takes every display, after these steps.
pub(crate) fn set_up(
    settings: &Settings,
    answered: Option<Result<Vec<Named>, NoAnswer>>,
    steps: &[Step],
) -> Setup {
    let mut setup = Setup::new(settings, Turner::Program, settings.shows.is_some(), None);
    let effect = setup.begin();
    if let Some(Effect::Ask(number, ..)) = &effect {
        setup.enrols(*number, Some(Enrols::Freely));
    }
    if let Some(answered) = answered {
        answer(&mut setup, effect.as_ref(), answered);
    }
    for step in steps {
        setup.take(step);
    }
    setup
}

/// A display whose settings were broken.
fn after_broken(settings: &Settings) -> Setup {
    let aside = PathBuf::from("/var/lib/turnabout-kiosk/kiosk.json.broken-1");
    let mut setup = Setup::new(settings, Turner::Program, false, Some(aside));
    setup.begin();
    setup
}

fn typed(text: &str) -> Vec<Step> {
    [Step::Open(Page::Of(Choice::Server))].into_iter().chain(text.chars().map(Step::Type)).collect()
}

/// Everything that can be shown while a display is set up.
pub(crate) fn setups(language: Language) -> Vec<(&'static str, Setup)> {
    let (unset, server, full) = (unset(language), with_server(language), with_stations(language));
    let wall = Settings { inches: Inches::of(55.0).unwrap(), ..server.clone() };
    let heard = Settings { sound: true, ..full.clone() };
    let silent = Ability::Fails("No such file or directory (os error 2)".into());
    let open = |choice| [Step::Open(Page::Of(choice))];
    let key =
        [Step::Open(Page::Of(Choice::Shows)), Step::Open(Page::StationKey), Step::Type('b'), Step::Type('1')];
    vec![
        ("setup-new", set_up(&unset, None, &[])),
        ("setup-broken", after_broken(&unset)),
        ("setup-server", set_up(&unset, None, &typed("192.168.0.20:7474"))),
        ("setup-server-wrong", set_up(&unset, None, &typed("floor:99999"))),
        ("setup-found", seeing(set_up(&unset, None, &[]), &some_servers(), &[Step::Open(Page::Found)])),
        ("setup-asking", set_up(&server, None, &open(Choice::Shows))),
        ("setup-unreachable", set_up(&server, Some(Err(NoAnswer::Unreachable)), &[])),
        ("setup-stranger", set_up(&full, Some(Err(NoAnswer::Stranger)), &[])),
        ("setup-not-let-in", set_up(&full, Some(Err(NoAnswer::NotLetIn)), &[])),
        ("setup-key", set_up(&server, None, &key)),
        ("setup-stations", set_up(&server, Some(Ok(some_stations(7))), &open(Choice::Shows))),
        ("setup-stations-full", set_up(&full, Some(Ok(some_stations(17))), &open(Choice::Shows))),
        ("setup-ready", set_up(&full, Some(Ok(some_stations(17))), &[])),
        ("setup-code-needed", coded(&full, None, None)),
        ("setup-code", coded(&full, Some("k7q"), None)),
        ("setup-code-asking", coded(&full, Some("k7q2-9xm4"), None)),
        ("setup-code-wrong", coded(&full, Some("k7q29xm4"), Some(Err(NotTaken::Wrong)))),
        ("setup-code-declined", coded(&full, Some("k7q29xm4"), Some(Err(NotTaken::Declined)))),
        ("setup-code-often", coded(&full, Some("k7q29xm4"), Some(Err(NotTaken::TooOften)))),
        ("setup-code-nobody", coded(&full, Some("k7q29xm4"), Some(Err(NotTaken::Nobody)))),
        ("setup-code-taken", coded(&full, Some("k7q29xm4"), Some(Ok(token())))),
        ("setup-rotation", set_up(&full, Some(Ok(some_stations(7))), &open(Choice::Rotation))),
        ("setup-language", set_up(&full, Some(Ok(some_stations(7))), &open(Choice::Language))),
        (
            "setup-sound",
            set_up(&full, Some(Ok(some_stations(7))), &open(Choice::Sound)).heard(Ability::Works),
        ),
        ("setup-silent", set_up(&heard, Some(Ok(some_stations(7))), &[]).heard(silent)),
        ("setup-diagonal", set_up(&wall, Some(Ok(some_stations(7))), &open(Choice::Diagonal))),
    ]
}
