//! Compiles the faces.
fn main() {
    // Element names are needed by the tests and by nothing else; they cost a few kilobytes.
    let debug = std::env::var("PROFILE").is_ok_and(|profile| profile == "debug");
    let config =
        slint_build::CompilerConfiguration::new().with_style("fluent-dark".into()).with_debug_info(debug);
    slint_build::compile_with_config("ui/kiosk.slint", config).expect("the faces compile");
}
