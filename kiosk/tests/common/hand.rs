//! A hand on a window whose loop runs in another thread.

use std::net::TcpListener;
use std::sync::mpsc::channel;
use std::time::Instant;

use i_slint_backend_testing::{AccessibleRole, ElementHandle, TestingBackend, TestingBackendOptions};
use slint::{ComponentHandle, PhysicalSize, Weak};
use turnabout_kiosk::ui::KioskWindow;

use crate::server::PATIENCE;

/// A window on a screen that is only memory, whose loop goes by the real time.
pub(crate) fn window() -> KioskWindow {
    let options =
        TestingBackendOptions { mock_time: false, threading: true, renderer_name: Some("software".into()) };
    slint::platform::set_platform(Box::new(TestingBackend::new(options))).unwrap();
    let window = KioskWindow::new().unwrap();
    window.window().set_size(PhysicalSize::new(1920, 1080));
    window
}

/// Where the test's own server listens, for tokio to take over.
pub(crate) fn listener() -> TcpListener {
    let listener = TcpListener::bind(("127.0.0.1", 0)).unwrap();
    listener.set_nonblocking(true).unwrap();
    listener
}

/// Runs the window's loop until somebody is through with it who sits in another thread, on a runtime of his own.
pub(crate) fn used_by<F: Future<Output = ()>>(
    window: &KioskWindow,
    user: impl FnOnce() -> F + Send + 'static,
) {
    let user = std::thread::spawn(move || {
        let _quit = Quit;
        let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build().unwrap();
        runtime.block_on(async { user().await });
    });
    window.run().unwrap();
    user.join().unwrap();
}

/// Ends the window's loop, whatever becomes of the test's thread.
struct Quit;

impl Drop for Quit {
    fn drop(&mut self) {
        slint::quit_event_loop().unwrap();
    }
}

/// Asks the window's thread until something labelled so is on the screen; then presses it, if told so.
pub(crate) fn find(window: &Weak<KioskWindow>, label: &str, press: bool) {
    let began = Instant::now();
    loop {
        let (answer, answered) = channel();
        let wanted = label.to_owned();
        window
            .upgrade_in_event_loop(move |window| {
                // A button and what is written on it may be called the same.
                let button =
                    |element: &ElementHandle| element.accessible_role() == Some(AccessibleRole::Button);
                let element = ElementHandle::find_by_accessible_label(&window, &wanted)
                    .find(|element| !press || button(element));
                if let Some(element) = element.as_ref().filter(|_| press) {
                    element.invoke_accessible_default_action();
                }
                answer.send(element.is_some()).unwrap();
            })
            .unwrap();
        if answered.recv_timeout(PATIENCE).unwrap() {
            return;
        }
        assert!(began.elapsed() < PATIENCE, "{label} never came");
    }
}
