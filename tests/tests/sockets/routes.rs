//! What the server answers over plain HTTP.

use serde_json::{Value, json};
use tokio::io::{AsyncReadExt, AsyncWriteExt};
use tokio::net::TcpStream;
use turnabout_protocol::schema;
use turnabout_protocol::text::Language;
use turnabout_tests::harness::House;

#[tokio::test]
async fn the_floor_says_how_it_is_and_what_a_display_can_be_set_to() {
    let house = House::open();
    let health = house.request("GET", "/health", "").await;
    assert_eq!((health.status, health.body.as_str()), (200, "{\"sequence\":3}"));
    let about: Value = serde_json::from_str(&house.request("GET", "/floor.json", "").await.body).unwrap();
    let expect = json!({
        "name": "Invented hall",
        "coaches": [{"key": "coach-1", "name": "Ayla"}, {"key": "coach-2", "name": "Bram"}],
        "stations": [{"key": "bench-1", "name": "Bench 1"}, {"key": "row-1", "name": "Row 1"}],
    });
    assert_eq!(about, expect);
    house.shut().await;
}

#[tokio::test]
async fn schemas_and_texts_are_served_as_they_are_committed() {
    let house = House::open();
    for (name, make) in schema::FILES {
        let reply = house.request("GET", &format!("/schema/{name}"), "").await;
        assert_eq!((reply.status, reply.header("content-type")), (200, Some("application/schema+json")));
        assert_eq!(reply.body, make());
    }
    for language in Language::ALL {
        let reply = house.request("GET", &format!("/text/{}.json", language.tag()), "").await;
        assert_eq!((reply.status, reply.header("content-type")), (200, Some("application/json")));
        assert_eq!(reply.body, language.source());
        assert_eq!(reply.header("x-content-type-options"), Some("nosniff"));
    }
    house.shut().await;
}

#[tokio::test]
async fn who_can_unpack_gets_less_and_who_cannot_gets_it_as_it_is() {
    let house = House::open();
    let language = Language::En;
    let ask = async |accept: &str| {
        let mut stream = TcpStream::connect(house.address()).await.unwrap();
        let head = format!(
            "GET /text/{}.json HTTP/1.1\r\nHost: floor\r\n{accept}Connection: close\r\n\r\n",
            language.tag()
        );
        stream.write_all(head.as_bytes()).await.unwrap();
        let mut answer = Vec::new();
        stream.read_to_end(&mut answer).await.unwrap();
        let end = answer.windows(4).position(|four| four == b"\r\n\r\n").unwrap();
        (String::from_utf8(answer[..end].to_vec()).unwrap(), answer.split_off(end + 4))
    };
    let (head, body) = ask("Accept-Encoding: gzip\r\n").await;
    assert!(head.contains("content-encoding: gzip"), "{head}");
    assert!(body.len() * 2 < language.source().len(), "{} of {}", body.len(), language.source().len());
    let (head, body) = ask("").await;
    assert!(!head.contains("content-encoding"), "{head}");
    assert_eq!(body, language.source().as_bytes());
    house.shut().await;
}

#[tokio::test]
async fn what_cannot_be_had_is_a_problem() {
    let house = House::open();
    let long = format!("{{\"by_ms\":{}1}}", " ".repeat(2_000));
    for (method, path, body, status) in [
        ("GET", "/nothing", "", 404),
        ("GET", "/schema/nothing.json", "", 404),
        ("GET", "/text/xx.json", "", 404),
        ("POST", "/health", "", 405),
        ("POST", "/clock/advance", "", 422),
        ("POST", "/clock/advance", "{\"by_ms\":0}", 422),
        ("POST", "/clock/advance", "{\"by_ms\":-5}", 422),
        ("POST", "/clock/advance", "{\"by_ms\":86400001}", 422),
        ("POST", "/clock/advance", "{\"by_ms\":1,\"to\":2}", 422),
        ("POST", "/clock/advance", &long, 422),
    ] {
        let reply = house.request(method, path, body).await;
        assert_eq!(reply.status, status, "{method} {path} {body}");
        // RFC 9457, sections 3 and 6.1.
        assert_eq!(reply.header("content-type"), Some("application/problem+json"), "{method} {path}");
        let problem: Value = serde_json::from_str(&reply.body).unwrap();
        assert_eq!(problem["status"], status);
        assert!(problem["type"].is_string() && problem["title"].is_string(), "{problem}");
    }
    house.shut().await;
}
