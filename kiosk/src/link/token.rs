//! By what a server knows a display that it has taken in. It is nobody else's: kept, told that server and never shown.

use std::fmt;
use std::str::FromStr;

/// A token as a server made it: `b64token` of RFC 6750, section 2.1, of up to [`Token::MOST`] letters.
#[derive(Clone, PartialEq, Eq)]
pub struct Token(String);

impl Token {
    /// The most letters: far more than 512 bits take.
    pub const MOST: usize = 512;
    /// What one is, for whoever wrote something else.
    pub const ALLOWED: &str = "1 to 512 letters, digits and -._~+/, with = at the end only";

    /// The token, for whom it is meant and for the file that keeps it.
    #[must_use]
    pub fn secret(&self) -> &str {
        &self.0
    }

    /// As a header of HTTP says it (RFC 6750, section 2.1).
    #[must_use]
    pub fn bearer(&self) -> String {
        format!("Bearer {}", self.0)
    }
}

/// No token: of another kind than [`Token::ALLOWED`]. It does not say what was found, which may be a secret.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("allowed are {}", Token::ALLOWED)]
pub struct NoToken;

impl FromStr for Token {
    type Err = NoToken;

    fn from_str(text: &str) -> Result<Self, NoToken> {
        let body = text.trim_end_matches('=');
        let fits = |letter: char| letter.is_ascii_alphanumeric() || "-._~+/".contains(letter);
        let is_one = !body.is_empty() && text.len() <= Self::MOST && body.chars().all(fits);
        if is_one { Ok(Self(text.to_owned())) } else { Err(NoToken) }
    }
}

/// Goes into logs and messages, so it says nothing.
impl fmt::Debug for Token {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Token(..)")
    }
}
