//! A programme that a coach enters on a page: looked at, taken once it is durable, and still there after a restart.

use serde_json::{Value, json};
use turnabout_protocol::command::Act;
use turnabout_protocol::ids::{ClientId, GroupId, StationId};
use turnabout_protocol::view::View;
use turnabout_server::floor::config::{Client, Person};
use turnabout_server::live::{Pace, Whose};
use turnabout_tests::harness::{Display, House, Reply, Setting, files, post_as};

use crate::notes::until_saving;

const PATH: &str = "/coaches/coach-1/programme";

fn json_of(reply: &Reply) -> Value {
    serde_json::from_str(&reply.body).unwrap_or_else(|error| panic!("{error}: {}", reply.body))
}

async fn shown(house: &House) -> Value {
    let reply = house.request("GET", PATH, "").await;
    assert_eq!((reply.status, reply.header("cache-control")), (200, Some("no-store")), "{}", reply.body);
    json_of(&reply)
}

/// The programme that the floor has with one more client in it.
fn with_client(shown: &Value, number: u32, name: &str) -> String {
    let mut programme = shown["programme"].clone();
    programme["client"].as_array_mut().unwrap().push(json!({ "number": number, "name": name }));
    json!({ "revision": shown["revision"], "programme": programme }).to_string()
}

#[tokio::test]
async fn a_page_is_shown_the_programme_and_what_there_is_to_choose_from() {
    let house = House::open();
    let shown = shown(&house).await;
    assert_eq!((&shown["revision"], &shown["set"], &shown["begun"]), (&json!(3), &Value::Null, &json!([])));
    assert_eq!(shown["programme"]["client"][0], json!({ "number": 1, "name": "Chidi", "regular": true }));
    assert_eq!(shown["programme"]["group"][1]["clients"], json!([3, 4]));
    assert_eq!(shown["floor"]["coaches"][1], json!({ "key": "coach-2", "name": "Bram" }));
    assert_eq!(shown["floor"]["exercises"][0]["name"], json!({ "en": "Press-up", "de": "Press-up" }));
    assert_eq!(shown["floor"]["limits"]["group_clients"], 4);
    for path in ["/coaches/coach-9/programme", "/coaches/No%20key/programme"] {
        assert_eq!(house.request("GET", path, "").await.status, 404, "{path}");
    }
    house.shut().await;
}

#[tokio::test]
async fn a_dry_run_changes_nothing_and_saving_is_seen_by_everybody() {
    let house = House::open();
    let before = shown(&house).await;
    let body = with_client(&before, 5, "Greta");
    let reply = house.request("POST", &format!("{PATH}?dry-run"), &body).await;
    assert_eq!(
        (reply.status, json_of(&reply)),
        (200, json!({ "revision": 3, "differs": true, "hints": [] }))
    );
    assert_eq!(shown(&house).await, before);

    let reply = house.request("POST", PATH, &body).await;
    let revision = json_of(&reply)["revision"].clone();
    assert_eq!((reply.status, &json_of(&reply)["differs"]), (200, &json!(true)));
    let after = shown(&house).await;
    assert_eq!(after["revision"], revision);
    assert_eq!(after["set"]["coach"], "coach-1");
    assert_eq!(after["programme"]["client"][4], json!({ "number": 5, "name": "Greta" }));
    // The same again is no change, and no entry.
    let again = json!({ "revision": revision, "programme": after["programme"] }).to_string();
    let reply = house.request("POST", PATH, &again).await;
    assert_eq!(json_of(&reply), json!({ "revision": revision, "differs": false, "hints": [] }));

    // A name alone is a change: displays show it at once, and whoever saw the old one must look again.
    let mut coach = Display::coach(&house, "coach-1").await;
    coach.view().await;
    let mut renamed = after["programme"].clone();
    renamed["client"][0]["name"] = json!("Zeno");
    let renamed = json!({ "revision": revision, "programme": renamed }).to_string();
    assert_eq!(json_of(&house.request("POST", PATH, &renamed).await)["differs"], true);
    let View::Coach(page) = coach.view().await else { panic!("a coach's page") };
    assert!(page.groups[0].clients.iter().any(|client| client.name == "Zeno"), "{:?}", page.groups[0]);
    assert_eq!(house.request("POST", PATH, &renamed).await.status, 409);
    house.shut().await;
}

#[tokio::test]
async fn mistakes_are_a_problem_with_their_fields() {
    let house = House::open();
    let mut body = shown(&house).await;
    body["programme"]["group"][0]["coach"] = json!("coach-9");
    body["programme"]["client"][1]["name"] = json!("");
    let body = json!({ "revision": body["revision"], "programme": body["programme"] }).to_string();
    let reply = house.request("POST", PATH, &body).await;
    assert_eq!((reply.status, reply.header("content-type")), (422, Some("application/problem+json")));
    let problem = json_of(&reply);
    assert_eq!(problem["type"], "/problems/programme");
    let mistakes = problem["mistakes"].as_array().unwrap();
    assert_eq!(mistakes.len(), 2, "{problem}");
    assert_eq!(mistakes[0]["field"], "client[2].name");
    let expect = json!({
        "field": "group[1].coach",
        "about": "value",
        "wrong": { "because": "no_coach", "named": "coach-9" },
        "help": { "is": "meant", "word": "coach-1" },
    });
    assert_eq!(mistakes[1], expect);
    house.shut().await;
}

