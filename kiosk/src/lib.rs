pub mod ui {
    slint::include_modules!();
}
