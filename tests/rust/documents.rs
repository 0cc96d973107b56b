//! What is written is read back: equal, and with the same answer.

use std::sync::Arc;

use tenside::brief::{Brief, BriefLine, Direction, Objective, Requirement, Role, SplitBasis};
use tenside::catalogue::Catalogue;
use tenside::document::{Materials, Notation};
use tenside::formula::{Formula, Line};
use tenside::material::{Certificate, Composition, Constituent, Form, Lot, Material, StatedActive};
use tenside::measure::{Basis, Measure, Scope, ScoreTable};
use tenside::number::Exact;
use tenside::solve::Outcome;
use tenside::substance::{Charge, Class, MolarMass, Substance};

use crate::support::{Ends, Pool, Random, exact, material, percent, random_brief, substances};

const NOTATIONS: [Notation; 2] = [Notation::Toml, Notation::Json];

fn brief_again(brief: &Brief, notation: Notation) -> Brief {
    let text = brief.write(notation, Materials::Embedded).unwrap();
    Brief::read(&text, notation, &Catalogue::empty()).unwrap_or_else(|error| panic!("{error}\n{text}"))
}

fn formula_again(formula: &Formula, notation: Notation) -> Formula {
    let text = formula.write(notation, Materials::Embedded).unwrap();
    Formula::read(&text, notation, &Catalogue::empty()).unwrap_or_else(|error| panic!("{error}\n{text}"))
}

/// Equal when read back, and answered alike.
fn survives(brief: &Brief) {
    let first = brief.try_solve();
    for notation in NOTATIONS {
        let again = brief_again(brief, notation);
        assert_eq!(&again, brief, "{notation:?}");
        match (&first, again.try_solve()) {
            (Ok(Outcome::Answered(first)), Ok(Outcome::Answered(second))) => {
                assert_eq!(first.exact(), second.exact(), "{notation:?}");
                assert_eq!(first.formula(), second.formula());
                if let Ok(formula) = first.formula() {
                    assert_eq!(&formula_again(formula, notation), formula, "{notation:?}");
                }
            }
            (Ok(Outcome::Conflict(first)), Ok(Outcome::Conflict(second))) => {
                assert_eq!(first.sentence(), second.sentence())
            }
            (Err(first), Err(second)) => assert_eq!(first, &second),
            (first, second) => panic!("{first:?} and {second:?}"),
        }
    }
}

fn starter(id: &str) -> Arc<Material> {
    Catalogue::starter().material(id).unwrap().clone()
}

fn line(name: &str, material: &Arc<Material>, role: Role) -> BriefLine {
    BriefLine::new(name, Arc::clone(material), role).unwrap()
}

#[test]
fn random_briefs_survive_both_notations() {
    let starter = Pool::starter();
    for seed in 4000..4030 {
        survives(&random_brief(&mut Random::new(seed), &starter));
        survives(&random_brief(&mut Random::new(seed), &Pool::invented(seed, 13)));
    }
}

#[test]
fn the_starter_catalogue_survives_both_notations() {
    let starter = Catalogue::starter();
    for notation in NOTATIONS {
        let again = Catalogue::read(&starter.write(notation).unwrap(), notation).unwrap();
        assert_eq!(again.materials().count(), starter.materials().count());
        for (one, other) in again.materials().zip(starter.materials()) {
            assert_eq!(one, other);
        }
        assert_eq!(again.aliases(), starter.aliases());
        assert_eq!(again.write(notation).unwrap(), starter.write(notation).unwrap());
    }
}

#[test]
fn invented_catalogues_with_lots_survive_both_notations() {
    let mut catalogue = Catalogue::empty();
    let mut random = Random::new(8);
    for place in 0..60 {
        let ends = if place % 2 == 0 { Ends::All } else { Ends::Some };
        catalogue =
            catalogue.with_material(Arc::new(material(&mut random, &format!("invented-{place}"), ends))).unwrap();
    }
    let retest = Certificate {
        retest: Some("2027-03-31".parse().unwrap()),
        ph: Some("6.5".parse().unwrap()),
        ..Certificate::default()
    };
    catalogue = catalogue.with_lot(Arc::new(Lot::new("A 1 <b>", "invented-3", retest).unwrap())).unwrap();
    for notation in NOTATIONS {
        let again = Catalogue::read(&catalogue.write(notation).unwrap(), notation).unwrap();
        assert!(again.materials().eq(catalogue.materials()));
        assert!(again.lots().eq(catalogue.lots()));
    }
}