#[tokio::test]
async fn whoever_saw_an_older_programme_is_told_who_changed_it() {
    let house = House::open();
    let seen = shown(&house).await;
    let by_bram = "/coaches/coach-2/programme";
    assert_eq!(house.request("POST", by_bram, &with_client(&seen, 5, "Greta")).await.status, 200);
    for path in [PATH.to_owned(), format!("{PATH}?dry-run")] {
        let reply = house.request("POST", &path, &with_client(&seen, 6, "Hana")).await;
        let problem = json_of(&reply);
        assert_eq!((reply.status, &problem["type"]), (409, &json!("/problems/programme-changed")), "{path}");
        assert_eq!(problem["set"]["coach"], "coach-2");
        assert!(problem["set"]["when"].as_str().unwrap().contains('T'), "{problem}");
    }
    assert_eq!(shown(&house).await["programme"]["client"].as_array().unwrap().len(), 5);
    house.shut().await;
}

#[tokio::test]
async fn a_group_that_has_begun_stays_as_it_is() {
    let house = House::open();
    let mut coach = Display::coach(&house, "coach-1").await;
    let clients = vec![ClientId(1), ClientId(2)];
    crate::notes::accepted(&mut coach, Act::Arrive { group: GroupId(1), clients }).await;
    let stations = vec![StationId(1), StationId(2)];
    let take = Act::TakeStations { group: GroupId(1), block: 0, stations, revision: 0, despite: None };
    crate::notes::accepted(&mut coach, take).await;
    let seen = shown(&house).await;
    assert_eq!(seen["begun"], json!([1]));
    let mut body = json!({ "revision": seen["revision"], "programme": seen["programme"] });
    body["programme"]["group"][0]["block"][0]["rounds"] = json!(5);
    let reply = house.request("POST", PATH, &body.to_string()).await;
    let problem = json_of(&reply);
    assert_eq!((reply.status, &problem["type"]), (409, &json!("/problems/in-use")));
    assert_eq!(problem["in_use"], json!([1]));
    // The other group is free to change.
    body["programme"]["group"][0]["block"][0]["rounds"] = json!(2);
    body["programme"]["group"][1]["block"][0]["rounds"] = json!(5);
    assert_eq!(house.request("POST", PATH, &body.to_string()).await.status, 200);
    house.shut().await;
}

#[tokio::test]
async fn only_pages_of_this_server_may_ask_and_no_more_than_a_file_holds() {
    let house = House::open();
    let address = house.server().address();
    let host = address.to_string();
    let own = format!("http://{address}");
    let body = with_client(&shown(&house).await, 5, "Greta");
    for (host, origin, status) in [
        (host.as_str(), Some("http://elsewhere.example"), 403),
        (host.as_str(), Some("null"), 403),
        ("elsewhere.example", None, 403),
        ("elsewhere.example", Some(own.as_str()), 403),
        (host.as_str(), Some(own.as_str()), 200),
    ] {
        let reply = post_as(address, PATH, host, origin, &body).await;
        assert_eq!(reply.status, status, "{host} {origin:?}: {}", reply.body);
    }
    for (body, status) in [
        (String::new(), 422),
        ("{".to_owned(), 422),
        ("{\"revision\":3}".to_owned(), 422),
        ("{\"revision\":-1,\"programme\":{}}".to_owned(), 422),
        ("{\"revision\":3,\"programme\":{},\"more\":1}".to_owned(), 422),
        (format!("{{\"revision\":3,\"programme\":\"{}\"}}", "x".repeat(1 << 20)), 413),
    ] {
        let reply = house.request("POST", PATH, &body).await;
        assert_eq!(reply.status, status, "{:.40}: {}", body, reply.body);
        assert_eq!(reply.header("content-type"), Some("application/problem+json"));
    }
    assert_eq!(house.request("POST", &format!("{PATH}?wet-run"), &body).await.status, 404);
    house.shut().await;
}

#[tokio::test]
async fn nothing_is_answered_before_it_is_on_disk_and_what_fails_was_never_so() {
    let house = House::open();
    let seen = shown(&house).await;
    house.gate().shut();
    let handed = house.gate().handed();
    let body = with_client(&seen, 5, "Greta");
    let mut entering = Box::pin(house.request("POST", PATH, &body));
    tokio::select! {
        reply = &mut entering => panic!("answered before it is durable: {}", reply.body),
        () = house.gate().wait_for(handed + 1) => {}
    }
    assert_eq!(shown(&house).await, seen, "nobody sees what is not on disk");
    house.gate().limit_pages(Some(1)).await;
    house.gate().open();
    let reply = entering.await;
    if reply.status == 503 {
        assert_eq!(json_of(&reply)["type"], "/problems/not-saving");
        assert_eq!(shown(&house).await, seen);
    } else {
        // The pages there were sufficed.
        assert_eq!(reply.status, 200, "{}", reply.body);
    }
    house.gate().limit_pages(None).await;
    until_saving(&house).await;
    let body = with_client(&shown(&house).await, 6, "Hana");
    assert_eq!(house.request("POST", PATH, &body).await.status, 200);
    let names = shown(&house).await["programme"]["client"].to_string();
    assert!(names.contains("Hana"), "{names}");
    house.shut().await;
}

