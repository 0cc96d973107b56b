//! A file with all its changes in it, each behind a switch.

use std::collections::HashMap;
use std::ops::Range;

use crate::change::{Change, Genre};
use crate::site::{self, Family, Kind, Site};

/// The module that the copy of the library gets, under a path that every file of it can name.
pub(crate) const SWITCH: &str = "crate::mutation_switch::on";

/// A file as it goes into the copy.
pub(crate) struct Rendered {
    pub(crate) text: String,
    /// Where each change, and each place with its changes, stands in `text`: what the compiler complains about is looked up here.
    pub(crate) stretches: Vec<Stretch>,
    /// Changes that cannot be behind a switch.
    pub(crate) apart: Vec<usize>,
    /// Changes that are no Rust.
    pub(crate) refused: Vec<usize>,
}

/// A part of the text that belongs to these changes.
pub(crate) struct Stretch {
    pub(crate) range: Range<usize>,
    pub(crate) numbers: Vec<usize>,
}

/// Puts the changes `numbers` of `all` into `text`.
pub(crate) fn render(text: &str, all: &[Change], numbers: &[usize]) -> Result<Rendered, syn::Error> {
    let found = site::sites(text)?;
    let places = site::by_start(&found);
    let mut carried: HashMap<usize, Vec<usize>> = HashMap::new();
    let (mut apart, mut refused) = (Vec::new(), Vec::new());
    for &number in numbers {
        let (start, family) = (all[number].bytes(text).start, family(all[number].genre));
        match places.get(&(family, start)) {
            Some(&place) if matches!(found[place].1.kind, Kind::Chain) => refused.push(number),
            Some(&place) if !found[place].1.constant => carried.entry(place).or_default().push(number),
            _ => apart.push(number),
        }
    }
    let sites: Vec<Loaded<'_>> = found.iter().enumerate().filter_map(|(place, (_, site))| Some(Loaded { site, numbers: carried.remove(&place)? })).collect();
    let marked = Renderer { text, all, sites, next: 0 }.stretch(0..text.len());
    let (text, stretches) = take_out_marks(&marked);
    Ok(Rendered { text, stretches, apart, refused })
}

fn family(genre: Genre) -> Family {
    match genre {
        Genre::FnValue => Family::Body,
        Genre::BinaryOperator => Family::Binary,
        Genre::UnaryOperator => Family::Prefix,
        Genre::MatchArm => Family::Arm,
        Genre::MatchArmGuard => Family::Guard,
        Genre::StructField => Family::Field,
    }
}

struct Loaded<'a> {
    site: &'a Site,
    numbers: Vec<usize>,
}

struct Renderer<'a> {
    text: &'a str,
    all: &'a [Change],
    sites: Vec<Loaded<'a>>,
    next: usize,
}

/// Marks are characters of the private use area, which no source has: they say where a change begins and ends.
const OPEN: char = '\u{e000}';
const BETWEEN: char = '\u{e001}';
const CLOSE: char = '\u{e002}';

fn marked(numbers: &[usize], text: &str) -> String {
    let numbers: Vec<String> = numbers.iter().map(usize::to_string).collect();
    format!("{OPEN}{}{BETWEEN}{text}{CLOSE}", numbers.join(","))
}

