//! The digits that a coach types at a display, and the pad on which they are typed.

use std::fmt;

use serde::{Deserialize, Serialize};
use turnabout_protocol::text::{Language, message};

use super::Scene;
use super::pad::{Key, Step, key};
use super::visit::{Seen, Unlet};
use super::words::{m_ss, with};

/// A PIN has at least so many digits.
pub const LEAST_DIGITS: usize = 4;
/// And at most so many.
pub const MOST_DIGITS: usize = 8;

/// The digits of a PIN. They are nowhere to be read but where they are sent: no debug output, no copy and no file has them.
#[derive(Default, PartialEq, Eq)]
pub struct Pin(Vec<u8>);

impl Pin {
    /// No digit yet.
    pub(super) const fn nothing() -> Self {
        Self(Vec::new())
    }

    /// One more digit, from 0 to 9. What is none, or one too many, is left out.
    pub fn push(&mut self, digit: u8) {
        if digit <= 9 && self.0.len() < MOST_DIGITS {
            self.0.push(digit);
        }
    }

    /// Takes the last digit away.
    pub fn rub(&mut self) {
        self.0.pop();
    }

    /// How many digits there are.
    #[must_use]
    pub const fn len(&self) -> usize {
        self.0.len()
    }

    /// There is none.
    #[must_use]
    pub const fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// There are as many as a PIN has at least.
    #[must_use]
    pub const fn is_whole(&self) -> bool {
        self.0.len() >= LEAST_DIGITS
    }

    /// The digits in their order, for whoever is asked. It takes the PIN: nothing is left.
    #[must_use]
    pub fn into_digits(self) -> Vec<u8> {
        self.0
    }
}

impl fmt::Debug for Pin {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Pin(..)")
    }
}

/// The pad of digits in words.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct DigitsFace {
    /// What is asked, or what became of the last try.
    pub title: String,
    /// A dot for each digit that was typed.
    pub dots: String,
    /// A key for each digit.
    pub digits: Vec<Key>,
    /// What else can be done, in the row of the buttons.
    pub row: Vec<Key>,
}

/// The order of the keys: as on a keyboard's upper row.
const DIGITS: [u8; 10] = [1, 2, 3, 4, 5, 6, 7, 8, 9, 0];

/// The pad; nothing where none is open.
pub(super) fn digits(scene: &Scene<'_>, seen: &Seen<'_>) -> Option<DigitsFace> {
    let (pin, said, waits) = match *seen {
        Seen::Typing { pin, said, waits } => (Some(pin), said, waits),
        Seen::Asking => (None, None, 0),
        Seen::Nowhere | Seen::Busy | Seen::Open { .. } => return None,
    };
    let typed = pin.map_or(0, Pin::len);
    let types = pin.is_some() && waits == 0;
    let digit = |digit: u8| Key {
        label: digit.to_string(),
        enabled: types && typed < MOST_DIGITS,
        ..key(scene, &format!("digit-{digit}"), "", Step::Digit { digit })
    };
    let whole = types && pin.is_some_and(Pin::is_whole);
    let row = vec![
        key(scene, "close", "label.gate_cancel", Step::Close),
        Key { enabled: types && typed > 0, ..key(scene, "rub", "label.gate_rub", Step::Rub) },
        Key { enabled: whole, primary: whole, ..key(scene, "show", "label.gate_show", Step::Show) },
    ];
    Some(DigitsFace {
        title: title(scene.language, pin.is_none(), said, waits),
        dots: dots(typed),
        digits: DIGITS.map(digit).into(),
        row,
    })
}

fn title(language: Language, asking: bool, said: Option<Unlet>, waits: u64) -> String {
    if waits > 0 {
        let secs = i64::try_from(waits.div_ceil(1_000)).unwrap_or(i64::MAX);
        return with(language, "label.gate_waits", &[("at", &m_ss(secs))]);
    }
    let id = match said {
        _ if asking => "label.gate_asking",
        None => "label.gate_ask",
        Some(Unlet::Wrong) => "label.gate_wrong",
        Some(Unlet::Nobody) => "label.gate_nobody",
    };
    message(language, id).to_owned()
}

/// Where nothing is typed yet, so many places are waiting.
fn dots(typed: usize) -> String {
    let dot = |n: usize| if n < typed { "\u{2022}" } else { "\u{00b7}" };
    (0..typed.max(LEAST_DIGITS)).map(dot).collect::<Vec<_>>().join(" ")
}
