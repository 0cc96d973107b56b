//! Phases that state a temperature: a formula keeps it, or the page says that it does not.

use tenside::catalogue::Catalogue;
use tenside::formula::Draft;

const PHASES: &str = "Phase A - 75 °C\ncetyl alcohol 10 %\nPhase B\nSCI powder 60 %\nHeated phase (70-80 °C)\n\
                      stearic acid 5 %\nPhase C, 165 °F\nwater 5 %\nCool down phase (< 40°C)\nkaolin 20 %";

#[test]
fn a_formula_keeps_the_temperature_of_a_phase() {
    let formula = Draft::from_text("Warm", PHASES).unwrap().into_formula(&Catalogue::starter()).unwrap();
    let phases: Vec<(&str, Option<String>)> = formula
        .phases()
        .iter()
        .map(|phase| (phase.name(), phase.temperature().map(|temperature| temperature.to_string())))
        .collect();
    let at = |temperature: &str| Some(temperature.to_string());
    assert_eq!(
        phases,
        [
            ("Phase A - 75 °C", at("75")),
            ("Phase B", None),
            ("Heated phase (70-80 °C)", at("80")),
            ("Phase C, 165 °F", None),
            ("Cool down phase (< 40°C)", at("40")),
        ]
    );
}

#[test]
fn the_page_says_what_became_of_each_temperature() {
    let catalogue = Catalogue::starter();
    let remark = |text: &str, line: usize| {
        let page = Draft::from_text("Warm", text).unwrap().page(Some(&catalogue)).markdown();
        let row = page.lines().find(|row| row.starts_with(&format!("| {line} |"))).unwrap().to_string();
        row.trim_end_matches([' ', '|']).rsplit('|').next().unwrap().trim().to_string()
    };
    for (line, said) in [
        (1, "worked at 75 °C"),
        (5, "the formula keeps its highest temperature, 80 °C"),
        (7, "its temperature is read and not kept: it is in °F, a formula keeps °C"),
        (9, "the formula keeps its highest temperature, 40 °C"),
    ] {
        assert_eq!(remark(PHASES, line), said);
    }
    let table = "Phase | What | %\nA (75 °C) | kaolin | 60\nB | water | 40";
    assert_eq!(remark(table, 2), "worked at 75 °C");
    let lowest = remark("Phase A, above 70 °C\nkaolin 100 %", 1);
    assert_eq!(lowest, "its temperature is read and not kept: it is the lowest one, and no other is stated");
}
