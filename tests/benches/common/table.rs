//! Tables as the page beside the benches shows them.

/// Prints a table that can be copied into the page as it is.
pub(crate) fn print(title: &str, head: &[&str], rows: &[Vec<String>]) {
    println!("\n{title}\n");
    let width = |column: usize| {
        let cells = rows.iter().filter_map(|row| row.get(column)).map(String::len);
        cells.chain([head[column].len()]).max().unwrap_or_default()
    };
    let widths: Vec<usize> = (0..head.len()).map(width).collect();
    let line = |cells: &mut dyn Iterator<Item = &str>| {
        let padded = cells.zip(&widths).map(|(cell, width)| format!(" {cell:<width$} |"));
        println!("|{}", padded.collect::<String>());
    };
    line(&mut head.iter().copied());
    println!("|{}", widths.iter().map(|width| format!("{}|", "-".repeat(width + 2))).collect::<String>());
    for row in rows {
        line(&mut row.iter().map(String::as_str));
    }
}
