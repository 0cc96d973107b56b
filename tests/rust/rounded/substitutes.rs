//! One raw material in place of another: what is kept, what gives, and what is said when it cannot be done.

use std::sync::Arc;

use tenside::catalogue::Catalogue;
use tenside::formula::{Formula, Line};
use tenside::material::{Composition, Constituent, Form, Material};
use tenside::measure::{Basis, Measure, Scope};
use tenside::number::{Exact, Ppm};
use tenside::substance::{Class, Substance};

fn percent(text: &str) -> Ppm {
    Ppm::from_percent(text).unwrap()
}

/// A surfactant powder of this strength; the rest is salt.
fn grade(id: &str, strength: &str) -> Arc<Material> {
    let active =
        Substance::new("SODIUM COCOYL ISETHIONATE", Class::AnionicSurfactant).unwrap().counting_as_active(true);
    let salt = Substance::new("SODIUM CHLORIDE", Class::Salt).unwrap();
    let rest = Ppm::from_parts(1_000_000 - percent(strength).parts()).unwrap();
    let rows =
        vec![Constituent::typical(Arc::new(active), percent(strength)), Constituent::typical(Arc::new(salt), rest)];
    Arc::new(Material::new(id, id, Form::Powder, Composition::stated(rows).unwrap()).unwrap())
}

fn line(id: &str, share: &str) -> Line {
    Line::new(id, Catalogue::starter().material(id).unwrap().clone(), percent(share)).unwrap()
}

fn with_84(lines: Vec<Line>) -> Formula {
    let first = Line::new("grade-84", grade("grade-84", "84"), percent("50")).unwrap();
    Formula::new("Bar", std::iter::once(first).chain(lines).collect()).unwrap()
}

fn share(formula: &Formula, line: &str) -> Exact {
    formula.line(line).unwrap().percent().percent()
}

fn read(formula: &Formula, measure: &Measure) -> Exact {
    formula.measure(measure, &Basis::AsCharged).unwrap().value.unwrap().typical.unwrap()
}

#[test]
fn fifty_of_an_84_needs_seventy_of_a_60() {
    let bar = with_84(vec![line("cetyl-alcohol", "10"), line("kaolin", "40").as_qs(true)]);
    let substitution = bar.substitute("grade-84", &grade("grade-60", "60"), &[Measure::active_matter()]).unwrap();
    substitution.verify().unwrap();
    assert!(substitution.is_exact());
    assert_eq!(substitution.needed(), Some(&Exact::from(70)));
    assert_eq!(share(substitution.after(), "grade-60"), Exact::from(70));
    assert_eq!(share(substitution.after(), "cetyl-alcohol"), Exact::from(10), "the q.s. line gives, not the others");
    assert_eq!(share(substitution.after(), "kaolin"), Exact::from(20));
    assert_eq!(read(substitution.after(), &Measure::active_matter()), Exact::from(42));
    assert!(substitution.sentence().contains("not in foam, feel or pH"));
}

