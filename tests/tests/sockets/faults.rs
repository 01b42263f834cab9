//! Frames that cannot be taken: each has its answer, and the floor is untouched.

use tokio_tungstenite::tungstenite::{self, Message, client::IntoClientRequest, http::HeaderValue};
use turnabout_protocol::command::Act;
use turnabout_protocol::frame::{Fault, PROTOCOL, ToServer, limits};
use turnabout_protocol::ids::GroupId;
use turnabout_protocol::role::Role;
use turnabout_protocol::units::FloorMs;
use turnabout_tests::harness::{Display, House, command, hello, socket_url};

/// RFC 6455, section 7.4.1.
const POLICY: Option<u16> = Some(1008);
/// RFC 6455, section 7.4.1.
const TOO_BIG: Option<u16> = Some(1009);

#[tokio::test]
async fn a_frame_of_no_known_shape_is_answered_with_its_place_and_the_socket_lives_on() {
    let house = House::open();
    let mut coach = Display::coach(&house, "coach-1").await;
    for (text, line, column) in [
        ("{\"frame\":\"time\",\n  \"t1\":}", 2, 8),
        ("", 1, 1),
        // JSON, but of no known shape: the whole of it.
        ("{\"frame\":\"time\",\"t1\":\"noon\"}", 1, 1),
        ("{\"frame\":\"dance\"}", 1, 16),
        ("{\"frame\":\"time\",\"t1\":1,\"t9\":2}", 1, 1),
    ] {
        coach.send_text(text).await;
        assert_eq!(coach.fault().await, Fault::Malformed { line, column }, "{text}");
    }
    coach.send_message(Message::binary(vec![0, 1, 2])).await;
    assert_eq!(coach.fault().await, Fault::NotText);
    let again = hello(coach.device, Role::Board, "board");
    coach.send(&again).await;
    assert_eq!(coach.fault().await, Fault::HelloTwice);

    assert!(matches!(coach.until_time(1).await.as_slice(), []));
    assert_eq!(house.gate().handed(), 0, "the floor is untouched");
    house.shut().await;
}

#[tokio::test]
async fn a_frame_that_is_too_long_closes_its_socket() {
    let house = House::open();
    let mut coach = Display::coach(&house, "coach-1").await;
    coach.send_text(&" ".repeat(limits::FRAME_TO_SERVER)).await;
    assert!(matches!(coach.fault().await, Fault::Malformed { .. }), "the longest that is read");
    coach.send_text(&" ".repeat(limits::FRAME_TO_SERVER + 1)).await;
    assert_eq!(coach.fault().await, Fault::Oversize);
    assert_eq!(coach.closed().await, TOO_BIG);
    house.shut().await;
}

#[tokio::test]
async fn a_display_of_another_version_is_told_which() {
    let house = House::open();
    for text in [
        format!(
            "{{\"frame\":\"hello\",\"protocol\":{},\"device\":\"00000000-0000-4000-8000-000000000000\",\
             \"role\":{{\"is\":\"board\"}},\"topic\":\"board\"}}",
            PROTOCOL + 1
        ),
        // A later version may look otherwise.
        format!("{{\"frame\":\"hello\",\"protocol\":{},\"who\":[]}}", PROTOCOL + 1),
    ] {
        let mut display = Display::connect(&house).await;
        display.send_text(&text).await;
        let version = Fault::Version { supported: PROTOCOL, found: PROTOCOL + 1 };
        assert_eq!(display.fault().await, version, "{text}");
        assert_eq!(display.closed().await, POLICY);
    }
    house.shut().await;
}

#[tokio::test]
async fn nobody_speaks_before_hello() {
    let house = House::open();
    let act = Act::Pause { group: GroupId(1) };
    for frame in [ToServer::Time { t1: 1 }, ToServer::Command(command(FloorMs(0), act))] {
        let mut display = Display::connect(&house).await;
        display.send_text("{").await;
        assert!(matches!(display.fault().await, Fault::Malformed { .. }), "lives on");
        display.send(&frame).await;
        assert_eq!(display.fault().await, Fault::HelloFirst);
        assert_eq!(display.closed().await, POLICY);
    }
    assert_eq!(house.gate().handed(), 0, "the floor is untouched");
    house.shut().await;
}

#[tokio::test]
async fn a_display_watches_only_what_is_there_and_what_its_role_may_see() {
    let house = House::open();
    let kiosk = |key: &str| Role::Station { stations: vec![key.parse().unwrap()] };
    let coach = |key: &str| Role::Coach { coach: key.parse().unwrap() };
    for (role, topic, fault) in [
        (kiosk("bench-1"), "station/row-1", Fault::TopicNotAllowed),
        (kiosk("bench-1"), "coach/coach-1", Fault::TopicNotAllowed),
        (Role::Board, "coach/coach-1", Fault::TopicNotAllowed),
        (coach("coach-1"), "coach/coach-2", Fault::TopicNotAllowed),
        (kiosk("bench-9"), "station/bench-9", Fault::UnknownTopic),
        (coach("coach-9"), "board", Fault::UnknownTopic),
        (Role::Station { stations: vec![] }, "board", Fault::UnknownTopic),
        (coach("coach-1"), "station/bench-9", Fault::UnknownTopic),
    ] {
        let mut display = Display::connect(&house).await;
        let hello = hello(display.device, role, topic);
        display.send(&hello).await;
        assert_eq!(display.fault().await, fault, "{hello:?}");
        assert_eq!(display.closed().await, POLICY);
    }
    house.shut().await;
}

#[tokio::test]
async fn a_flood_closes_its_socket_and_no_other() {
    let house = House::open();
    let (mut flood, mut other) =
        (Display::coach(&house, "coach-1").await, Display::coach(&house, "coach-2").await);
    flood.send_all(&vec![ToServer::Time { t1: 1 }; 500]).await;
    assert_eq!(flood.fault().await, Fault::Flood);
    assert!(matches!(flood.closed().await, POLICY | None), "closed, or cut where the rest was not read");
    other.view().await;
    assert!(other.until_time(1).await.is_empty());
    house.shut().await;
}

#[tokio::test]
async fn a_page_of_another_origin_gets_no_socket() {
    let house = House::open();
    let address = house.server().address();
    for (origin, status) in [
        (format!("http://{address}"), 101),
        (format!("http://localhost:{}", address.port()), 101),
        (format!("https://{address}"), 403),
        ("http://example.org".to_owned(), 403),
        ("null".to_owned(), 403),
    ] {
        let mut request = socket_url(address).into_client_request().unwrap();
        request.headers_mut().insert("Origin", HeaderValue::from_str(&origin).unwrap());
        let found = match tokio_tungstenite::connect_async(request).await {
            Ok((_, response)) => response.status(),
            Err(tungstenite::Error::Http(response)) => response.status(),
            Err(other) => panic!("{other}"),
        };
        assert_eq!(found, status, "{origin}");
    }
    house.shut().await;
}