#[test]
fn bounds_survive_as_stated() {
    let row = |place: usize| Constituent::bounded(Arc::clone(&substances()[place]));
    let ranged = row(6).with_range(Some(percent("10")), Some(percent("30"))).unwrap();
    for descending in [true, false] {
        let composition = Composition::bounded(vec![row(0), ranged.clone(), row(5)], descending).unwrap();
        let bounded = Arc::new(Material::new("bounded", "Bounds only", Form::Paste, composition).unwrap());
        let catalogue = Catalogue::empty().with_material(Arc::clone(&bounded)).unwrap();
        for notation in NOTATIONS {
            let again = Catalogue::read(&catalogue.write(notation).unwrap(), notation).unwrap();
            assert_eq!(
                again.material("bounded").unwrap().composition(),
                bounded.composition(),
                "descending {descending}"
            );
            assert_eq!(again.material("bounded").unwrap(), &bounded, "descending {descending}");
        }
    }
}

/// 60 % active with a quarter of stearic acid: common practice, no source.
fn weak_grade() -> (Catalogue, Arc<Lot>) {
    let mut certificate = Certificate { free_fatty_acid: Some(percent("25")), ..Certificate::default() };
    certificate.active = Some(StatedActive {
        percent: percent("60"),
        method: "two-phase titration".to_string(),
        molar_mass: Some("350.5".parse().unwrap()),
    });
    let lot = Arc::new(Lot::new("W-60", "sci-flakes", certificate).unwrap());
    (Catalogue::starter().with_lot(Arc::clone(&lot)).unwrap(), lot)
}

#[test]
fn the_weak_grade_is_worked_as_it_is() {
    let (catalogue, lot) = weak_grade();
    let (material, changes) = catalogue.material("sci-flakes").unwrap().with_lot(&lot).unwrap();
    assert_eq!(material.active().unwrap().percent(), &Exact::from(60));
    assert_eq!(material.typical_percent(|row| row.class() == Class::FattyAcid).unwrap(), Exact::from(25));
    assert_eq!(material.typical_percent(|_| true).unwrap(), Exact::hundred());
    assert!(changes.iter().any(|change| change.takes_difference));
    let brief = |brief: Brief| {
        brief
            .free("sci-flakes")
            .unwrap()
            .between("cetyl-alcohol", 3, 12)
            .unwrap()
            .qs("kaolin")
            .unwrap()
            .target(Measure::active_matter(), 42)
            .unwrap()
    };
    let typical = brief(Brief::new("Typical", &catalogue).unwrap()).solve().unwrap();
    let weak = brief(Brief::new("Weak", &catalogue).unwrap()).use_lot("sci-flakes", &lot).unwrap();
    assert_eq!(weak.solve().unwrap().exact_percent("sci-flakes"), Some(&Exact::from(70)));
    assert!(typical.exact_percent("sci-flakes").unwrap() < &Exact::from(60));
    survives(&weak);
    let stocked =
        brief(Brief::new("Stocked", &catalogue).unwrap()).in_stock(&["W-60", "kaolin", "cetyl-alcohol"]).unwrap();
    assert_eq!(stocked.solve().unwrap().exact(), weak.solve().unwrap().exact());
    survives(&stocked);
    // More than the certificate leaves room for.
    let ten = Brief::new("None to be had", &catalogue)
        .unwrap()
        .between("sci-flakes", 10, 20)
        .unwrap()
        .qs("kaolin")
        .unwrap()
        .in_stock(&["kaolin"])
        .unwrap();
    let Outcome::Conflict(conflict) = ten.try_solve().unwrap() else { panic!("10 % of what is not in stock") };
    conflict.verify().unwrap();
    survives(&ten);
}

#[test]
fn two_lots_of_a_material_stand_on_two_lines() {
    let (catalogue, weak) = weak_grade();
    let strong = Certificate {
        active: Some(StatedActive { percent: percent("80"), method: "titrated".to_string(), molar_mass: None }),
        ..Certificate::default()
    };
    let strong = Arc::new(Lot::new("S-80", "sci-flakes", strong).unwrap());
    let flakes = catalogue.material("sci-flakes").unwrap();
    let brief = Brief::new("Both", &catalogue).unwrap();
    let brief = ["weak", "strong", "typical"]
        .iter()
        .fold(brief, |brief, name| brief.line(line(name, flakes, Role::Free)).unwrap());
    let brief = brief
        .use_lot("weak", &weak)
        .unwrap()
        .use_lot("strong", &strong)
        .unwrap()
        .target(Measure::active_matter(), 70)
        .unwrap();
    survives(&brief.split("grades", SplitBasis::Active, [("weak", 1), ("strong", 2)]).unwrap());
}