#[test]
fn without_room_it_says_which_line_would_have_to_give() {
    let lines = || {
        vec![line("cetyl-alcohol", "15").as_fixed(true), line("citric-acid-50", "20"), line("kaolin", "15").as_qs(true)]
    };
    let bar = with_84(lines());
    let substitution = bar.substitute("grade-84", &grade("grade-60", "60"), &[Measure::active_matter()]).unwrap();
    substitution.verify().unwrap();
    assert!(!substitution.is_exact());
    // 35 % are held, so 65 % of the new grade bring 39 %: 3 of 42 are missing.
    assert_eq!(read(substitution.after(), &Measure::active_matter()), Exact::from(39));
    assert_eq!(substitution.total_departure(), &Exact::ratio(3, 42));
    let given: Exact = substitution.would_have_to_give().iter().map(|change| &change.before - &change.after).sum();
    assert_eq!(given, Exact::from(5));
    let sentence = substitution.sentence();
    for part in ["cannot be done exactly", "needs 70.00 %", "room for 65.00 %", "would have to give"] {
        assert!(sentence.contains(part), "{sentence}");
    }
    assert!(!substitution.kept()[0].is_exact);
    // 95 % of the strong grade: 133 % of the weak one, and no line to take it from.
    let first = Line::new("grade-84", grade("grade-84", "84"), percent("95")).unwrap();
    let strong = Formula::new("Strong", vec![first, line("kaolin", "5").as_qs(true)]).unwrap();
    let substitution = strong.substitute("grade-84", &grade("grade-60", "60"), &[Measure::active_matter()]).unwrap();
    assert_eq!(substitution.needed(), Some(&Exact::from(133)));
    assert!(substitution.would_have_to_give().is_empty());
    assert!(substitution.sentence().contains("no change of the other lines would do"), "{}", substitution.sentence());
    assert_eq!(share(substitution.after(), "grade-60"), Exact::hundred());
}

/// A discontinued powder of 85 % against noodles of 65 % with a quarter of stearic acid.
#[test]
fn noodles_lower_the_stearic_acid_line() {
    let lines = vec![
        line("sci-powder", "40"),
        line("capb-30", "10"),
        line("stearic-acid", "20"),
        line("benzyl-alcohol-dha-blend", "0.8"),
        line("kaolin", "29.2").as_qs(true),
    ];
    let bar = Formula::new("Bar", lines).unwrap();
    let noodles = Catalogue::starter().material("sci-noodles").unwrap().clone();
    let keep = [Measure::active_matter(), Measure::class(Class::FattyAcid), Measure::anionic_charge()];
    let substitution = bar.substitute("sci-powder", &noodles, &keep[..2]).unwrap();
    substitution.verify().unwrap();
    assert!(substitution.is_exact());
    for measure in &keep[..2] {
        let moved = (read(substitution.after(), measure) - read(&bar, measure)).abs();
        assert!(moved <= Exact::ratio(1, 1000), "{} moved by {moved}", measure.name());
    }
    assert!(share(substitution.after(), "stearic-acid") < share(&bar, "stearic-acid"));
    assert_eq!(share(substitution.after(), "capb-30"), Exact::from(10));
    assert_eq!(share(substitution.after(), "benzyl-alcohol-dha-blend"), share(&bar, "benzyl-alcohol-dha-blend"));
    assert_eq!(substitution.after().line("sci-noodles").unwrap().phase(), bar.line("sci-powder").unwrap().phase());
    // Fixed, the line cannot give; it is named.
    let lines: Vec<Line> =
        bar.lines().iter().map(|line| line.clone().as_fixed(line.name() == "stearic-acid")).collect();
    let held = Formula::new("Held", lines).unwrap().substitute("sci-powder", &noodles, &keep[..2]).unwrap();
    held.verify().unwrap();
    assert!(!held.is_exact());
    assert_eq!(
        held.would_have_to_give().iter().map(|change| change.line.as_str()).collect::<Vec<_>>(),
        ["stearic-acid"]
    );
    // Little stearic acid in the bar: the noodles bring too much, and no line can take it away.
    let few = vec![line("sci-powder", "60"), line("stearic-acid", "2"), line("kaolin", "38").as_qs(true)];
    let few = Formula::new("Little", few).unwrap().substitute("sci-powder", &noodles, &keep[..2]).unwrap();
    few.verify().unwrap();
    assert!(!few.is_exact() && few.would_have_to_give().is_empty());
    assert_eq!(share(few.after(), "stearic-acid"), Exact::ZERO);
}

