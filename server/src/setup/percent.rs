//! Shares as people write them.

use turnabout_protocol::next::PerMille;

/// Digits before the point: more is no share of anything here.
const MOST_DIGITS: usize = 3;

/// Reads `70 %`, `2.5%`: a point as decimal mark, one decimal at most, since shares are kept in thousandths.
pub(super) fn parse_percent(text: &str) -> Option<PerMille> {
    let number = text.trim().strip_suffix('%')?.trim_end();
    let (whole, tenth) = number.split_once('.').unwrap_or((number, "0"));
    let digits =
        |part: &str, most| (1..=most).contains(&part.len()) && part.bytes().all(|byte| byte.is_ascii_digit());
    if !digits(whole, MOST_DIGITS) || !digits(tenth, 1) {
        return None;
    }
    let (whole, tenth): (u16, u16) = (whole.parse().ok()?, tenth.parse().ok()?);
    Some(PerMille(whole * 10 + tenth))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shares_read_as_people_write_them() {
        for (text, share) in
            [("70 %", 700), ("72.5%", 725), (" 0 % ", 0), ("100 %", 1_000), ("0.1 %", 1), ("999.9 %", 9_999)]
        {
            assert_eq!(parse_percent(text), Some(PerMille(share)), "{text:?}");
        }
    }

    #[test]
    fn what_is_not_a_share_is_refused() {
        for text in ["", "%", "70", "-5 %", "+5 %", "7.25 %", ".5 %", "5. %", "1000 %", "70 % %", "7e1 %"] {
            assert_eq!(parse_percent(text), None, "{text:?}");
        }
    }
}
