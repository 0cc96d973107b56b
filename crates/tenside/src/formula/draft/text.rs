//! Pasted recipes: what each line is, and what a raw material's line says.

use super::amount::Content;
use super::columns::Columns;
use super::composed::counted;
use super::marks::{is_rule, is_underline, without_marks};
use super::measured::{has_mass, has_unit};
use super::split::{Split, contains_amount, pieces, split};
use super::temperature;
use super::title::{counts_pieces, names_product, sounds_like_a_title};
use super::words::words;
use super::{DraftLine, LineRole};
use crate::document::check_name;

/// The longest line that is read, in bytes.
const LONGEST_LINE: usize = 2000;
/// Most words of a heading; what is longer is a sentence.
const MOST_HEADING_WORDS: usize = 8;
/// Most words of a name that stands in a method like a line of the list.
const MOST_LISTED_WORDS: usize = 6;

/// The lines of a recipe, those that are blank left out.
pub(super) fn lines(text: &str) -> Vec<DraftLine> {
    let written: Vec<&str> = text.lines().filter(|line| !line.trim().is_empty()).collect();
    let mut reader = Reader::default();
    let mut lines = Vec::with_capacity(written.len());
    for (index, line) in written.iter().enumerate() {
        let below = &written[index + 1..];
        reader.read(line, index == 0, below, &mut lines);
    }
    lines
}

/// What was read so far, as far as the next lines hang on it.
#[derive(Default)]
struct Reader {
    phase: Option<String>,
    columns: Option<Columns>,
    in_method: bool,
    materials: usize,
}

impl Reader {
    fn read(&mut self, written: &str, first: bool, below: &[&str], lines: &mut Vec<DraftLine>) {
        if written.len() > LONGEST_LINE {
            // No name is so long: it is asked about as it stands.
            lines.push(DraftLine { written: Some(written.to_string()), ..DraftLine::without_amount(written) });
            return;
        }
        let (bare, marked) = without_marks(written.trim());
        let other = |role: LineRole, item: &str| DraftLine {
            written: Some(written.to_string()),
            ..DraftLine::without_amount(item).read_as(role)
        };
        if is_rule(bare) || is_remark(bare) {
            lines.push(other(LineRole::Comment, bare));
            return;
        }
        if let Some(columns) = Columns::of(bare) {
            self.columns = Some(columns);
            self.in_method = false;
            lines.push(other(LineRole::Columns, bare));
            return;
        }
        let fitting = self.columns.as_ref().and_then(|columns| columns.read(bare));
        let of_table = fitting.is_some();
        let read = fitting.unwrap_or_else(|| split(bare, self.materials + 1));
        let name = plain(&read.item);
        let without_remark = name.split(['(', '[']).next().unwrap_or_default().trim_end();
        if is_total(without_remark) || (name.is_empty() && bare.starts_with('=') && read.amount.is_some()) {
            lines.push(DraftLine { amount: read.amount, ..other(LineRole::Total, &read.item) });
            return;
        }
        let weighs = read.amount.as_deref().is_some_and(has_mass);
        let unitless = !read.amount.as_deref().is_some_and(has_unit);
        let set_off = marked || below.first().is_some_and(|next| is_underline(next));
        let opening = || !of_table && lines.iter().all(|line| line.role != LineRole::Material || line.amount.is_none());
        if weighs && names_product(&name) && opening() {
            lines.push(DraftLine { amount: read.amount, ..other(LineRole::Total, &read.item) });
            return;
        }
        // A figure without a unit is no amount of a title.
        let numbered = || {
            let hashes = marked && written.trim_start().starts_with('#');
            let sounds = set_off || sounds_like_a_title(bare);
            read.amount.is_some() && !names_phase(&name) && (hashes || (sounds && have_units(below)))
        };
        if unitless && opening() && (names_product(&name) || numbered()) {
            lines.push(other(LineRole::Comment, bare));
            return;
        }
        if let Some(heading) = self.heading(bare, &read, &name, set_off) {
            lines.push(match heading {
                Heading::Batch => DraftLine { amount: read.amount, ..other(LineRole::Total, &read.item) },
                // The heading of everything is a title.
                Heading::Phase(_)
                    if first
                        && set_off
                        && !names_phase(&name)
                        && !words().phase_heading.has(&name)
                        && temperature::of(&name).is_none() =>
                {
                    other(LineRole::Comment, &read.item)
                }
                // What it is worked at is part of its name.
                Heading::Phase(phase) if read.amount.as_deref().is_some_and(|text| temperature::of(text).is_some()) => {
                    let whole = check_name(bare.trim_end_matches([':', ' '])).unwrap_or(phase);
                    self.phase = Some(whole.clone());
                    other(LineRole::Heading, &whole)
                }
                Heading::Phase(phase) => {
                    self.phase = Some(phase);
                    DraftLine { amount: read.amount, ..other(LineRole::Heading, &read.item) }
                }
                Heading::List => {
                    (self.in_method, self.phase) = (false, None);
                    other(LineRole::Heading, &read.item)
                }
                Heading::Method => {
                    self.in_method = true;
                    other(LineRole::Heading, &read.item)
                }
            });
            return;
        }
        let weighed = contains_amount(bare);
        let of_pieces = read.amount.as_deref().is_some_and(|amount| counted(amount).is_some());
        if !of_table && counts_pieces(if unitless || of_pieces { bare } else { &name }) {
            lines.push(other(LineRole::Comment, bare));
            return;
        }
        let step = words().step.strip(&bare.to_lowercase()).is_some();
        let listed =
            read.amount.is_some() && !step && weighed && read.item.split_whitespace().count() <= MOST_LISTED_WORDS;
        if (self.in_method && !listed) || (step && !read.weighs()) {
            // A step that names an amount could be a line of the list.
            let asked = weighed && !self.in_method;
            let line = other(if asked { LineRole::Material } else { LineRole::Comment }, bare);
            lines.push(line.as_method_only(asked));
            return;
        }
        let together = if of_table { None } else { pieces(bare) };
        for (read, piece) in together.unwrap_or_else(|| vec![(read, written.to_string())]) {
            self.materials += 1;
            let optional = read.optional;
            lines.push(DraftLine {
                written: Some(piece),
                role: LineRole::Material,
                item: read.item,
                amount: read.amount,
                phase: read.phase.or_else(|| self.phase.clone()),
                lot: read.lot,
                optional,
                in_method: self.in_method,
                answers: super::line::LineAnswers::default(),
            });
        }
    }