/// The nearest is the least total departure: every percentage of a three-line formula in steps of 1 % departs by as
/// much or more.
#[test]
fn the_nearest_departs_least() {
    let bar = with_84(vec![line("stearic-acid", "2"), line("kaolin", "48").as_qs(true)]);
    let noodles = Catalogue::starter().material("sci-noodles").unwrap().clone();
    let keep = [Measure::active_matter(), Measure::class(Class::FattyAcid)];
    let substitution = bar.substitute("grade-84", &noodles, &keep).unwrap();
    assert!(!substitution.is_exact());
    let mut least: Option<Exact> = None;
    for (first, second) in (0..=100u32).flat_map(|first| (0..=100 - first).map(move |second| (first, second))) {
        let ppm = |percent: u32| Ppm::from_parts(percent * 10_000).unwrap();
        let lines = vec![
            Line::new("sci-noodles", noodles.clone(), ppm(first)).unwrap(),
            line("stearic-acid", "0").with_percent(ppm(second)),
            line("kaolin", "0").with_percent(ppm(100 - first - second)),
        ];
        let formula = Formula::new("Try", lines).unwrap();
        let departure: Exact =
            keep.iter().map(|measure| (read(&formula, measure) / read(&bar, measure) - Exact::ONE).abs()).sum();
        assert!(departure >= *substitution.total_departure(), "{first} {second}");
        if least.as_ref().is_none_or(|least| departure < *least) {
            least = Some(departure);
        }
    }
    let near = least.unwrap() - substitution.total_departure();
    assert!(near <= Exact::ratio(1, 5), "{near}");
}

/// A ratio that cannot be kept is not nearest where nothing is left of what it divides by.
#[test]
fn the_nearest_ratio_departs_least() {
    let ratio = Measure::active_matter().per(&Measure::water());
    let lines = vec![
        line("sci-powder", "30"),
        line("capb-30", "10"),
        line("kaolin", "57"),
        line("citric-acid-50", "3").as_fixed(true),
    ];
    let bar = Formula::new("Bar", lines).unwrap();
    let glucoside = Catalogue::starter().material("coco-glucoside-50").unwrap().clone();
    let departure = |formula: &Formula, keep: &[Measure]| -> Exact {
        keep.iter().map(|measure| (read(formula, measure) / read(&bar, measure) - Exact::ONE).abs()).sum()
    };
    let alone = [ratio.clone()];
    let substitution = bar.substitute("sci-powder", &glucoside, &alone).unwrap();
    substitution.verify().unwrap();
    assert_eq!(share(substitution.after(), "coco-glucoside-50"), Exact::from(97));
    assert_eq!(substitution.total_departure(), &departure(substitution.after(), &alone));
    for (first, second) in (0..=97u32).flat_map(|first| (0..=97 - first).map(move |second| (first, second))) {
        let ppm = |percent: u32| Ppm::from_parts(percent * 10_000).unwrap();
        let lines = vec![
            Line::new("coco-glucoside-50", glucoside.clone(), ppm(first)).unwrap(),
            line("capb-30", "0").with_percent(ppm(second)),
            line("kaolin", "0").with_percent(ppm(97 - first - second)),
            line("citric-acid-50", "3"),
        ];
        let tried = Formula::new("Try", lines).unwrap();
        assert!(departure(&tried, &alone) >= *substitution.total_departure(), "{first} {second}");
    }
    // Beside another measure the sum is that of the formula found, and below that of the two that come to mind.
    let both = [ratio, Measure::active_matter()];
    let substitution = bar.substitute("sci-powder", &glucoside, &both).unwrap();
    substitution.verify().unwrap();
    let reported = departure(substitution.after(), &both);
    assert!((substitution.total_departure() - &reported).abs() < Exact::ratio(1, 10_000), "{reported}");
    let one_for_one = bar.lines().iter().map(|it| match it.name() {
        "sci-powder" => Line::new("coco-glucoside-50", glucoside.clone(), it.percent()).unwrap(),
        _ => it.clone(),
    });
    let one_for_one = Formula::new("One for one", one_for_one.collect()).unwrap();
    assert!(*substitution.total_departure() <= departure(&one_for_one, &both));
    // With every line free the ratio could be over nothing; the answer with the lines as they are stands all the same.
    let dry = vec![line("capb-30", "39"), line("sci-noodles", "24"), line("sodium-chloride", "37")];
    let powder = Catalogue::starter().material("sci-powder").unwrap().clone();
    let dry = Formula::new("Dry", dry).unwrap().substitute("capb-30", &powder, &alone).unwrap();
    dry.verify().unwrap();
    assert!(dry.would_have_to_give().is_empty() && share(dry.after(), "sci-noodles") > Exact::ZERO);
    let candidates = bar.candidates("sci-powder", &Catalogue::starter(), &alone).unwrap();
    for candidate in &candidates.ranked {
        let substitution = &candidate.substitution;
        let gap = (substitution.total_departure() - departure(substitution.after(), &alone)).abs();
        assert!(gap < Exact::ratio(1, 10_000), "{}: {gap}", candidate.material.id());
    }
    assert!(candidates.ranked.len() > 3);
}

