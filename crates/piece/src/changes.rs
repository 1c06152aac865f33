//! What differs between two texts of a piece file, value by value, whatever their comments and layout.

use std::collections::BTreeMap;
use toml::{Table, Value};

/// A value that is not the same in both.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Change {
    /// Where it stands: `title`, `zone.deep.stones.gap`; entries of lists go by their name, or by their
    /// number from 0.
    pub path: String,
    /// As it was; `None` if it was not there.
    pub was: Option<String>,
    /// As it is; `None` if it is gone.
    pub is: Option<String>,
}

/// Every change from one text to another, by path. Zones in another order are a change too, since each
/// lies on those before it.
///
/// # Errors
/// In words: which of them cannot be read, and why.
pub fn changes(was: &str, is: &str) -> Result<Vec<Change>, String> {
    let was = leaves(was).map_err(|why| format!("the agreed piece cannot be read: {why}"))?;
    let is = leaves(is)?;
    let mut changes: Vec<Change> = was
        .iter()
        .filter(|(path, value)| is.get(*path) != Some(value))
        .map(|(path, value)| Change {
            path: path.clone(),
            was: Some(value.clone()),
            is: is.get(path).cloned(),
        })
        .collect();
    let new = is.iter().filter(|(path, _)| !was.contains_key(*path));
    changes.extend(new.map(|(path, value)| Change {
        path: path.clone(),
        was: None,
        is: Some(value.clone()),
    }));
    changes.sort_by(|a, b| a.path.cmp(&b.path));
    Ok(changes)
}

fn leaves(text: &str) -> Result<BTreeMap<String, String>, String> {
    let table: Table = text.parse().map_err(|error: toml::de::Error| error.message().to_owned())?;
    let mut leaves = BTreeMap::new();
    gather("", &Value::Table(table), &mut leaves);
    Ok(leaves)
}

fn gather(path: &str, value: &Value, leaves: &mut BTreeMap<String, String>) {
    let below = |key: &str| if path.is_empty() { key.to_owned() } else { format!("{path}.{key}") };
    match value {
        Value::Table(table) => {
            for (key, value) in table {
                gather(&below(key), value, leaves);
            }
        }
        Value::Array(list) if list.iter().any(Value::is_table) => {
            let names: Vec<String> = list.iter().enumerate().map(called).collect();
            if path == "zone" || path == "part" {
                leaves.insert(format!("{path} (order)"), names.join(", "));
            }
            for (name, value) in names.iter().zip(list) {
                gather(&below(name), value, leaves);
            }
        }
        other => drop(leaves.insert(path.to_owned(), other.to_string())),
    }
}

/// How an entry of a list is called.
fn called((index, entry): (usize, &Value)) -> String {
    entry.get("name").and_then(Value::as_str).map_or_else(|| index.to_string(), str::to_owned)
}

#[cfg(test)]
mod tests {
    use super::*;

    const WAS: &str = "title = \"Reed\"\n[[zone]]\nname = \"deep\"\nstones = { gap = \"0.1 mm\", size = \"SS8\" }\n[[zone]]\nname = \"top\"\nwidth = 3\n";

    fn told(is: &str) -> Vec<String> {
        let shown = |text: Option<String>| text.unwrap_or_else(|| "-".to_owned());
        let changes = changes(WAS, is).expect("both can be read");
        changes
            .into_iter()
            .map(|one| format!("{}: {} > {}", one.path, shown(one.was), shown(one.is)))
            .collect()
    }

    #[test]
    fn a_change_is_told_by_the_name_of_its_zone() {
        let is = WAS.replace("0.1 mm", "0.2 mm").replace("width = 3\n", "bare = true\n");
        let expected = [
            "zone.deep.stones.gap: \"0.1 mm\" > \"0.2 mm\"",
            "zone.top.bare: - > true",
            "zone.top.width: 3 > -",
        ];
        assert_eq!(told(&is), expected);
    }

    #[test]
    fn comments_and_layout_are_no_change_and_order_is() {
        let same = "# mine\n[[zone]]\nname = \"deep\"\n[zone.stones]\nsize = 'SS8'\ngap = '0.1 mm'\n[[zone]]\nname = \"top\"\nwidth = 3\n";
        assert_eq!(told(&format!("title = \"Reed\"\n{same}")), Vec::<String>::new());
        let turned = "title = \"Reed\"\n[[zone]]\nname = \"top\"\nwidth = 3\n[[zone]]\nname = \"deep\"\nstones = { gap = \"0.1 mm\", size = \"SS8\" }\n";
        assert_eq!(told(turned), ["zone (order): deep, top > top, deep"]);
    }
}
