//! Columns of text, each as wide as its widest word.

/// Adds a table, indented; columns in `right` end flush.
pub fn table<const N: usize>(
    text: &mut String,
    heads: &[&str; N],
    rows: &[[String; N]],
    right: &[usize],
) {
    let width = |column: usize| {
        let cells = rows.iter().map(|row| row[column].chars().count());
        cells.chain([heads[column].chars().count()]).max().unwrap_or(0)
    };
    let widths: Vec<usize> = (0..N).map(width).collect();
    let mut line = |cells: &[&str]| {
        let mut row = String::from(" ");
        for (column, cell) in cells.iter().enumerate() {
            let wide = widths[column];
            let cell = if right.contains(&column) {
                format!("{cell:>wide$}")
            } else {
                format!("{cell:<wide$}")
            };
            row.push(' ');
            row.push_str(&cell);
            row.push(' ');
        }
        text.push_str(row.trim_end());
        text.push('\n');
    };
    line(heads);
    for row in rows {
        line(&row.each_ref().map(String::as_str));
    }
}