#[test]
fn a_premix_survives_in_a_brief() {
    let lines = [("sci-powder", "80"), ("capb-30", "20")]
        .map(|(id, share)| Line::new(id, starter(id), percent(share)).unwrap());
    let inner =
        Arc::new(Formula::new("Wash base", lines.to_vec()).unwrap().to_material("wash-base", Form::Paste).unwrap());
    let lines = [("wash-base", &inner, "90"), ("kaolin", &starter("kaolin"), "10")]
        .map(|(name, material, share)| Line::new(name, Arc::clone(material), percent(share)).unwrap());
    let outer =
        Arc::new(Formula::new("Second base", lines.to_vec()).unwrap().to_material("second-base", Form::Paste).unwrap());
    let brief = Brief::new("Premixed", &Catalogue::starter()).unwrap();
    let brief = brief
        .line(line("base", &outer, Role::Free))
        .unwrap()
        .line(line("more", &starter("sci-powder"), Role::Free))
        .unwrap()
        .qs("cetyl-alcohol")
        .unwrap();
    survives(&brief.target(Measure::active_matter(), 50).unwrap());
}

#[test]
fn a_premix_of_a_lot_keeps_the_lot() {
    let (catalogue, weak) = weak_grade();
    let flakes = catalogue.material("sci-flakes").unwrap();
    let of_lot = Arc::new(flakes.with_lot(&weak).unwrap().0);
    let lines = vec![
        Line::new("flakes", of_lot, percent("70")).unwrap(),
        Line::new("kaolin", starter("kaolin"), percent("30")).unwrap(),
    ];
    let base = Arc::new(Formula::new("Base", lines).unwrap().to_material("base", Form::Flakes).unwrap());
    let brief = Brief::new("Both grades", &catalogue)
        .unwrap()
        .line(line("typical", flakes, Role::Free))
        .unwrap()
        .line(line("base", &base, Role::Free))
        .unwrap();
    survives(&brief.at_least(Measure::active_matter(), 60).unwrap().maximise(Measure::class(Class::FattyAcid)));
    let catalogue = catalogue.with_material(base).unwrap();
    let again = Catalogue::read(&catalogue.write(Notation::Toml).unwrap(), Notation::Toml).unwrap();
    assert_eq!(again.material("base").unwrap(), catalogue.material("base").unwrap());
}

#[test]
fn two_materials_of_one_id_are_refused() {
    let kaolin = starter("kaolin");
    let other = Arc::new(material(&mut Random::new(1), "kaolin", Ends::All));
    let error = Brief::new("Two", &Catalogue::starter())
        .unwrap()
        .qs("kaolin")
        .unwrap()
        .line(line("other", &other, Role::Free))
        .unwrap_err();
    assert!(error.is_contradiction(), "{error}");
    let hidden = Formula::new("Base", vec![Line::new("other", other, percent("100")).unwrap()])
        .unwrap()
        .to_material("base", Form::Powder)
        .unwrap();
    let lines = vec![
        Line::new("kaolin", kaolin, percent("50")).unwrap(),
        Line::new("base", Arc::new(hidden), percent("50")).unwrap(),
    ];
    assert!(Formula::new("Two", lines).unwrap_err().is_contradiction());
}

#[test]
fn two_lots_of_one_name_are_refused() {
    let of = |material: &str| Arc::new(Lot::new("17", material, Certificate::default()).unwrap());
    let brief = Brief::new("Two", &Catalogue::starter())
        .unwrap()
        .free("sci-powder")
        .unwrap()
        .qs("kaolin")
        .unwrap()
        .use_lot("kaolin", &of("kaolin"))
        .unwrap();
    assert!(brief.use_lot("sci-powder", &of("sci-powder")).unwrap_err().is_duplicate());
    let (kaolin, powder) = (
        starter("kaolin").with_lot(&of("kaolin")).unwrap().0,
        starter("sci-powder").with_lot(&of("sci-powder")).unwrap().0,
    );
    let lines = vec![
        Line::new("kaolin", Arc::new(kaolin), percent("50")).unwrap(),
        Line::new("powder", Arc::new(powder), percent("50")).unwrap(),
    ];
    assert!(Formula::new("Two", lines).unwrap_err().is_duplicate());
}

fn plain() -> Brief {
    Brief::new("Plain", &Catalogue::starter())
        .unwrap()
        .free("sci-powder")
        .unwrap()
        .free("capb-30")
        .unwrap()
        .qs("kaolin")
        .unwrap()
}