impl Renderer<'_> {
    /// The text of `range`, with the places inside it switched.
    fn stretch(&mut self, range: Range<usize>) -> String {
        let mut out = String::new();
        let mut at = range.start;
        while let Some(whole) = self.sites.get(self.next).map(|loaded| loaded.site.whole.clone()).filter(|whole| whole.end <= range.end) {
            out.push_str(&self.text[at..whole.start]);
            let place = self.next;
            self.next += 1;
            let inner = self.place(place);
            out.push_str(&marked(&self.sites[place].numbers.clone(), &inner));
            at = whole.end;
        }
        out.push_str(&self.text[at..range.end]);
        out
    }

    fn place(&mut self, place: usize) -> String {
        let site = self.sites[place].site;
        let numbers = self.sites[place].numbers.clone();
        let switched = |otherwise: String, with: &dyn Fn(&str) -> String, all: &[Change]| -> String {
            numbers.iter().fold(otherwise, |otherwise, &number| {
                format!("if {SWITCH}({number}) {{ {} }} else {{ {otherwise} }}", marked(&[number], &with(&all[number].replacement)))
            })
        };
        match &site.kind {
            Kind::Body => {
                let body = self.stretch(site.whole.clone());
                let early = numbers.iter().map(|&number| {
                    let back = format!("return {};", self.all[number].replacement);
                    format!("if {SWITCH}({number}) {{ {} }} ", marked(&[number], &back))
                });
                early.collect::<String>() + &body
            }
            Kind::Chain => self.stretch(site.whole.clone()),
            Kind::Arithmetic { left, operator, right } => {
                let (left, right) = (self.stretch(left.clone()), self.stretch(right.clone()));
                let plain = format!("mutant_l {} mutant_r", &self.text[operator.clone()]);
                let chosen = switched(plain, &|operator| format!("mutant_l {operator} mutant_r"), self.all);
                format!("(match ({left}, {right}) {{ (mutant_l, mutant_r) => {chosen} }})")
            }
            Kind::Comparison { left, operator, right } => {
                let (left, right) = (self.stretch(left.clone()), self.stretch(right.clone()));
                let plain = format!("*mutant_l {} *mutant_r", &self.text[operator.clone()]);
                let chosen = switched(plain, &|operator| format!("*mutant_l {operator} *mutant_r"), self.all);
                format!("(match (&({left}), &({right})) {{ (mutant_l, mutant_r) => {chosen} }})")
            }
            // Both operators give the left side back where it decides; which value decides is what the switch turns.
            Kind::Logic { left, operator, right } => {
                let (left, right) = (self.stretch(left.clone()), self.stretch(right.clone()));
                let on = numbers.iter().map(|number| format!("{SWITCH}({number})")).collect::<Vec<_>>().join(" || ");
                let asks = if &self.text[operator.clone()] == "&&" { "!=" } else { "==" };
                format!("(match ({left}) {{ mutant_l => if mutant_l {asks} ({on}) {{ {right} }} else {{ mutant_l }} }})")
            }
            Kind::Assignment { left, operator, right } => {
                let (left, right) = (self.stretch(left.clone()), self.stretch(right.clone()));
                let plain = format!("*mutant_l {} mutant_r", &self.text[operator.clone()]);
                let chosen = switched(plain, &|operator| format!("*mutant_l {operator} mutant_r"), self.all);
                format!("(match ({right}) {{ mutant_r => match &mut ({left}) {{ mutant_l => {{ {chosen} }} }} }})")
            }
            Kind::Prefix { operator, operand } => {
                let operand = self.stretch(operand.clone());
                let plain = format!("{}mutant_v", &self.text[operator.clone()]);
                let chosen = switched(plain, &|operator| format!("{operator}mutant_v"), self.all);
                format!("(match ({operand}) {{ mutant_v => {chosen} }})")
            }
            Kind::Guard => {
                let guard = self.stretch(site.whole.clone());
                format!("({})", switched(guard, &str::to_string, self.all))
            }
            Kind::Arm { pattern, guard } => {
                let off = numbers.iter().map(|number| format!("!{SWITCH}({number})")).collect::<Vec<_>>().join(" && ");
                let start = self.text[site.whole.start..pattern.end].to_string();
                let (asked, rest) = match guard {
                    Some(guard) => (format!(" && ({})", self.stretch(guard.clone())), guard.end),
                    None => (String::new(), pattern.end),
                };
                format!("{start} if {off}{asked}{}", self.stretch(rest..site.whole.end))
            }
            Kind::Field { member, value, shorthand, base } => {
                let plain = if *shorthand { member.clone() } else { self.stretch(value.clone()) };
                let base = self.text[base.clone()].to_string();
                format!("{member}: {}", switched(plain, &|_| format!("({base}).{member}"), self.all))
            }
        }
    }
}

