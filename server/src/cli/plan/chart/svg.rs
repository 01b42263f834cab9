//! Text of an SVG, shape by shape. Coordinates have one decimal, so that the same picture is the same text.

use std::fmt::{self, Display, Write as _};

/// An SVG under way.
#[derive(Debug)]
pub(super) struct Svg {
    text: String,
}

/// Where a text stands from its point.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Anchor {
    /// It begins there.
    Start,
    /// Its middle is there.
    Middle,
    /// It ends there.
    End,
}

/// How a text looks.
#[derive(Clone, Copy, Debug)]
pub(super) struct Letters {
    /// Pixels.
    pub(super) size: f64,
    /// Whether it is bold.
    pub(super) bold: bool,
    /// Where it stands.
    pub(super) anchor: Anchor,
    /// Whether it reads from the bottom to the top.
    pub(super) upward: bool,
}

impl Letters {
    /// Plain text.
    pub(super) const fn plain(size: f64, anchor: Anchor) -> Self {
        Self { size, bold: false, anchor, upward: false }
    }

    /// Bold text.
    pub(super) const fn bold(size: f64, anchor: Anchor) -> Self {
        Self { size, bold: true, anchor, upward: false }
    }
}

/// A rectangle in pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Rect {
    pub(super) x: f64,
    pub(super) y: f64,
    pub(super) width: f64,
    pub(super) height: f64,
}

impl Svg {
    /// An empty white page.
    pub(super) fn new(width: f64, height: f64) -> Self {
        let mut svg = Self { text: String::new() };
        svg.line(format_args!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width:.0}\" height=\"{height:.0}\" \
             viewBox=\"0 0 {width:.0} {height:.0}\" font-family=\"sans-serif\" fill=\"#111\">"
        ));
        svg.line(format_args!("<rect width=\"100%\" height=\"100%\" fill=\"#fff\"/>"));
        svg
    }

    /// A line of markup as it is.
    pub(super) fn line(&mut self, markup: fmt::Arguments<'_>) {
        let _ = self.text.write_fmt(markup);
        self.text.push('\n');
    }

    /// A rectangle with these attributes, and what a pointer on it tells.
    pub(super) fn rect(&mut self, rect: Rect, attributes: impl Display, told: &str) {
        let Rect { x, y, width, height } = rect;
        let shape = format_args!(
            "<rect x=\"{x:.1}\" y=\"{y:.1}\" width=\"{width:.1}\" height=\"{height:.1}\" {attributes}"
        )
        .to_string();
        if told.is_empty() {
            self.line(format_args!("{shape}/>"));
        } else {
            self.line(format_args!("{shape}><title>{}</title></rect>", escaped(told)));
        }
    }

    /// A straight stroke.
    pub(super) fn stroke(&mut self, from: (f64, f64), to: (f64, f64), attributes: &str) {
        let ((x1, y1), (x2, y2)) = (from, to);
        self.line(format_args!("<path d=\"M{x1:.1} {y1:.1}L{x2:.1} {y2:.1}\" fill=\"none\" {attributes}/>"));
    }

    /// A text. What lies behind it is kept off by a white rim.
    pub(super) fn text(&mut self, (x, y): (f64, f64), letters: Letters, text: &str) {
        let Letters { size, bold, anchor, upward } = letters;
        let weight = if bold { " font-weight=\"bold\"" } else { "" };
        let anchor = match anchor {
            Anchor::Start => "",
            Anchor::Middle => " text-anchor=\"middle\"",
            Anchor::End => " text-anchor=\"end\"",
        };
        let turned = if upward { format!(" transform=\"rotate(-90 {x:.1} {y:.1})\"") } else { String::new() };
        self.line(format_args!(
            "<text x=\"{x:.1}\" y=\"{y:.1}\" font-size=\"{size}\"{weight}{anchor}{turned} \
             paint-order=\"stroke\" stroke=\"#fff\" stroke-width=\"2.5\" stroke-linejoin=\"round\">{}</text>",
            escaped(text)
        ));
    }

    /// The whole text.
    pub(super) fn end(mut self) -> String {
        self.line(format_args!("</svg>"));
        self.text
    }
}

/// Text that is nothing but text. Characters that XML forbids become a replacement.
fn escaped(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for character in text.chars() {
        match character {
            '<' => safe.push_str("&lt;"),
            '>' => safe.push_str("&gt;"),
            '&' => safe.push_str("&amp;"),
            '"' => safe.push_str("&quot;"),
            '\u{0}'..='\u{1f}' | '\u{fffe}' | '\u{ffff}' => safe.push('\u{fffd}'),
            other => safe.push(other),
        }
    }
    safe
}