#[test]
fn nothing_to_keep_keeps_the_percentage() {
    let bar = with_84(vec![line("kaolin", "50").as_qs(true)]);
    let substitution = bar.substitute("grade-84", &grade("grade-60", "60"), &[]).unwrap();
    substitution.verify().unwrap();
    assert_eq!(share(substitution.after(), "grade-60"), Exact::from(50));
    assert!(substitution.changes().is_empty());
}

#[test]
fn what_cannot_be_asked() {
    let bar = with_84(vec![line("kaolin", "50")]);
    let says = |result: Result<tenside::solve::Substitution, tenside::Error>, part: &str| {
        let error = result.unwrap_err().to_string();
        assert!(error.contains(part), "{error}");
    };
    says(bar.substitute("grade-48", &grade("grade-60", "60"), &[]), "grade-84");
    says(bar.substitute("grade-84", &grade("grade-84", "84"), &[]), "by itself");
    says(bar.substitute("grade-84", &grade("grade-60", "60"), &[Measure::cost()]), "price");
    says(
        bar.substitute("grade-84", &grade("grade-60", "60"), &[Measure::active_matter(), Measure::active_matter()]),
        "same name",
    );
}

#[test]
fn candidates_match_before_they_are_ranked() {
    let catalogue = Catalogue::starter();
    let bar = Formula::new(
        "Bar",
        vec![line("scs-needles", "30"), line("stearic-acid", "20"), line("kaolin", "50").as_qs(true)],
    )
    .unwrap();
    let candidates = bar.candidates("scs-needles", &catalogue, &[Measure::active_matter()]).unwrap();
    let old = catalogue.material("scs-needles").unwrap();
    let class = |material: &Material| material.surfactant_class().unwrap_or_else(|| material.main_class());
    assert!(!candidates.passed_over.is_empty());
    let acids = bar.candidates("stearic-acid", &catalogue, &[Measure::class(Class::FattyAcid)]).unwrap();
    let acid = catalogue.material("stearic-acid").unwrap();
    assert!(acids.ranked.len() > 1);
    for candidate in &acids.ranked {
        assert_eq!(class(&candidate.material), class(acid));
        assert_eq!(candidate.material.form(), acid.form());
        candidate.substitution.verify().unwrap();
    }
    for pair in acids.ranked.windows(2) {
        let key = |at: usize| (pair[at].substitution.total_departure().clone(), pair[at].substitution.disturbance());
        assert!(key(0) <= key(1));
    }
    let same_class =
        catalogue.materials().filter(|material| material.id() != old.id() && class(material) == class(old)).count();
    assert_eq!(candidates.ranked.len() + candidates.passed_over.len(), same_class);
    let powder = candidates.passed_over.iter().find(|passed| passed.material == "scs-powder").unwrap();
    assert!(powder.reasons.contains(&"powder instead of needles".to_string()));
    assert!(candidates.ranked.is_empty() && candidates.page().text(200).contains("Nothing matches"));
    assert!(acids.page().text(200).contains("equal in what was kept"));
    assert!(bar.candidates("clay", &catalogue, &[]).is_err());
}