fn take_out_marks(marked: &str) -> (String, Vec<Stretch>) {
    let (mut text, mut stretches, mut open) = (String::with_capacity(marked.len()), Vec::new(), Vec::new());
    let mut rest = marked;
    while let Some(at) = rest.find([OPEN, BETWEEN, CLOSE]) {
        let (before, from) = rest.split_at(at);
        text.push_str(before);
        rest = &from[OPEN.len_utf8()..];
        if from.starts_with(OPEN) {
            let (numbers, after) = rest.split_once(BETWEEN).unwrap_or((rest, ""));
            open.push((text.len(), numbers.split(',').filter_map(|number| number.parse().ok()).collect::<Vec<usize>>()));
            rest = after;
        } else if let Some((start, numbers)) = open.pop() {
            stretches.push(Stretch { range: start..text.len(), numbers });
        }
    }
    text.push_str(rest);
    (text, stretches)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn changes(json: &str) -> Vec<Change> {
        serde_json::from_str(json).expect("a list of changes")
    }

    fn rendered(text: &str, genre: &str, column: usize, replacement: &str) -> String {
        let json = format!(
            r#"[{{"file":"a.rs","genre":"{genre}","name":"a.rs:1:{column}: x","replacement":"{replacement}",
                "span":{{"start":{{"line":1,"column":{column}}},"end":{{"line":1,"column":{column}}}}},"function":null}}]"#
        );
        render(text, &changes(&json), &[0]).expect("Rust").text
    }

    #[test]
    fn every_kind_of_place_gets_its_switch_and_stays_rust() {
        let on = "crate::mutation_switch::on(0)";
        let cases = [
            (
                "fn a() { b * c }",
                "BinaryOperator",
                12,
                "/",
                "(match (b, c) { (mutant_l, mutant_r) => if ON { mutant_l / mutant_r } else { mutant_l * mutant_r } })",
            ),
            (
                "fn a() { b < c }",
                "BinaryOperator",
                12,
                "<=",
                "(match (&(b), &(c)) { (mutant_l, mutant_r) => if ON { *mutant_l <= *mutant_r } else { *mutant_l < *mutant_r } })",
            ),
            // Lazy operators stay lazy.
            ("fn a() { b && c }", "BinaryOperator", 12, "||", "(match (b) { mutant_l => if mutant_l != (ON) { c } else { mutant_l } })"),
            ("fn a() { b || c }", "BinaryOperator", 12, "&&", "(match (b) { mutant_l => if mutant_l == (ON) { c } else { mutant_l } })"),
            (
                "fn a() { b += c; }",
                "BinaryOperator",
                12,
                "-=",
                "(match (c) { mutant_r => match &mut (b) { mutant_l => { if ON { *mutant_l -= mutant_r } else { *mutant_l += mutant_r } } } })",
            ),
            ("fn a() { -b }", "UnaryOperator", 10, "", "(match (b) { mutant_v => if ON { mutant_v } else { -mutant_v } })"),
            ("fn a() { match b { c if d => 1, _ => 2 } }", "MatchArmGuard", 25, "true", "c if (if ON { true } else { d }) => 1"),
            ("fn a() { match b { c if d => 1, _ => 2 } }", "MatchArm", 20, "", "c if !ON && (d) => 1"),
            ("fn a() { match b { C => 1, _ => 2 } }", "MatchArm", 20, "", "C if !ON => 1"),
            ("fn a() { B { c: 1, ..d() } }", "StructField", 14, "", "B { c: if ON { (d()).c } else { 1 }, ..d() }"),
            ("fn a() { B { c, ..d() } }", "StructField", 14, "", "B { c: if ON { (d()).c } else { c }, ..d() }"),
            ("fn a() -> bool { b(); c() }", "FnValue", 18, "true", "{ if ON { return true; } b(); c() }"),
        ];
        for (text, genre, column, replacement, expected) in cases {
            let rendered = rendered(text, genre, column, replacement);
            assert!(rendered.contains(&expected.replace("ON", on)), "{text}\n{rendered}");
            assert!(syn::parse_file(&rendered).is_ok(), "{rendered}");
        }
    }

    #[test]
    fn a_place_inside_a_place_is_switched_too() {
        let json = r#"[{"file":"a.rs","genre":"BinaryOperator","name":"x","replacement":"-","span":{"start":{"line":1,"column":12},"end":{"line":1,"column":13}},"function":null},
            {"file":"a.rs","genre":"BinaryOperator","name":"x","replacement":"/","span":{"start":{"line":1,"column":16},"end":{"line":1,"column":17}},"function":null}]"#;
        let rendered = render("fn a() { b + c * d }", &changes(json), &[0, 1]).expect("Rust");
        assert!(rendered.text.contains("(b, (match (c, d) {"), "{}", rendered.text);
        // What the compiler says of the inner one is looked up in the smallest stretch around it.
        let inner = rendered.text.find("mutant_l / mutant_r").expect("the inner change");
        let around = rendered.stretches.iter().filter(|stretch| stretch.range.contains(&inner)).min_by_key(|stretch| stretch.range.len());
        assert_eq!(around.map(|stretch| stretch.numbers.as_slice()), Some(&[1][..]));
    }

    #[test]
    fn a_constant_is_left_to_be_changed_apart() {
        let json = r#"[{"file":"a.rs","genre":"BinaryOperator","name":"x","replacement":"-",
            "span":{"start":{"line":1,"column":20},"end":{"line":1,"column":21}},"function":null}]"#;
        let rendered = render("const A: usize = 1 + 2;", &changes(json), &[0]).expect("Rust");
        assert_eq!((rendered.text.as_str(), rendered.apart.as_slice()), ("const A: usize = 1 + 2;", &[0][..]));
    }

    #[test]
    fn no_or_stands_beside_a_let() {
        let json = r#"[{"file":"a.rs","genre":"BinaryOperator","name":"x","replacement":"||",
            "span":{"start":{"line":1,"column":15},"end":{"line":1,"column":17}},"function":null}]"#;
        let rendered = render("fn a() { if b && let Some(c) = d {} }", &changes(json), &[0]).expect("Rust");
        assert_eq!((rendered.refused.as_slice(), rendered.apart.len()), (&[0][..], 0));
    }
}