    fn heading(&self, bare: &str, read: &Split, name: &str, marked: bool) -> Option<Heading> {
        let count = name.split_whitespace().count();
        if name.is_empty() || count > MOST_HEADING_WORDS {
            return None;
        }
        let begins = |list: &super::words::List| {
            list.has(name) || list.strip(name).is_some_and(|rest| rest.trim_start().starts_with("for"))
        };
        let mass = read.amount.as_deref().is_some_and(|amount| {
            matches!(super::amount::read(amount).content, Content::Amount { .. }) && has_mass(amount)
        });
        if begins(&words().list_heading) {
            return Some(if mass { Heading::Batch } else { Heading::List });
        }
        let warm = read.amount.as_deref().is_some_and(|amount| temperature::of(amount).is_some());
        let none = read.amount.is_none() || warm;
        if none && begins(&words().method_heading) {
            return Some(Heading::Method);
        }
        let colon = bare.trim_end_matches(['*', '_', '#', ' ']).ends_with(':')
            || bare.trim_end_matches('*').trim_end().ends_with(':');
        let named = if none { names_phase(name) && !contains_amount(bare) } else { is_phase(name) };
        let bare_name = temperature::without(name);
        let listed = none && words().phase_heading.has(&bare_name) && (colon || marked || warm || count > 1);
        let only_warm = none && bare_name.chars().all(|c| !c.is_alphanumeric()) && (colon || marked);
        let aimed = none && colon && name.starts_with("for ");
        // In the method such words begin a step.
        let fits = if self.in_method { marked || count <= 3 } else { true };
        if fits && (named || listed || only_warm || aimed || (none && marked)) {
            return phase_name(read).map(Heading::Phase);
        }
        None
    }
}