#[tokio::test]
async fn what_was_entered_is_there_after_a_restart_until_the_file_changes() {
    let house = House::open();
    assert_eq!(*house.server().programme(), Whose::File);
    let seen = shown(&house).await;
    let mut body: Value = serde_json::from_str(&with_client(&seen, 5, "Greta")).unwrap();
    body["programme"]["client"][0]["name"] = json!("Zeno");
    assert_eq!(house.request("POST", PATH, &body.to_string()).await.status, 200);
    let entered = shown(&house).await;

    // Twice: what the file said is known after a restart too.
    let house = house.restart().await.restart().await;
    let Whose::Entered { coach: Some(coach), .. } = house.server().programme() else {
        panic!("{:?}", house.server().programme());
    };
    assert_eq!(coach.as_str(), "coach-1");
    let told = house.server().programme().to_string();
    assert!(told.starts_with("the programme is what coach-1 entered at "), "{told}");
    let now = shown(&house).await;
    assert_eq!((&now["programme"], &now["revision"]), (&entered["programme"], &entered["revision"]));

    // Without a file what the journal has goes on.
    let mut setting = Setting::default();
    setting.files.programme = None;
    let house = house.restart_with(setting).await;
    assert_eq!(shown(&house).await["programme"], entered["programme"]);

    let mut setting = Setting { pace: Pace::Driven, ..Setting::default() };
    let programme = setting.files.programme.as_mut().unwrap();
    programme.clients.insert(ClientId(9), Client { show_load: true, ..Client::default() });
    setting.files.names.insert(Person::Client(ClientId(9)), "Hana".to_owned());
    let house = house.restart_with(setting.clone()).await;
    assert_eq!(*house.server().programme(), Whose::File);
    let filed = shown(&house).await["programme"]["client"].clone();
    assert_eq!((filed.as_array().unwrap().len(), &filed[4]["name"]), (5, &json!("Hana")));
    assert_eq!(filed[0]["name"], "Chidi", "the file's names come with it");
    // And taken once, it is the file that stands.
    let house = house.restart_with(setting).await;
    assert_eq!(*house.server().programme(), Whose::File);
    house.shut().await;
    assert_eq!(files().programme.unwrap().clients.len(), 4);
}

#[tokio::test]
async fn of_a_table_every_row_is_told_before_anything_is_taken() {
    const CSV: &str = "/coaches/coach-1/programme/csv";
    let house = House::open();
    let before = shown(&house).await;
    let text = "number,name,unit\n1,Chidi,\n5,Greta,lb\n6,Hana,stone\n";
    let ask = async |query: &str, text: &str| house.request("POST", &format!("{CSV}{query}"), text).await;
    let told = json_of(&ask("?dry-run=&take=good", text).await);
    let rows = json!([
        { "line": 2, "fate": "same" },
        { "line": 3, "fate": "new" },
        { "line": 4, "fate": "refused", "reasons": [
            {
                "column": "unit",
                "about": "value",
                "wrong": {
                    "because": "value",
                    "found": { "is": "text", "text": "stone" },
                    "allowed": { "is": "one_of", "choices": ["kg", "lb"] },
                },
            },
        ] },
    ]);
    let expect = json!({ "kind": "clients", "rows": rows, "good": 2, "revision": 3, "taken": false });
    assert_eq!(told, expect);
    // All or none, unless the coach says otherwise.
    for query in ["", "?revision=3", "?revision=3&take=all"] {
        assert_eq!(json_of(&ask(query, text).await), expect, "{query}");
    }
    assert_eq!(shown(&house).await, before);
    assert_eq!(ask("?revision=2&take=good", text).await.status, 409);
    let taken = json_of(&ask("?revision=3&take=good", text).await);
    assert_eq!((&taken["taken"], &taken["good"]), (&json!(true), &json!(2)));
    let after = shown(&house).await;
    assert_eq!((&after["revision"], &after["set"]["coach"]), (&taken["revision"], &json!("coach-1")));
    assert_eq!(after["programme"]["client"][4], json!({ "number": 5, "name": "Greta", "unit": "lb" }));
    assert_eq!(after["programme"]["client"].as_array().unwrap().len(), 5);

    let problem = ask("?dry-run=", "number,nmae\n1,x\n").await;
    assert_eq!((problem.status, &json_of(&problem)["type"]), (422, &json!("/problems/table")));
    assert_eq!(json_of(&problem)["mistakes"][0]["help"], json!({ "is": "meant", "word": "name" }));
    assert_eq!(ask("?dry-run=", &format!("number\n{}", "1\n".repeat(600_000))).await.status, 413);
    for query in ["?take=some", "?revision=x", "?else=1"] {
        assert_eq!(ask(query, text).await.status, 404, "{query}");
    }
    house.shut().await;
}
