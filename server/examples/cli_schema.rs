//! Writes the schema files of the command line's answers anew:
//! `cargo run -p turnabout-server --example cli_schema`.

use std::path::Path;

fn main() -> std::io::Result<()> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("schema");
    std::fs::create_dir_all(&folder)?;
    for (name, content) in turnabout_server::cli::schema::FILES {
        std::fs::write(folder.join(name), content())?;
    }
    Ok(())
}