enum Heading {
    Phase(String),
    List,
    Method,
    /// "Recipe for 200 g"
    Batch,
}

fn phase_name(read: &Split) -> Option<String> {
    check_name(read.item.trim_matches(['#', '*', '_', '=', ':', '-', ' '])).ok()
}

/// "phase a", "oil phase", "part 2": not "part skim milk".
fn names_phase(name: &str) -> bool {
    let tokens: Vec<&str> = name.split(|c: char| !c.is_alphanumeric()).filter(|token| !token.is_empty()).collect();
    let at = tokens.iter().position(|token| words().phase.has(token));
    let numbered = tokens.first().is_some_and(|first| words().phase_numbered.has(first))
        && tokens.get(1).is_some_and(|second| is_number(second));
    numbered || at.is_some_and(|at| at <= 3)
}

/// A letter or a number, as phases have.
fn is_number(token: &str) -> bool {
    token.chars().count() == 1 || token.bytes().all(|byte| byte.is_ascii_digit())
}

/// Nothing but the name of a phase: what stands behind it is its share, not that of a raw material.
fn is_phase(name: &str) -> bool {
    let tokens: Vec<&str> = name.split(|c: char| !c.is_alphanumeric()).filter(|token| !token.is_empty()).collect();
    let known =
        |token: &&str| is_number(token) || words().phase_heading.has(token) || *token == "water" || *token == "down";
    let phase = |token: &&str| words().phase.has(token) || words().phase_numbered.has(token);
    tokens.iter().any(phase) && tokens.iter().all(|token| phase(token) || known(token))
}

/// Do the amounts of lines all have units, and two of them at least?
fn have_units(lines: &[&str]) -> bool {
    let short = lines.iter().filter(|line| line.len() <= LONGEST_LINE);
    let read: Vec<Split> = short.map(|line| split(without_marks(line.trim()).0, 0)).collect();
    let amounts = || read.iter().filter(|split| split.amount.is_some());
    amounts().count() >= 2 && amounts().all(Split::weighs)
}

/// The name in lower case, without what headings and totals are set off by.
fn plain(item: &str) -> String {
    item.to_lowercase()
        .trim_matches(|c: char| matches!(c, '#' | '*' | '_' | '=' | ':' | '-' | '.') || c.is_whitespace())
        .to_string()
}

/// Made of words for totals alone.
fn is_total(name: &str) -> bool {
    let mut rest = name;
    let mut found = false;
    while !rest.is_empty() {
        if let Some(behind) = words().total.strip(rest) {
            found = true;
            rest = behind.trim_start_matches([' ', ':', '=']);
        } else if let Some(behind) =
            ["of ", "the ", "for ", "weight", "mass", "size"].iter().find_map(|word| rest.strip_prefix(word))
        {
            rest = behind.trim_start();
        } else {
            return false;
        }
    }
    found
}