/// Keeping what the new raw material alone would bring at 0 would leave none of it, and the ratio over it no value: a
/// thousandth of it stays.
#[test]
fn a_ratio_to_keep_keeps_a_little_of_what_it_divides_by() {
    let group = || Scope::group("g").unwrap();
    let bar =
        Formula::new("Bar", vec![line("talc", "40").in_groups(&["g".to_string()]), line("kaolin", "60").as_qs(true)])
            .unwrap();
    let whole = Measure::as_supplied().contributed_by(group());
    let keep = [Measure::active_matter(), whole.clone().per(&whole)];
    let material = Catalogue::starter().material("sci-powder").unwrap().clone();
    let substitution = bar.substitute("talc", &material, &keep).unwrap();
    substitution.verify().unwrap();
    assert_eq!(share(substitution.after(), "sci-powder"), Exact::ratio(4, 100));
    assert!(!substitution.is_exact());
}

/// What two measures allow together is found where the first program would leave nothing of what the ratio divides by,
/// and beside a ratio that cannot be kept the other measure comes as near as it can.
#[test]
fn a_ratio_is_kept_beside_another_measure() {
    let catalogue = Catalogue::starter();
    let swap = |lines: Vec<Line>, old: &str, new: &str, keep: &[Measure]| {
        let formula = Formula::new("Bar", lines).unwrap();
        let substitution = formula.substitute(old, &catalogue.material(new).unwrap().clone(), keep).unwrap();
        substitution.verify().unwrap();
        substitution
    };
    let anionic = Measure::anionic_active().per(&Measure::active_matter());
    let bar = vec![line("sci-powder", "60"), line("kaolin", "30"), line("water", "10")];
    assert!(swap(bar, "sci-powder", "sci-noodles", &[anionic, Measure::water()]).is_exact());
    let amphoteric = Measure::amphoteric_active().per(&Measure::active_matter());
    let wash = vec![line("sci-powder", "50"), line("capb-30", "10"), line("water", "20"), line("kaolin", "20")];
    assert!(swap(wash, "sci-powder", "sls-liquid-29", &[amphoteric.clone(), Measure::water()]).is_exact());
    let wet =
        vec![line("sci-powder", "17"), line("sci-noodles", "11"), line("water", "50"), line("cetyl-alcohol", "22")];
    let wet = swap(wet, "sci-powder", "hydroxysultaine-40", &[amphoteric, Measure::water()]);
    assert!(*wet.total_departure() < Exact::ratio(1, 2), "{}", wet.total_departure());
}

/// A betaine powder brings no water: the nearest takes what the surfactants held, and the sentence says so.
#[test]
fn a_line_of_which_nothing_is_left_is_named_in_the_sentence() {
    let lines = vec![
        line("sci-powder", "48.33"),
        line("scs-needles", "15.59"),
        line("capb-30", "9.67"),
        line("cetyl-alcohol", "6").as_fixed(true),
        line("citric-acid-50", "0.3").as_fixed(true),
        line("kaolin", "20.11").as_qs(true),
    ];
    let bar = Formula::new("Bar", lines).unwrap();
    let powder = Catalogue::starter().material("capb-powder").unwrap().clone();
    let substitution = bar.substitute("capb-30", &powder, &[Measure::active_matter(), Measure::water()]).unwrap();
    let emptied: Vec<String> =
        substitution.changes().into_iter().filter(|change| change.after.is_zero()).map(|change| change.line).collect();
    assert!(!emptied.is_empty(), "{}", substitution.sentence());
    let said = substitution.sentence();
    assert!(said.contains("; to nothing go ") && emptied.iter().all(|line| said.contains(line)), "{said}");
}
