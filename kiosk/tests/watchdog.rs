//! What systemd hears of a window's loop: that it is ready, that it turns, and nothing once it hangs. One test: a
//! process has one such loop.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

use std::ffi::{OsStr, OsString};
use std::io::ErrorKind;
use std::os::linux::net::SocketAddrExt;
use std::os::unix::net::{SocketAddr, UnixDatagram};
use std::sync::mpsc::channel;
use std::time::{Duration, Instant};

use i_slint_backend_testing::{TestingBackend, TestingBackendOptions};
use slint::ComponentHandle;
use turnabout_kiosk::duty::watchdog::{Manager, Watch};
use turnabout_kiosk::ui::KioskWindow;

/// How often the loop says that it turns.
const EVERY: Duration = Duration::from_millis(20);
/// Far longer than anything here takes.
const PATIENCE: Duration = Duration::from_secs(30);

fn hear(socket: &UnixDatagram) -> String {
    let mut bytes = [0; 64];
    socket.set_read_timeout(Some(PATIENCE)).unwrap();
    let count = socket.recv(&mut bytes).unwrap();
    String::from_utf8(bytes[..count].to_vec()).unwrap()
}

/// Until it is ready; how often it said before that it turns does not matter.
fn ready(socket: &UnixDatagram) {
    let began = Instant::now();
    while hear(socket) != "READY=1" {
        assert!(began.elapsed() < PATIENCE, "never ready");
    }
}

/// Listens to a loop that turns, hangs, and turns again.
fn listen(socket: &UnixDatagram) {
    ready(socket);
    for _ in 0..3 {
        assert_eq!(hear(socket), "WATCHDOG=1");
    }
    let ((hangs, hung), (go_on, wait)) = (channel(), channel::<()>());
    slint::invoke_from_event_loop(move || {
        hangs.send(()).unwrap();
        wait.recv().unwrap();
    })
    .unwrap();
    hung.recv_timeout(PATIENCE).unwrap();
    socket.set_nonblocking(true).unwrap();
    while socket.recv(&mut [0; 64]).is_ok() {}
    socket.set_nonblocking(false).unwrap();
    // The patience is the silence here: ten times as long as one that turns is silent.
    socket.set_read_timeout(Some(10 * EVERY)).unwrap();
    let silence = socket.recv(&mut [0; 64]).unwrap_err();
    assert_eq!(silence.kind(), ErrorKind::WouldBlock);
    go_on.send(()).unwrap();
    assert_eq!(hear(socket), "WATCHDOG=1");
}

#[test]
fn a_loop_that_turns_is_heard_and_one_that_hangs_is_not() {
    let options =
        TestingBackendOptions { mock_time: false, threading: true, renderer_name: Some("software".into()) };
    slint::platform::set_platform(Box::new(TestingBackend::new(options))).unwrap();
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("notify");
    let in_folder = UnixDatagram::bind(&path).unwrap();
    let name = format!("turnabout-watchdog-{}", std::process::id());
    let nowhere = UnixDatagram::bind_addr(&SocketAddr::from_abstract_name(&name).unwrap()).unwrap();
    let window = KioskWindow::new().unwrap();
    let _first = Watch::begin(Manager::at(path.as_os_str(), Some(EVERY)).unwrap());
    let at_name = OsString::from(format!("@{name}"));
    // Nobody watches this one: it hears that the window is ready and nothing more.
    let _second = Watch::begin(Manager::at(&at_name, None).unwrap());
    let _nobody = Watch::begin(Manager::at(OsStr::new("/nowhere/at/all"), Some(EVERY)).unwrap());
    let listener = std::thread::spawn(move || {
        let heard = std::panic::catch_unwind(|| listen(&in_folder));
        let ready = std::panic::catch_unwind(|| assert_eq!(hear(&nowhere), "READY=1"));
        slint::quit_event_loop().unwrap();
        (heard.is_ok(), ready.is_ok())
    });
    window.run().unwrap();
    assert_eq!(listener.join().unwrap(), (true, true));
}
