//! Compiles the faces.
fn main() {
    slint_build::compile("ui/kiosk.slint").expect("the faces compile");
}
