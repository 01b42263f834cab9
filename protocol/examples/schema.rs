//! Writes the schema files anew: `cargo run -p turnabout-protocol --example schema`.

use std::path::Path;

fn main() -> std::io::Result<()> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("schema");
    std::fs::create_dir_all(&folder)?;
    for (name, content) in turnabout_protocol::schema::FILES {
        std::fs::write(folder.join(name), content())?;
    }
    Ok(())
}
