//! Raw materials found by name and by what they are.

use tenside::catalogue::{Catalogue, Filter, MatchKind, NameKind};
use tenside::document::Named;
use tenside::substance::{Attribute, Class};

use super::{read, simple};

#[test]
fn the_surest_comes_first_and_guesses_stand_alone() {
    let starter = Catalogue::starter();
    for text in ["betaine", "SCI", "glycerine", "water", "sulphosuccinate", "oil", "78-70-6", "capb 30"] {
        let hits = starter.search(text).unwrap();
        assert!(hits.windows(2).all(|pair| pair[0].match_kind <= pair[1].match_kind), "{text}");
        let guesses = hits.iter().filter(|hit| hit.match_kind == MatchKind::Guess).count();
        assert!(guesses == 0 || guesses == hits.len(), "{text}: {guesses} of {}", hits.len());
        let mut ids: Vec<&str> = hits.iter().map(|hit| hit.material.id()).collect();
        ids.sort_unstable();
        ids.dedup();
        assert_eq!(ids.len(), hits.len(), "{text}: each once");
    }
    assert_eq!(starter.search("capb 30").unwrap()[0].match_kind, MatchKind::Id);
    assert_eq!(starter.search("78-70-6").unwrap()[0].name_kind, NameKind::Cas);
}

#[test]
fn of_an_ingredient_the_material_with_the_most_of_it_comes_first() {
    let weak = "[[material]]\nid = \"weak\"\nname = \"w\"\nform = \"liquid\"\nconstituents = [{ inci = \"GLYCERIN\", \
                typical = 5 }, { inci = \"WATER\", typical = 95 }]\n";
    let catalogue = read(&(weak.to_string() + &simple("strong", "GLYCERIN")));
    let ids: Vec<String> =
        catalogue.search("GLYCERIN").unwrap().iter().map(|hit| hit.material.id().to_string()).collect();
    assert_eq!(ids, ["strong", "weak"]);
}

#[test]
fn what_nobody_states_meets_no_condition() {
    let stated = simple("stated", "SILICA") + "attributes = { palm = false }\n";
    let catalogue = read(
        &(stated
            + &simple("open", "SODIUM COCOYL ISETHIONATE")
            + &simple("palm", "KAOLIN")
            + "attributes = { palm = true }\n"),
    );
    let found = catalogue.filter(&Filter::new().without(Attribute::Palm)).unwrap();
    let ids = |materials: &[std::sync::Arc<tenside::material::Material>]| {
        materials.iter().map(|material| material.id().to_string()).collect::<Vec<_>>()
    };
    assert_eq!((ids(&found.materials), ids(&found.not_known)), (vec!["stated".to_string()], vec!["open".to_string()]));
    let error = catalogue.filter(&Filter::new().product_use("shampoo-bar")).unwrap_err();
    assert!(
        error.is_unknown_name() && error.to_string().contains("no raw material of the catalogue has a product use"),
        "{error}"
    );
}

#[test]
fn a_long_list_of_conditions_is_answered_quickly() {
    let many = (0..100_000).fold(Filter::new(), |filter, number| {
        filter.holding(&format!("x{number}")).product_use(&format!("y{number}")).phase("powder")
    });
    let error = Catalogue::starter().filter(&many).unwrap_err();
    assert!(
        error.faults().len() < 1000
            && error.faults().last().unwrap().to_string().contains("further words are not looked at")
    );
}

#[test]
fn every_word_says_what_it_means() {
    assert!(tenside::substance::Class::ALL.iter().all(|word| word.about().ends_with('.')));
    assert!(tenside::rule::Use::ALL.iter().all(|word| word.about().ends_with('.') && !word.about().starts_with(' ')));
}

#[test]
fn a_filter_by_class_tells_preservatives_from_boosters_and_hydrosols() {
    let starter = Catalogue::starter();
    let of = |class: Class| -> Vec<String> {
        let found = starter.filter(&Filter::new().class(class)).unwrap();
        found.materials.iter().map(|material| material.id().to_string()).collect()
    };
    let preservatives = of(Class::Preservative);
    assert!(preservatives.iter().any(|id| id == "sodium-benzoate"));
    for id in ["ethylhexylglycerin", "caprylyl-glycol", "hexanediol", "anisic-acid", "levulinic-acid"] {
        assert!(!preservatives.iter().any(|known| known == id), "{id}");
        assert!(of(Class::PreservativeBooster).iter().any(|known| known == id), "{id}");
    }
    assert!(preservatives.iter().all(|id| !id.contains("hydrosol")));
    assert!(of(Class::Water).iter().any(|id| id == "rose-hydrosol"));
}
