//! What may stand in for a raw material, in which order, and why the others may not.

use tenside::catalogue::Catalogue;
use tenside::document::Notation;
use tenside::formula::{Formula, Line};
use tenside::measure::Measure;
use tenside::number::{Exact, Ppm};
use tenside::solve::Candidate;
use tenside::substance::Class;

const FATTY: &str = "{ inci = \"STEARIC ACID\", typical = 10 }, ";
/// What the powder itself is known not to be, said of one that holds fatty acid too.
const NONE: &str = "attributes = { sulfate = false, silicone = false, ethoxylated = false, animal = false }\n";
const OLD: &str = "ph_range = { low = 5, high = 7 }\nattributes = { palm = false }\n";

/// A surfactant powder of this strength with whatever else is stated; the rest is salt.
fn grade(id: &str, strength: u32, fatty: bool, stated: &str) -> String {
    let (more, rest) = if fatty { (FATTY, 90 - strength) } else { ("", 100 - strength) };
    format!(
        "[[material]]\nid = \"{id}\"\nname = \"{id}\"\nform = \"powder\"\n{stated}constituents = [{{ inci = \"SODIUM \
         COCOYL ISETHIONATE\", typical = {strength} }}, {more}{{ inci = \"SODIUM CHLORIDE\", typical = {rest} }}]\n"
    )
}

fn catalogue(materials: &[String]) -> Catalogue {
    Catalogue::read(
        &format!("tenside = \"catalogue/1\"\nsource = \"invented\"\n{}", materials.concat()),
        Notation::Toml,
    )
    .unwrap()
}

fn bar(catalogue: &Catalogue) -> Formula {
    let starter = Catalogue::starter();
    let line = |id: &str, percent: u32, from: &Catalogue| {
        Line::new(id, from.material(id).unwrap().clone(), Ppm::from_parts(percent * 10_000).unwrap()).unwrap()
    };
    let lines =
        vec![line("old", 40, catalogue), line("stearic-acid", 20, &starter), line("kaolin", 40, &starter).as_qs(true)];
    Formula::new("Bar", lines).unwrap()
}

/// 40 % of 60 % active: the one of 75 % takes 8 % less and leaves it to the q.s. line. The one with fatty acid stays at
/// 40 %, and 4 % go from the stearic acid to the q.s. line. The other lines change by 8 % either way, so the line
/// itself decides.
#[test]
fn among_equals_the_line_itself_is_to_change_least() {
    let all =
        catalogue(&[grade("old", 60, false, ""), grade("a-strong", 75, false, ""), grade("b-fatty", 60, true, NONE)]);
    let candidates =
        bar(&all).candidates("old", &all, &[Measure::active_matter(), Measure::class(Class::FattyAcid)]).unwrap();
    let ranked: Vec<&str> = candidates.ranked.iter().map(|candidate| candidate.material.id()).collect();
    assert_eq!(ranked, ["b-fatty", "a-strong"]);
    let disturbances: Vec<Exact> =
        candidates.ranked.iter().map(|candidate| candidate.substitution.disturbance()).collect();
    assert_eq!(disturbances, [8, 8].map(Exact::from));
    assert!(candidates.ranked.iter().all(|candidate| candidate.substitution.is_exact()));
}

#[test]
fn what_is_stated_of_the_old_one_is_asked_of_the_new_one() {
    let stated = |low: &str, high: &str, palm: &str| format!("ph_range = {{ low = {low}, high = {high} }}\n{palm}");
    let free = "attributes = { palm = false }\n";
    let all = catalogue(&[
        grade("old", 60, false, OLD),
        grade("same", 70, false, OLD),
        grade("touches-below", 70, false, &stated("3", "5", free)),
        grade("touches-above", 70, false, &stated("7", "9", free)),
        grade("around", 70, false, &stated("3", "9", free)),
        grade("below", 70, false, &stated("3", "4.9", free)),
        grade("above", 70, false, &stated("7.1", "9", free)),
        grade("no-ph", 70, false, free),
        grade("of-palm", 70, false, &stated("5", "7", "attributes = { palm = true }\n")),
        grade("palm-unsaid", 70, false, &stated("5", "7", "")),
    ]);
    let candidates = bar(&all).candidates("old", &all, &[Measure::active_matter()]).unwrap();
    let mut ranked: Vec<&str> = candidates.ranked.iter().map(|candidate| candidate.material.id()).collect();
    ranked.sort_unstable();
    assert_eq!(ranked, ["around", "same", "touches-above", "touches-below"]);
    let why = |id: &str| candidates.passed_over.iter().find(|passed| passed.material == id).unwrap().reasons.join("; ");
    assert_eq!(why("below"), "pH range 3 to 4.9 does not meet 5 to 7");
    assert_eq!(why("above"), "pH range 7.1 to 9 does not meet 5 to 7");
    assert_eq!(why("no-ph"), "pH range not stated");
    assert_eq!(why("of-palm"), "palm: yes, which the old one is not");
    assert_eq!(why("palm-unsaid"), "palm: not stated, while the old one is stated not to be");
    // What nobody stated of the old one, or what it has, is asked of none.
    let open = catalogue(&[
        grade("old", 60, false, "attributes = { palm = true }\n"),
        grade("new", 70, false, "attributes = { palm = true }\n"),
        grade("bare", 70, false, OLD),
    ]);
    assert!(bar(&open).candidates("old", &open, &[Measure::active_matter()]).unwrap().passed_over.is_empty());
}

/// What the review counts as no preservative is offered in place of none, and it is said why.
#[test]
fn neither_boosters_nor_hydrosols_stand_in_for_a_preservative() {
    let starter = Catalogue::starter();
    let line = |id: &str, percent: &str| {
        Line::new(id, starter.material(id).unwrap().clone(), Ppm::from_percent(percent).unwrap()).unwrap()
    };
    let lines = vec![line("phenoxyethanol", "1"), line("glycerin-99-5", "20"), line("water", "79").as_qs(true)];
    let liquid = Formula::new("Liquid", lines).unwrap();
    let candidates = liquid.candidates("phenoxyethanol", &starter, &[Measure::water()]).unwrap();
    assert!(!candidates.ranked.is_empty());
    for Candidate { material, .. } in &candidates.ranked {
        assert_eq!(material.main_class(), Class::Preservative, "{}", material.id());
        assert!(!material.id().contains("hydrosol"), "{}", material.id());
    }
    let why = candidates.passed_over.iter().find(|passed| passed.material == "ethylhexylglycerin").unwrap();
    assert_eq!(why.reasons[0], "boosts preservatives and is none");
}
