//! What is suggested for a name that nobody knows is never another kind of thing.

use tenside::catalogue::Catalogue;
use tenside::formula::{Answer, Draft, DraftLine, QuestionKind};
use tenside::material::{Form, Material};

/// A kind of thing, the words that say so, and the forms that do.
const KINDS: [(&str, &[&str], &[Form]); 12] = [
    ("hydrosol", &["hydrosol", "hydrolate", "distillate"], &[]),
    ("juice", &["juice"], &[]),
    ("extract", &["extract"], &[]),
    ("oil", &["oil", "oils", "otto"], &[]),
    ("butter", &["butter"], &[]),
    ("wax", &["wax"], &[]),
    ("vinegar", &["vinegar"], &[]),
    ("starch", &["starch", "flour", "oatmeal", "cornflour"], &[]),
    ("clay", &["clay", "earth"], &[]),
    ("acid", &["acid", "acids"], &[]),
    ("powder", &["powder"], &[Form::Powder]),
    ("solution", &["solution", "liquid"], &[Form::Liquid]),
];

/// The words of all its names, those included that it shares with others.
fn words(material: &Material, catalogue: &Catalogue) -> Vec<String> {
    let shared = catalogue
        .aliases()
        .iter()
        .filter(|alias| alias.candidates.iter().any(|id| id == material.id()))
        .map(|alias| alias.name.clone());
    let own =
        [material.id(), material.name()].into_iter().map(str::to_string).chain(material.aliases().iter().cloned());
    let names = own.chain(shared);
    names
        .flat_map(|name| {
            name.to_lowercase().split(|c: char| !c.is_alphanumeric()).map(str::to_string).collect::<Vec<_>>()
        })
        .collect()
}

/// Of every word of the catalogue's names with every kind of thing behind it, in drafts of as many lines as a draft may
/// have.
#[test]
fn no_suggestion_is_of_another_kind() {
    let catalogue = Catalogue::starter();
    let mut first: Vec<String> = catalogue.materials().map(|material| words(material, &catalogue).remove(0)).collect();
    first.sort();
    first.dedup();
    // Some misspelt.
    first.extend(first.clone().into_iter().filter(|word| word.len() > 5).map(|word| format!("{word}e")));
    let mut asked = 0;
    for (kind, said, forms) in KINDS {
        for names in first.chunks(900) {
            let lines = names.iter().map(|word| DraftLine::new(&format!("{word} {kind}"), "1 %")).collect();
            for question in Draft::new("Kinds", lines).unwrap().questions(&catalogue) {
                if question.id.kind != QuestionKind::UnknownMaterial {
                    continue;
                }
                assert_eq!(question.choices[0].answer, Answer::LeaveOpen);
                for choice in &question.choices {
                    let Answer::Material(id) = &choice.answer else { continue };
                    let material = catalogue.material(id).unwrap();
                    let fits = words(material, &catalogue).iter().any(|word| said.contains(&word.as_str()))
                        || forms.contains(&material.form());
                    assert!(fits && choice.label.contains("a guess"), "{}: {}", question.place, choice.label);
                    asked += 1;
                }
            }
        }
    }
    assert!(asked > 100, "{asked}");
}

#[test]
fn an_unknown_name_is_refused_without_a_suggestion_of_another_kind() {
    let catalogue = Catalogue::starter();
    let said = |name: &str| catalogue.material(name).unwrap_err().to_string();
    assert!(said("SCS noodles").contains("did you mean \"scs-needles\""), "{}", said("SCS noodles"));
    assert!(!said("hibiscus oil").contains("did you mean"), "{}", said("hibiscus oil"));
}
