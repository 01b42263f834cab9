//! The committed schema is the types'.

use std::path::Path;

#[test]
fn the_committed_schema_is_up_to_date() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("schema");
    for (name, content) in turnabout_protocol::schema::FILES {
        let committed = std::fs::read_to_string(folder.join(name)).unwrap_or_default();
        assert!(
            committed == content(),
            "protocol/schema/{name} is not what the types say: `cargo run -p turnabout-protocol --example schema`"
        );
    }
}
