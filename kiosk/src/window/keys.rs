//! Which keys of a keyboard are the four keys. A button box or a foot switch is a keyboard that sends one of these for
//! each of its buttons.

use slint::SharedString;
use slint::platform::Key;

use crate::input::FourKey;

/// What a key is called, as the window tells it: by its letter, or as a key without one.
#[derive(Clone, Copy, Debug)]
enum Name {
    Letter(char),
    Other(Key),
}

/// Every key that means one of the four. Foot switches and what turns the pages of talks send the keys that turn pages.
/// Escape is none of them: people press it to be rid of something, and nobody may be called by that.
const KEYS: [(Name, FourKey); 14] = [
    (Name::Other(Key::Return), FourKey::Go),
    (Name::Other(Key::Space), FourKey::Go),
    (Name::Other(Key::PageDown), FourKey::Go),
    (Name::Letter('-'), FourKey::Minus),
    (Name::Other(Key::LeftArrow), FourKey::Minus),
    (Name::Other(Key::UpArrow), FourKey::Minus),
    (Name::Other(Key::PageUp), FourKey::Minus),
    (Name::Letter('+'), FourKey::Plus),
    (Name::Letter('='), FourKey::Plus),
    (Name::Other(Key::RightArrow), FourKey::Plus),
    (Name::Other(Key::DownArrow), FourKey::Plus),
    (Name::Letter('h'), FourKey::Help),
    (Name::Letter('H'), FourKey::Help),
    (Name::Other(Key::F1), FourKey::Help),
];

/// Which of the four a key is, by its text.
pub(super) fn meant(text: &str) -> Option<FourKey> {
    let is = |name: Name| match name {
        Name::Letter(letter) => SharedString::from(letter) == text,
        Name::Other(key) => SharedString::from(key) == text,
    };
    KEYS.into_iter().find(|(name, _)| is(*name)).map(|(_, key)| key)
}
