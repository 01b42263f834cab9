//! Which language a browser asks for.

use axum::http::{HeaderMap, header::ACCEPT_LANGUAGE};
use turnabout_protocol::text::Language;

/// Language ranges that are looked at: browsers send a handful.
const RANGES: usize = 16;

/// The language of the greatest weight in `Accept-Language` (RFC 9110, section 12.5.4) that there is a catalogue
/// for, the first of equals; English where there is none.
pub(super) fn asked(headers: &HeaderMap) -> Language {
    let text = headers.get(ACCEPT_LANGUAGE).and_then(|value| value.to_str().ok()).unwrap_or_default();
    let mut best = (Language::default(), 0);
    for (language, weight) in text.split(',').take(RANGES).filter_map(range) {
        if weight > best.1 {
            best = (language, weight);
        }
    }
    best.0
}

/// One language range with its weight in thousandths: `de-AT;q=0.8`.
fn range(text: &str) -> Option<(Language, u16)> {
    let (tag, parameters) = text.split_once(';').unwrap_or((text, ""));
    let primary = tag.trim().split('-').next().unwrap_or_default();
    let language = Language::ALL.into_iter().find(|l| l.tag().eq_ignore_ascii_case(primary))?;
    let Some(quality) = parameters.trim().strip_prefix("q=") else {
        return Some((language, 1_000));
    };
    Some((language, thousandths(quality.trim())?))
}

/// `0.8` is 800; at most three digits after the point and never above 1, as the RFC says.
fn thousandths(text: &str) -> Option<u16> {
    let (whole, rest) = text.split_once('.').unwrap_or((text, ""));
    let digits = rest.len() <= 3 && rest.bytes().all(|b| b.is_ascii_digit());
    match (whole, digits) {
        ("0", true) => format!("{rest:0<3}").parse().ok(),
        ("1", true) => Some(1_000),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_heaviest_known_language_wins() {
        for (header, tag) in [
            ("", "en"),
            ("de", "de"),
            ("de-AT,de;q=0.9,en;q=0.8", "de"),
            ("en-GB,de", "en"),
            ("fr, de;q=0.5, en;q=0.4", "de"),
            ("en;q=0.1,de;q=0.25", "de"),
            ("de;q=0", "en"),
            ("de;q=7", "en"),
            ("tlh", "en"),
            (";;;,,,q=", "en"),
        ] {
            let headers = HeaderMap::from_iter([(ACCEPT_LANGUAGE, header.parse().unwrap())]);
            assert_eq!(asked(&headers).tag(), tag, "{header}");
        }
        assert_eq!(asked(&HeaderMap::new()), Language::En);
    }
}
