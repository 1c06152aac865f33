//! What the documents promise.

use crate::{files, root, text};
use std::fs;

#[test]
fn links_in_documents_lead_somewhere() {
    let mut documents = files("docs", "md");
    for name in ["README.md", "ARCHITECTURE.md", "CHANGELOG.md", "CONTRIBUTING.md"] {
        documents.push(root().join(name));
    }
    for document in documents {
        let text = fs::read_to_string(&document).expect("document");
        let folder = document.parent().expect("folder");
        for rest in text.split("](").skip(1) {
            let link = rest.split(')').next().unwrap_or_default();
            let file = link.split('#').next().unwrap_or_default();
            let elsewhere = link.starts_with("https://") || file.is_empty();
            assert!(
                elsewhere || folder.join(file).exists(),
                "{} links to {link}",
                document.display()
            );
        }
    }
}

#[test]
fn every_page_of_the_handbook_is_in_its_list() {
    let list = text("docs/handbook/README.md");
    for page in files("docs/handbook", "md") {
        let name = page.file_name().expect("name").to_string_lossy().into_owned();
        assert!(
            name == "README.md" || list.contains(&format!("]({name})")),
            "{name} is not in the list"
        );
    }
}

#[test]
fn the_readme_opens_with_the_job_and_gives_both_commands() {
    let readme = text("README.md");
    let job = readme.lines().nth(2).unwrap_or_default();
    assert!(readme.starts_with("# Cupwright\n\n") && job.len() > 100, "{job}");
    assert!(readme.contains("make run") && readme.contains("make test"));
}

#[test]
fn the_handbook_lists_every_exit_code() {
    let source = text("crates/cupwright/src/exit.rs");
    let codes = source.lines().filter_map(|line| {
        let (_, code) = line.trim().strip_prefix("Self::")?.split_once(" => ")?;
        code.trim_end_matches(',').parse::<u8>().ok()
    });
    let codes: Vec<u8> = codes.collect();
    assert_eq!(codes.len(), 6);
    let handbook = text("docs/handbook/exit-codes.md");
    let help = text("crates/cupwright/src/args.rs");
    for code in codes {
        assert!(handbook.contains(&format!("\n| {code} | ")), "the handbook lacks {code}");
        assert!(help.contains(&format!("\n  {code:<4} ")), "the help lacks {code}");
    }
}

#[test]
fn the_studio_example_is_the_one_that_the_reader_tests() {
    assert_eq!(text("examples/studio.toml"), text("crates/piece/settings/demo.toml"));
}