#[test]
fn groups_survive_beside_splits() {
    let brief = plain().split("wash", SplitBasis::Active, [("sci-powder", 9), ("capb-30", 1)]).unwrap();
    // A further line in the split's group, and a group named after the split was.
    let brief = brief.group("wash", &["kaolin"]).unwrap().group("a group", &["sci-powder", "kaolin"]).unwrap();
    let share = Measure::active_matter().within(Scope::group("wash").unwrap());
    survives(&brief.require(Requirement::at_most(share, Exact::from(70)).unwrap()).unwrap());
}

#[test]
fn every_scope_and_denominator_survives() {
    let scores = |name: &str| ScoreTable::new(name, [("sci-powder", 3), ("capb-30", 2), ("kaolin", 1)]).unwrap();
    let lines = Scope::lines(["sci-powder", "capb-30"]).unwrap();
    let measures = [
        Measure::active_matter().within(lines.clone()),
        Measure::active_matter().contributed_by(lines.clone()),
        Measure::active_matter()
            .contributed_by(Scope::phase("powder").unwrap())
            .per(&Measure::active_matter().within(lines.clone())),
        Measure::active_matter().per(&Measure::active_matter().within(lines.clone())),
        Measure::as_supplied().per(&Measure::as_supplied().within(lines.clone())),
        Measure::water().per(&Measure::score(scores("slip"))),
        Measure::score(scores("feel")).per(&Measure::score(scores("slip"))),
        Measure::substance("LINALOOL").unwrap().per(&Measure::class(Class::Salt)),
    ];
    for measure in measures {
        let brief = plain().require(Requirement::at_most(measure, Exact::from(1_000_000)).unwrap()).unwrap();
        survives(&brief);
    }
}

#[test]
fn every_objective_survives() {
    let kept = |base: &[(&str, &str)]| {
        Objective::LeastChange(base.iter().map(|(name, share)| (name.to_string(), percent(share))).collect())
    };
    let objectives = [
        kept(&[("sci-powder", "60"), ("kaolin", "30"), ("capb-30", "10")]),
        kept(&[]),
        Objective::measure(Direction::Maximise, Measure::active_matter(), Basis::finished(exact("1/3")).unwrap()),
        Objective::measure(
            Direction::Minimise,
            Measure::water().within(Scope::phase("liquid").unwrap()),
            Basis::AsCharged,
        ),
    ];
    for objective in objectives {
        survives(&plain().at_least(Measure::active_matter(), 50).unwrap().with_objective(Some(objective)));
    }
}

#[test]
fn numbers_of_any_length_survive() {
    for number in [
        "1/3",
        "0.1",
        "1/1073741824",
        "1/1099511627776",
        "12345678901234567/1000",
        "79228162514264337593543950337/1",
        "-1/7",
    ] {
        let value = exact(number);
        assert_eq!(exact(&value.to_string()), value, "{number} prints as {value}");
        survives(&plain().require(Requirement::at_least(Measure::water(), value.clone()).unwrap()).unwrap());
        survives(&plain().require(Requirement::equal(Measure::water(), value).unwrap()).unwrap());
    }
}

#[test]
fn substances_of_ones_own_survive() {
    let surfactant = |mass: MolarMass| {
        let substance =
            Substance::new("SODIUM COCOYL ISETHIONATE", Class::AnionicSurfactant).unwrap().counting_as_active(true);
        Arc::new(substance.with_charge(Charge::PerMole((-1).into())).with_molar_mass(mass))
    };
    // Another molar mass than the embedded table has under that name.
    let own = surfactant(MolarMass::of_chains(340, None, "as our supplier says").unwrap());
    let composition = Composition::stated(vec![Constituent::typical(own, percent("100"))]).unwrap();
    let powder = Arc::new(Material::new("own-powder", "Our own", Form::Powder, composition).unwrap());
    let brief = Brief::new("Own", &Catalogue::empty()).unwrap().line(line("own", &powder, Role::Free)).unwrap();
    survives(
        &brief.line(line("clay", &starter("kaolin"), Role::Qs)).unwrap().target(Measure::anionic_charge(), 1).unwrap(),
    );
}

#[test]
fn marks_and_markup_survive_in_names() {
    for name in [
        "<script>alert(1)</script>",
        "a \"quoted\" name",
        "back\\slash",
        "100 % Kaolin & Öl",
        "'''",
        "#",
        "[line]",
        "δ-tocopherol",
        "洗髪",
    ] {
        let brief =
            Brief::new(name, &Catalogue::starter()).unwrap().line(line(name, &starter("kaolin"), Role::Qs)).unwrap();
        survives(&brief.in_phase(name, name).unwrap().group(name, &[name]).unwrap());
    }
}
