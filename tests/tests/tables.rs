//! Tables as another program writes them: Python's csv module, in each of its dialects, read by the server's page of
//! clients.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on must stop")]

use std::collections::BTreeSet;
use std::path::Path;
use std::process::Command;

use serde_json::{Value, json};
use turnabout_tests::harness::House;
use turnabout_tests::outside;

#[tokio::test]
async fn what_pythons_csv_module_writes_is_taken_row_by_row() {
    let Some(python) = outside::python() else { return };
    let folder = tempfile::tempdir().unwrap();
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("outside/write_tables.py");
    let output = Command::new(python).arg(script).arg(folder.path()).output().unwrap();
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let rows: Vec<Vec<String>> = serde_json::from_slice(&output.stdout).unwrap();
    let mut read = BTreeSet::new();
    for file in std::fs::read_dir(folder.path()).unwrap() {
        let file = file.unwrap().path();
        let text = std::fs::read_to_string(&file).unwrap();
        let house = House::open();
        let told = house.request("POST", "/coaches/coach-1/programme/csv?dry-run=", &text).await;
        let told: Value = serde_json::from_str(&told.body).unwrap();
        assert_eq!(
            (&told["good"], &told["taken"]),
            (&json!(rows.len() - 1), &json!(false)),
            "{file:?}: {told}"
        );
        let path = format!("/coaches/coach-1/programme/csv?revision={}", told["revision"]);
        let taken: Value = serde_json::from_str(&house.request("POST", &path, &text).await.body).unwrap();
        assert_eq!(taken["taken"], true, "{file:?}: {taken}");
        let shown = house.request("GET", "/coaches/coach-1/programme", "").await;
        let shown: Value = serde_json::from_str(&shown.body).unwrap();
        for row in rows.iter().skip(1) {
            let clients = shown["programme"]["client"].as_array().unwrap();
            let client = clients.iter().find(|client| client["number"].as_u64() == row[0].parse().ok());
            let client = client.unwrap_or_else(|| panic!("{file:?}: no {}", row[0]));
            assert_eq!(client["name"], row[1], "{file:?}");
            assert_eq!(client["unit"].as_str().unwrap_or_default(), row[2], "{file:?}");
            assert_eq!(client["screening"]["on"].as_str().unwrap_or_default(), row[5], "{file:?}");
        }
        read.insert(file.file_stem().unwrap().to_owned());
        house.shut().await;
    }
    assert_eq!(read.len(), 4, "every dialect: {read:?}");
}