/// Marked as a remark, or wholly in brackets without an amount.
fn is_remark(line: &str) -> bool {
    if ["//", "/*", "<!--", "\u{2020}"].iter().any(|mark| line.starts_with(mark)) {
        return true;
    }
    let lower = line.to_lowercase();
    if words().remark.strip(&lower).is_some_and(|rest| rest.starts_with(':') || rest.starts_with('.')) {
        return true;
    }
    let bracketed = line.starts_with('(') && line.ends_with(')') && !line[1..line.len() - 1].contains(['(', ')']);
    bracketed && !contains_amount(line)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn one(written: &str) -> DraftLine {
        let mut lines = lines(written);
        assert_eq!(lines.len(), 1, "{written}: {lines:#?}");
        lines.remove(0)
    }

    #[test]
    fn name_and_amount_are_told_apart() {
        for (written, item, amount) in [
            ("Sodium cocoyl isethionate powder  55 %", "Sodium cocoyl isethionate powder", Some("55 %")),
            ("Kaolin\t12,5 %", "Kaolin", Some("12,5 %")),
            ("Kaolin: 12 g", "Kaolin", Some("12 g")),
            ("Kaolin 12 g", "Kaolin", Some("12 g")),
            ("12 g kaolin", "kaolin", Some("12 g")),
            ("12 g\tkaolin", "kaolin", Some("12 g")),
            ("- 2 fl oz glycerin", "glycerin", Some("2 fl oz")),
            ("\u{2022} Glycerin 2 fl oz", "Glycerin", Some("2 fl oz")),
            ("citric acid 50 %  0.3 %", "citric acid 50 %", Some("0.3 %")),
            ("citric acid 50 %", "citric acid", Some("50 %")),
            ("Water q.s. to 100", "Water", Some("q.s. to 100")),
            ("Water", "Water", None),
            ("Salt: a lot", "Salt: a lot", None),
            ("5 % kaolin 10 %", "5 % kaolin 10 %", None),
            ("55 %", "", Some("55 %")),
            ("3\u{2013}5 % cetyl alcohol", "cetyl alcohol", Some("3\u{2013}5 %")),
            ("1. SCI 60 %", "SCI", Some("60 %")),
            ("2) SCI 60 %", "SCI", Some("60 %")),
            ("(3) SCI 60 %", "SCI", Some("60 %")),
            ("a) SCI 60 %", "SCI", Some("60 %")),
            ("[x] SCI 60 %", "SCI", Some("60 %")),
            ("1.5 % SCI", "SCI", Some("1.5 %")),
            ("SCI - 60%", "SCI", Some("60%")),
            ("SCI \u{2013} 60 %", "SCI", Some("60 %")),
            ("SCI \u{2014} 60", "SCI", Some("60")),
            ("SCI -60 %", "SCI", Some("60 %")),
            ("SCI-60%", "SCI", Some("60%")),
            ("60% - SCI", "SCI", Some("60%")),
            ("SCI = 60 %", "SCI", Some("60 %")),
            ("SCI ......... 60 %", "SCI", Some("60 %")),
            ("SCI . . . . . 60 %", "SCI", Some("60 %")),
            ("SCI\u{2026}\u{2026}60 %", "SCI", Some("60 %")),
            ("SCI____60 %", "SCI", Some("60 %")),
            ("SCI,60", "SCI", Some("60")),
            ("SCI, 60 %", "SCI", Some("60 %")),
            ("SCI;60,5", "SCI", Some("60,5")),
            ("\"Water, distilled\",40", "Water, distilled", Some("40")),
            ("Water, distilled, 40 %", "Water, distilled", Some("40 %")),
            ("Kaolin 12,5", "Kaolin", Some("12,5")),
            ("| SCI | 60 % |", "SCI", Some("60 %")),
            ("SCI (60%)", "SCI", Some("60%")),
            ("SCI [60 g]", "SCI", Some("60 g")),
            ("SCI 60 g (60%)", "SCI", Some("60 g (60%)")),
            ("Kaolin q.s. 100", "Kaolin", Some("q.s. 100")),
            ("Kaolin up to 100", "Kaolin", Some("up to 100")),
            ("Kaolin ad 100", "Kaolin", Some("ad 100")),
            ("Sodium Cocoyl Isethionate (SCI) 60 %", "Sodium Cocoyl Isethionate (SCI)", Some("60 %")),
            ("SCI ~60%", "SCI", Some("~60%")),
            ("SCI ca. 60 %", "SCI", Some("ca. 60 %")),
            ("glycerin 1 1/2 tsp", "glycerin", Some("1 1/2 tsp")),
            ("1 1/2 tsp of glycerin", "glycerin", Some("1 1/2 tsp")),
            ("a pinch of salt", "salt", Some("a pinch")),
            ("salt, a pinch", "salt", Some("a pinch")),
            ("Betaine 12 % (powder)", "Betaine (powder)", Some("12 %")),
            ("Kaolin 12 %, sifted", "Kaolin (sifted)", Some("12 %")),
            ("lactic acid (80 %) 2 g", "lactic acid (80 %)", Some("2 g")),
            ("polysorbate-20 5 %", "polysorbate-20", Some("5 %")),
            ("kaolin 1 000 g", "kaolin 1 000 g", None),
            ("2 oz glycerin 99.5 %", "glycerin 99.5 %", Some("2 oz")),
            ("5 % polysorbate 20", "polysorbate 20", Some("5 %")),
            ("2 g panthenol 75", "panthenol 75", Some("2 g")),
            ("10 g vegetable glycerin (86 %)", "vegetable glycerin (86 %)", Some("10 g")),
            ("Kaolin\t-12 %", "Kaolin", Some("-12 %")),
            ("Sodium benzoate . 1 g", "Sodium benzoate", Some("1 g")),
        ] {
            let line = one(written);
            assert_eq!((line.item(), line.amount(), line.role()), (item, amount, LineRole::Material), "{written}");
            assert_eq!(line.written(), Some(written));
        }
    }

    #[test]
    fn optional_is_seen_wherever_it_stands() {
        for written in [
            "Rosemary oil\t1 %\toptional",
            "optional: Rosemary oil 1 %",
            "(optional) Rosemary oil 1 %",
            "1 % Rosemary oil (optional)",
            "Rosemary oil (optional) 1 %",
            "Rosemary oil, optional, 1 %",
            "Rosemary oil 1 % - opt.",
        ] {
            let line = one(written);
            assert_eq!(
                (line.item(), line.amount(), line.is_optional()),
                ("Rosemary oil", Some("1 %"), true),
                "{written}"
            );
        }
    }

    #[test]
    fn headings_totals_and_remarks_are_no_materials() {
        use LineRole::{Columns, Comment, Heading, Total};
        for (written, role) in [
            ("Phase A", Heading),
            ("Phase A:", Heading),
            ("PHASE B \u{2013} surfactants", Heading),
            ("Oil phase", Heading),
            ("Part 2", Heading),
            ("**Cool down**", Heading),
            ("Cool-down phase:", Heading),
            ("Phase A (60 %)", Heading),
            ("Oil phase 22 %", Heading),
            ("Step 2 - melt", Heading),
            ("Ingredients", Heading),
            ("Ingredients:", Heading),
            ("Method:", Heading),
            ("Recipe for 200 g", Total),
            ("Total 100 %", Total),
            ("TOTAL: 100", Total),
            ("Sum ... 100 g", Total),
            ("| **Total** | **100** |", Total),
            ("= 100 %", Total),
            ("Total weight: 200 g", Total),
            ("Batch size 200 g", Total),
            ("Ingredient | %", Columns),
            ("Name,Amount", Columns),
            ("| --- | ---: |", Comment),
            ("----------", Comment),
            ("// weigh with a mask on", Comment),
            ("Note: the noodles take longest", Comment),
            ("(all by weight)", Comment),
            ("Stir well and press.", Comment),
            ("stir well", Comment),
            ("Harbour bar, soft", Comment),
            ("Conditioner bar, 100 g", Total),
            ("Shampoo bar no. 3", Comment),
            ("Citrus bar 2026", Comment),
            ("Batch of 24 bars", Comment),
            ("# Citrus 2026", Comment),
            ("Cool down (below 40 °C):", Heading),
            ("Below 40 °C:", Heading),
            ("Phase A: 75 °C", Heading),
            ("*wear a mask", Comment),
        ] {
            let line = one(written);
            assert_eq!(line.role(), role, "{written}");
            assert_eq!(line.written(), Some(written));
        }
    }

    #[test]
    fn phases_lots_and_columns_belong_to_their_lines() {
        let read =
            lines("Phase A\nSCI 60 %\nPhase B:\nB2 water 10 %\nIngredients\nkaolin 30 %\nC | SCI, lot L-9 | 5 %");
        let phases: Vec<Option<&str>> = read.iter().map(DraftLine::phase).collect();
        assert_eq!(phases, [None, Some("Phase A"), None, Some("Phase B"), None, None, Some("C")]);
        assert_eq!((read[6].item(), read[6].lot(), read[6].amount()), ("SCI", Some("L-9"), Some("5 %")));
        let table = lines(
            "No.,Phase,Ingredient,Lot,% w/w,\"Weight (g)\"\n1,A,\"Water, distilled\",W7,\"60,5\",121\n2,B,polysorbate \
             20,,39.5,79",
        );
        assert_eq!(
            (table[1].item(), table[1].amount(), table[1].phase(), table[1].lot()),
            ("Water, distilled", Some("121 g (60,5 %)"), Some("A"), Some("W7"))
        );
        assert_eq!(
            (table[2].item(), table[2].amount(), table[2].lot()),
            ("polysorbate 20", Some("79 g (39.5 %)"), None)
        );
    }

    #[test]
    fn a_title_with_a_number_is_told_from_a_raw_material_by_the_lines_below() {
        let first = |text: &str| lines(text)[0].role();
        assert_eq!(first("Anna's shampoo 3\nSCI 60 %\nkaolin 40 %"), LineRole::Comment);
        assert_eq!(first("Anna's shampoo 3\nSCI 60\nkaolin 37"), LineRole::Material);
        assert_eq!(first("Kaolin 3\nSCI 60 %\nwater 37 %"), LineRole::Material);
        let read = lines("hello!\nCitrus bar 2026\nSCI 60 %\n24 bars of 60 g\nkaolin 40 %, sifted for 2 bars");
        let roles: Vec<LineRole> = read.iter().map(DraftLine::role).collect();
        use LineRole::{Comment, Material};
        assert_eq!(roles, [Material, Comment, Material, Comment, Material]);
    }

    #[test]
    fn the_temperature_of_a_phase_is_part_of_its_name() {
        let read = lines("Phase A: 75 °C\nkaolin 60 %\nCool down (below 40 °C):\nwater 40 %");
        let phases: Vec<Option<&str>> = read.iter().map(DraftLine::phase).collect();
        let (hot, cool) = (Some("Phase A: 75 °C"), Some("Cool down (below 40 °C)"));
        assert_eq!(phases, [None, hot, None, cool]);
        assert_eq!((read[0].item(), read[2].item()), ("Phase A: 75 °C", "Cool down (below 40 °C)"));
    }

    #[test]
    fn no_raw_material_is_lost_to_a_heading() {
        for (written, item, phase) in [
            ("Step 2: kaolin 40 g", "kaolin", Some("Step 2")),
            ("B: kaolin 40 g", "kaolin", Some("B")),
            ("Step-down wax 5 %", "Step-down wax", None),
            ("Part skim milk powder 5 %", "Part skim milk powder 5 %", None),
            ("kaolin 40 % Phase B", "kaolin 40 % Phase B", None),
        ] {
            let line = one(written);
            assert_eq!((line.role(), line.item(), line.phase()), (LineRole::Material, item, phase), "{written}");
        }
    }

    #[test]
    fn what_stands_in_the_method_is_told_from_the_list() {
        let read = lines(
            "SCI 60 %\nMethod\n1. Melt the wax at 70 \u{b0}C.\n2. Add 5 g of citric acid and stir.\nCitric acid 2 \
             %\nMix 3 g of kaolin in.",
        );
        let kinds: Vec<(LineRole, bool)> = read.iter().map(|line| (line.role(), line.is_method_only())).collect();
        use LineRole::{Comment, Heading, Material};
        assert_eq!(
            kinds,
            [
                (Material, false),
                (Heading, false),
                (Comment, false),
                (Comment, false),
                (Material, true),
                (Comment, false)
            ]
        );
        // Outside of a method nobody can tell.
        assert!(one("Add 5 g of citric acid and stir.").is_method_only());
    }

    #[test]
    fn a_recipe_in_one_line_is_several() {
        let read = lines("SCI 60 %, capb 10 %, kaolin 30 %");
        let items: Vec<(&str, Option<&str>)> = read.iter().map(|line| (line.item(), line.amount())).collect();
        assert_eq!(items, [("SCI", Some("60 %")), ("capb", Some("10 %")), ("kaolin", Some("30 %"))]);
        for (written, count) in
            [("SCI  60 g    kaolin  30 g", 2), ("SCI 60 g\tkaolin 30 g", 2), ("glycerin 86 %  3 %", 1)]
        {
            assert_eq!(lines(written).len(), count, "{written}");
        }
    }
}
