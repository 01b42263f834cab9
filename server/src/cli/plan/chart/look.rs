//! Colours and patterns. Every colour has a label beside it, so that nothing is told by colour alone.

use super::svg::Svg;

/// The hues of Okabe and Ito (Color Universal Design, 2002), which people with any colour vision tell apart; black is
/// left to the text. The last is a grey, which is no group's.
const HUES: [&str; 8] =
    ["#e69f00", "#56b4e9", "#009e73", "#f0e442", "#0072b2", "#d55e00", "#cc79a7", "#999999"];

/// Borders of groups beyond the number of hues, so that two of one hue differ.
const DASHES: [&str; 3] = ["", " stroke-dasharray=\"4 2\"", " stroke-dasharray=\"1.5 1.5\""];

/// Hues that groups have.
const OF_GROUPS: usize = HUES.len() - 1;

/// Attributes of a set of a group, by its place among them.
pub(super) fn set(group: usize, leg: usize) -> String {
    in_hue(group % OF_GROUPS, leg) + DASHES[group / OF_GROUPS % DASHES.len()]
}

/// Attributes of a set of nobody, for a legend.
pub(super) fn sample(leg: usize) -> String {
    in_hue(OF_GROUPS, leg)
}

fn in_hue(number: usize, leg: usize) -> String {
    let hue = HUES[number];
    let fill = match leg {
        0 => format!("fill=\"{hue}\" fill-opacity=\"0.6\""),
        1 => format!("fill=\"url(#second{number})\""),
        _ => format!("fill=\"url(#further{number})\""),
    };
    format!("{fill} stroke=\"{hue}\" stroke-width=\"1.5\"")
}

/// Attributes of a time in which hands change a load.
pub(super) const CHANGE: &str = "fill=\"url(#change)\" stroke=\"#555\" stroke-width=\"0.5\"";
/// Attributes of a wait between two exercises.
pub(super) const WAIT: &str = "fill=\"url(#wait)\" stroke=\"#555\" stroke-width=\"0.5\"";
/// Attributes of a rest beyond its longest.
pub(super) const OVERRUN: &str = "fill=\"url(#overrun)\" stroke=\"#b00020\" stroke-width=\"1\"";
/// Attributes of a time in which something cannot be used.
pub(super) const BUSY: &str = "fill=\"#c8c8c8\"";

/// The patterns that the attributes name.
pub(super) fn patterns(svg: &mut Svg) {
    svg.line(format_args!("<defs>"));
    for (number, hue) in HUES.iter().enumerate() {
        svg.line(format_args!(
            "<pattern id=\"second{number}\" width=\"5\" height=\"5\" patternUnits=\"userSpaceOnUse\" \
             patternTransform=\"rotate(45)\"><rect width=\"5\" height=\"5\" fill=\"#fff\"/>\
             <rect width=\"2.2\" height=\"5\" fill=\"{hue}\"/></pattern>"
        ));
        svg.line(format_args!(
            "<pattern id=\"further{number}\" width=\"6\" height=\"6\" patternUnits=\"userSpaceOnUse\">\
             <rect width=\"6\" height=\"6\" fill=\"#fff\"/><path d=\"M0 3H6M3 0V6\" stroke=\"{hue}\" \
             stroke-width=\"1.6\"/></pattern>"
        ));
    }
    svg.line(format_args!(
        "<pattern id=\"change\" width=\"4\" height=\"4\" patternUnits=\"userSpaceOnUse\">\
         <rect width=\"4\" height=\"4\" fill=\"#fff\"/><path d=\"M0 2H4\" stroke=\"#555\"/></pattern>"
    ));
    svg.line(format_args!(
        "<pattern id=\"wait\" width=\"4\" height=\"4\" patternUnits=\"userSpaceOnUse\">\
         <rect width=\"4\" height=\"4\" fill=\"#fff\"/><circle cx=\"2\" cy=\"2\" r=\"1.1\" fill=\"#333\"/></pattern>"
    ));
    svg.line(format_args!(
        "<pattern id=\"overrun\" width=\"5\" height=\"5\" patternUnits=\"userSpaceOnUse\" \
         patternTransform=\"rotate(-45)\"><rect width=\"5\" height=\"5\" fill=\"#fff\"/>\
         <rect width=\"2\" height=\"5\" fill=\"#b00020\"/></pattern>"
    ));
    svg.line(format_args!("</defs>"));
}
