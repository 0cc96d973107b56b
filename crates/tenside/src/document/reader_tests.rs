use super::*;

#[test]
fn every_fault_is_reported_at_its_place() {
    let text = "tenside = \"x/1\"\nshare = 101\nnmae = \"a\"\n[[part]]\nshare = \"abc\"\n";
    let error = Reader::read(text, Notation::Toml, |view| {
        view.version("x/1");
        view.ppm("share");
        view.needed_name("name");
        Some(view.tables("part", |part| part.ppm("share")).len())
    })
    .unwrap_err();
    let positions: Vec<_> = error.faults().iter().map(|fault| fault.position.unwrap()).collect();
    assert_eq!(positions, [(1, 1), (2, 9), (3, 1), (5, 9)]);
    assert_eq!(error.faults()[3].place, "part[0].share");
    assert_eq!(error.faults()[2].remedy.as_deref(), Some("did you mean \"name\"?"));
}

#[test]
fn both_notations_read_the_same() {
    let read = |text: &str, notation| {
        Reader::read(text, notation, |view| Some((view.ppm("a"), view.texts("b").join("+")))).unwrap()
    };
    assert_eq!(
        read("a = 1.50\nb = [\"x\", \"y\"]", Notation::Toml),
        read("{\"a\": 1.5, \"b\": [\"x\", \"y\"]}", Notation::Json)
    );
}

#[test]
fn deep_nesting_and_broken_text_are_refused() {
    for (text, notation) in [
        ("[".repeat(100_000), Notation::Json),
        (format!("a = {}", "[".repeat(100_000)), Notation::Toml),
        ("{\"a\": 1, \"a\": 2}".to_string(), Notation::Json),
        ("{\"a\": 1, // no\n}".to_string(), Notation::Json),
        ("[1]".to_string(), Notation::Json),
        (String::new(), Notation::Json),
        ("a = ".to_string(), Notation::Toml),
    ] {
        let error = Reader::read(&text, notation, |_| Some(())).unwrap_err();
        assert!(error.is_syntax(), "{error}");
    }
}
